package record_test

import (
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"

	"mudline/internal/record"
)

// A record made to do harm is refused with its reason, soon.
func TestHostileRecords(t *testing.T) {
	for name, text := range map[string]string{
		"brackets in brackets": "name: " + strings.Repeat("[", 20_000),
		"maps in maps":         "name: " + strings.Repeat("{a: ", 10_000),
		"lists in lists":       strings.Repeat("- ", 20_000),
		"keys in keys":         strings.Repeat("? ", 20_000),
		"aliases of aliases":   "name: &a [x,x]\ncrop: &b [*a,*a]\nphotos: [*b,*b,*b]",
		"an alias of itself":   "name: &a [*a]",
		"too long":             "name: " + strings.Repeat("x", record.MaxBytes),
		"no text":              "\x00\x01\xff\xfe",
		"a tag":                "name: !!binary \"x\ny\"\ntemp: !!js/function 'x'",
		"a number beyond all":  "water-depth: 1e999999 mm",
		"not a number":         "water-depth: NaN mm",
		"many documents":       strings.Repeat("---\nname: a\n", 2000),
	} {
		began := time.Now()
		_, err := record.Parse(record.FileName, []byte(text))
		assert.ErrorContains(t, err, record.FileName, name)
		assert.Less(t, time.Since(began), 20*time.Second, name)
	}
}

// What people draw into a record is none of that.
func TestRecordsWithRules(t *testing.T) {
	_, err := record.Parse(record.FileName, []byte("# "+strings.Repeat("-", 200)+"\n# "+strings.Repeat(":", 200)+"\nname: a - b - c\nbox: [1, 2, 300, 400]\n"))
	assert.NoError(t, err)
}
