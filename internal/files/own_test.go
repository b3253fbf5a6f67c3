package files_test

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mudline/internal/files"
)

func TestForeign(t *testing.T) {
	dir := t.TempDir()
	for name, c := range map[string]struct {
		data string
		want bool
	}{
		"photo.jpg":      {"\xff\xd8\xff\xe0", true},
		"jar.yaml":       {"water-depth: 120 mm\n", true},
		"page.html":      {"<!DOCTYPE html><title>mudline</title>", true},
		"report.html":    {`<!DOCTYPE html><head><meta name="generator" content="mudline">`, false},
		"no-extension":   {`<!DOCTYPE html><head><meta name="generator" content="mudline">`, false},
		"a.ics":          {"BEGIN:VCALENDAR\r\nPRODID:-//other//EN\r\n", true},
		"b.ics":          {"BEGIN:VCALENDAR\r\nPRODID:-//mudline//jar reminders//EN\r\n", false},
		"package.json":   {`{"name": "x", "version": "1.0"}`, true},
		"reading.json":   {"{\n  \"version\": 1,", false},
		"accounts.csv":   {"date,jar,sum\n", true},
		"results.csv":    {"\ufeffjar,place\r\n", false},
		"drawing.svg":    {`<svg xmlns="http://www.w3.org/2000/svg" class="logo">`, true},
		"sheet.svg":      {`<svg xmlns="http://www.w3.org/2000/svg" class="sheet" width="210mm">`, false},
		"manual.pdf":     {"%PDF-1.3\n" + strings.Repeat("x", 100000) + "/Producer (another)\n", true},
		"sheet.pdf":      {"%PDF-1.3\n" + strings.Repeat("x", 100000) + "/Producer (mudline)\n", false},
		"notes.txt":      {"a note", true},
		"picture.png":    {"\x89PNG\r\n\x1a\n\x00\x00\x00\rIHDR\x00\x00", true},
		"drawn.read.png": {"\x89PNG", false},
		"empty.html":     {"", false},
	} {
		path := filepath.Join(dir, name)
		require.NoError(t, os.WriteFile(path, []byte(c.data), 0o644))
		assert.Equal(t, c.want, files.Foreign(path), name)
	}
	assert.False(t, files.Foreign(dir), "a folder is no file to replace")
	assert.False(t, files.Foreign(filepath.Join(dir, "not there")))
}
