package main

import (
	"bytes"
	"encoding/base64"
	"html"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// told puts what the JPEG file of package bare's tests tells beside its pixels (GPS,
// owner, serial number, thumbnail, XMP, comment: each with the word SECRET in it) into
// another JPEG file.
func told(t *testing.T, photo []byte) []byte {
	from, err := os.ReadFile(filepath.Join("..", "..", "imaging", "bare", "testdata", "told.jpg"))
	require.NoError(t, err)
	out := bytes.Clone(photo[:2])
	for at := 2; from[at+1] != 0xda; { // ITU-T T.81, table B.1: up to the start of the scan
		end := at + 2 + int(from[at+2])<<8 + int(from[at+3])
		if mark := from[at+1]; mark >= 0xe0 && mark <= 0xef || mark == 0xfe {
			out = append(out, from[at:end]...)
		}
		at = end
	}
	require.Contains(t, string(out), "SECRET")
	// It says that its camera lay on its side (Exif tag 0x0112, 6); this one stood upright.
	out = bytes.Replace(out, []byte("\x01\x12\x00\x03\x00\x00\x00\x01\x00\x06"), []byte("\x01\x12\x00\x03\x00\x00\x00\x01\x00\x01"), 1)
	return append(out, photo[2:]...)
}

var embedded = regexp.MustCompile(`base64,([A-Za-z0-9+/=&#;]+)`)

// Nothing that a photo tells of its owner or its place is in anything that is written:
// readings, annotated photos, reports, tables, the index of a batch.
func TestNoOutputTellsWhoOrWhere(t *testing.T) {
	photo, err := os.ReadFile(filepath.Join("..", "..", "testdata", "jars", "open-11", "open-11_t007103s.jpg"))
	require.NoError(t, err)
	root := t.TempDir()
	jar := filepath.Join(root, "jars", "shed")
	require.NoError(t, os.MkdirAll(jar, 0o755))
	require.NoError(t, os.WriteFile(filepath.Join(jar, "shed_2h.jpg"), told(t, photo), 0o644))
	out := filepath.Join(root, "out")
	status, text, errText := whole(t, "read", jar, "--water-depth", "120", "--out", filepath.Join(out, "read"), "--report", filepath.Join(out, "report.html"), "--json")
	require.Equal(t, statusOK, status, errText)
	assert.NotContains(t, text+errText, "SECRET")
	status, text, errText = whole(t, "batch", filepath.Join(root, "jars"), "--out", filepath.Join(out, "batch"))
	require.Equal(t, statusOK, status, errText)
	assert.NotContains(t, text+errText, "SECRET")
	n, inside := 0, 0
	require.NoError(t, filepath.WalkDir(out, func(name string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		data, err := os.ReadFile(name)
		assert.NotContains(t, string(data), "SECRET", name)
		for _, m := range embedded.FindAllSubmatch(data, -1) {
			plain, err := base64.StdEncoding.DecodeString(html.UnescapeString(string(m[1])))
			require.NoError(t, err, name)
			assert.NotContains(t, string(plain), "SECRET", name)
			inside++
		}
		n++
		return err
	}))
	assert.Greater(t, n, 5)
	assert.Greater(t, inside, 1, "reports hold pictures")
}
