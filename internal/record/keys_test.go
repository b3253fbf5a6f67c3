package record_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mudline/internal/record"
	"mudline/internal/words"
)

// offered are the lines that a starter offers of a key, without what comments them out
// and what is remarked behind them.
func offered(l *words.Language, key string) (lines []string) {
	in := false
	for line := range strings.SplitSeq(record.Starter(l, "example", "a.jpg"), "\n") {
		body, commented := strings.CutPrefix(line, "# ")
		nested := commented && strings.HasPrefix(body, "  ")
		in = strings.HasPrefix(body, key+":") || in && nested
		if in {
			body, _, _ = strings.Cut(body, " #")
			lines = append(lines, strings.TrimRight(body, " "))
		}
	}
	return lines
}

// example is what the starter says of a key, stated; of several values the last.
func example(t *testing.T, e record.Entry) *record.Record {
	lines := offered(nil, e.Name)
	require.NotEmpty(t, lines, "the starter offers %s", e.Name)
	for len(lines) > 1 && !strings.HasPrefix(lines[1], " ") {
		lines = lines[1:]
	}
	text := strings.Join(lines, "\n")
	r, err := record.Parse(record.FileName, []byte(text))
	require.NoError(t, err, text)
	return r
}

// A starter offers the same in every language, and says all else in its own.
func TestStartersOfEveryLanguage(t *testing.T) {
	english := record.Starter(nil, "example", "a.jpg")
	for _, tag := range words.Tags() {
		l, err := words.Find(tag)
		require.NoError(t, err)
		text := record.Starter(l, "example", "a.jpg")
		r, err := record.Parse(record.FileName, []byte(text))
		require.NoError(t, err, tag)
		assert.Equal(t, []string{"name"}, r.Stated(), tag)
		own := map[string]bool{}
		for _, e := range record.Entries {
			lines := offered(l, e.Name)
			assert.Equal(t, offered(nil, e.Name), lines, "%s, %s", tag, e.Name)
			for _, line := range lines {
				own[line] = true
			}
		}
		for line := range strings.SplitSeq(text, "\n") {
			assert.LessOrEqual(t, len([]rune(line)), 90, line)
			body, commented := strings.CutPrefix(line, "# ")
			said, remark, remarked := strings.Cut(body, " # ")
			if !commented || tag == "en" || own[strings.TrimRight(said, " ")] && !remarked {
				continue
			}
			if remarked {
				body = remark
			}
			assert.NotContains(t, english, body+"\n", "%s says it in its own words", tag)
		}
	}
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
		lines := offered(nil, e.Name)
		_, text, _ := strings.Cut(lines[len(lines)-1], ": ")
		text = strings.Trim(text, `"`)
		require.NoError(t, e.Set(&r, text), e.Name)
		assert.Equal(t, want.Stated(), r.Stated())
	}
}

// What is to be written is told as it is to be written, in every language.
func TestUnknownKeysAreAnsweredWithKeys(t *testing.T) {
	es, err := words.Find("es")
	require.NoError(t, err)
	_, err = record.Parse(record.FileName, []byte("water-dept: 130 mm\n"))
	said := es.Say(words.Of(err))
	assert.Contains(t, said, "name, water-depth, ")
	assert.Contains(t, said, "water-depth?")
	_, err = record.ParseLine("arena", "5 mm")
	assert.Contains(t, es.Say(words.Of(err)), "floor, sand-top, ")
}
