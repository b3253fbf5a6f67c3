package record_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"golang.org/x/text/encoding/charmap"
	"golang.org/x/text/encoding/unicode"

	"mudline/internal/record"
)

// Records as editors save them: what can be read is, and what cannot says what it is.
func TestRecordsAsEditorsSaveThem(t *testing.T) {
	text := "name: jardín\ntemp: 20 C\n"
	utf16 := func(order unicode.Endianness, mark unicode.BOMPolicy) string {
		out, err := unicode.UTF16(order, mark).NewEncoder().String(text)
		require.NoError(t, err)
		return out
	}
	latin, err := charmap.ISO8859_1.NewEncoder().String(text)
	require.NoError(t, err)
	for saved, want := range map[string]string{
		"\ufeff" + text: "", "name: jardín\r\ntemp: 20 C\r\n": "", "name: jardín\rtemp: 20 C\r": "", `{"name": "jardín", "temp": "20 C"}`: "",
		utf16(unicode.LittleEndian, unicode.UseBOM): "saved as UTF-16", utf16(unicode.BigEndian, unicode.UseBOM): "saved as UTF-16",
		utf16(unicode.LittleEndian, unicode.IgnoreBOM): "saved as UTF-16", utf16(unicode.BigEndian, unicode.IgnoreBOM): "saved as UTF-16",
		latin: "jar.yaml:1: it is not saved as UTF-8", "temp: 20 C\n\x00": "jar.yaml:2: it holds signs that are no text",
		"temperature: 20 C\n": "did you mean temp?", "Water_Depth: 130 mm\n": "did you mean water-depth?", "tepm: 20 C\n": "did you mean temp?", "organic: 3 %\n": "did you mean organic-matter?",
		"photos: {a.jpg: {lines: {sandtop: 3 px}}}\n": "did you mean sand-top?", "hand: {bal: firm}\n": "did you mean ball?",
	} {
		r, err := record.Parse("jar.yaml", []byte(saved))
		if want == "" {
			require.NoError(t, err, "%q", saved)
			assert.Equal(t, "jardín", r.Name)
			assert.InDelta(t, 20, *r.TempC, 0)
			continue
		}
		var mistake *record.Mistake
		require.ErrorAs(t, err, &mistake, "%q", saved)
		assert.Equal(t, "jar.yaml", mistake.File)
		assert.Contains(t, err.Error(), want, "%q", saved)
	}
}

// A file's name as a key is read back as that name.
func TestKeysAreReadBack(t *testing.T) {
	for _, name := range []string{"a.jpg", "día 2.jpg", "it's.jpg", `q"x.jpg`, "a\nb.jpg", "\x1b[31m.jpg", "\u202egpj", "a: b, {c}.jpg", "#1.jpg", "-x.jpg", "~", "a\\b.jpg"} {
		r, err := record.Parse("jar.yaml", []byte("photos: {"+record.Key(name)+": {elapsed: 2h}}\n"))
		require.NoError(t, err, name)
		assert.Contains(t, r.Photos, name, record.Key(name))
	}
}
