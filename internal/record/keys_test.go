package record_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mudline/internal/record"
)

// example is what the starter says of a key, stated.
func example(t *testing.T, e record.Entry) *record.Record {
	text := e.Name + ": example\n"
	for line := range strings.SplitSeq(e.Starter, "\n") {
		if body, ok := strings.CutPrefix(line, "# "+e.Name+":"); ok {
			text = e.Name + ":" + body + "\n" // the last of several
		} else if body, ok := strings.CutPrefix(line, "#   "); ok {
			text += "  " + body + "\n"
		}
	}
	r, err := record.Parse(record.FileName, []byte(text))
	require.NoError(t, err, text)
	return r
}

// Every row of the table is read, listed as stated, taken from the record of all jars if
// it says so, and yields to what the jar's own record says.
func TestEveryEntryIsReadListedAndHandedDown(t *testing.T) {
	for _, e := range record.Entries {
		r := example(t, e)
		require.NotEmpty(t, r.Stated(), e.Name)
		for _, key := range r.Stated() {
			assert.True(t, key == e.Name || strings.HasPrefix(key, e.Name+"."), key)
		}
		var jar record.Record
		jar.TakeShared(r)
		if !e.Shared {
			assert.Empty(t, jar.Stated(), e.Name)
			continue
		}
		assert.Equal(t, *r, jar, e.Name)
		jar.TakeShared(&record.Record{})
		assert.Equal(t, *r, jar, "what is not said of all jars takes nothing away")
	}
	no, share := false, 8.0
	prepared := record.Record{Dispersant: &no, ShakenMin: 10, StonesPercent: &share}
	var jar record.Record
	jar.TakeShared(&prepared)
	assert.Equal(t, prepared, jar, "a class prepares its jars alike")
	own := record.Record{WaterDepthMM: 100}
	own.TakeShared(&record.Record{WaterDepthMM: 127, Inches: true, Crop: "tomato"})
	assert.Equal(t, record.Record{WaterDepthMM: 100, Crop: "tomato"}, own)
}

// Set reads what an option gives as the record's file does, and refuses what is no single
// value.
func TestSetOfEveryEntry(t *testing.T) {
	for _, e := range record.Entries {
		var r record.Record
		if err := e.Set(&r, "[]"); e.Name != "name" {
			assert.Error(t, err, e.Name)
		}
		if !e.Option {
			continue
		}
		want := example(t, e)
		text, _, _ := strings.Cut(e.Starter[strings.LastIndex(e.Starter, e.Name+":")+1:], "\n")
		if e.Name == "name" {
			text = "name: example"
		}
		_, text, _ = strings.Cut(text, ": ")
		require.NoError(t, e.Set(&r, text), e.Name)
		assert.Equal(t, want.Stated(), r.Stated())
	}
}
