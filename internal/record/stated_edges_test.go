package record_test

import (
	"errors"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mudline/internal/reading"
	"mudline/internal/record"
)

func TestEdgesFromLeftToRight(t *testing.T) {
	read := func(left, right string) error {
		_, err := record.Parse(record.FileName, []byte("photos:\n  a_2h.jpg:\n    lines: {left: "+left+", right: "+right+"}\n"))
		return err
	}
	assert.NoError(t, read("300px", "900px"))
	assert.ErrorContains(t, read("900px", "300px"), "right")
	assert.ErrorContains(t, read("300px", "300px"), "right")
}

// A photo that tells its time, of a jar that nobody said was set down, lacks the latter.
func TestTimeOfAPhotoWithoutTheJarsOwn(t *testing.T) {
	taken := record.Moment{Time: time.Date(2026, 6, 5, 13, 0, 0, 0, time.UTC)}
	_, _, err := (&record.Record{}).Resolve([]record.Taken{{File: "a.jpg", At: taken}})
	var refused *reading.Refusal
	require.True(t, errors.As(err, &refused), "%v", err)
	assert.Equal(t, reading.NoTime, refused.Code)
	assert.Contains(t, refused.Text, "set down")
}

// A name that a person could not tell from another is shown with its escapes.
func TestKeyOfANameThatCannotBeSeen(t *testing.T) {
	assert.Equal(t, `"a\u200b.jpg"`, record.Key("a\u200b.jpg"))
	assert.Equal(t, "'it''s 2h.jpg'", record.Key("it's 2h.jpg"))
	assert.Equal(t, "a_2h.jpg", record.Key("a_2h.jpg"))
}

func TestWhatIsOfOneJarAlone(t *testing.T) {
	rec, err := record.Parse(record.FileName, []byte("name: all\nwater-depth: 130 mm\ndry-soil: 100 g\nphotos:\n  a_2h.jpg:\n    lines: {left: 300px}\n"))
	require.NoError(t, err)
	assert.Equal(t, []string{"dry-soil"}, rec.OfOneJar())
}
