package main

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mudline/internal/reading"
)

// A record by another name is not passed over without a word: what stands in it may be
// what the reading hangs on.
func TestRecordsByOtherNames(t *testing.T) {
	for _, name := range []string{"jar.yml", "Jar.YAML", "jar.yaml.txt", "JAR.YML.TXT", "jar.txt", "plot7.jar.yml"} {
		dir := folder(t, map[string]string{"a.jpg": "", name: "temp: 12 C\n"})
		if _, err := os.Stat(filepath.Join(dir, "jar.yaml")); err == nil {
			continue // a disk that takes large letters for small ones reads it
		}
		r := command(t, nil, "read", dir)
		assert.Equal(t, statusInput, r.status, name)
		assert.Contains(t, r.err, filepath.Join(dir, name)+" is not read: a record is called jar.yaml")
		assert.Contains(t, r.err, "hint: rename it to jar.yaml")
		assert.False(t, r.analysisRan)
		require.NoError(t, os.WriteFile(filepath.Join(dir, "jar.yaml"), []byte("temp: 20 C\n"), 0o644))
		r = command(t, nil, "read", dir)
		assert.Equal(t, statusOK, r.status, r.err)
		assert.Contains(t, r.err, "note: "+filepath.Join(dir, name)+" is not read")
	}
	for _, name := range []string{"jam.yaml", "notes.txt", "ajar.yaml", "jars.yml"} {
		assert.Equal(t, statusOK, command(t, nil, "read", folder(t, map[string]string{"a.jpg": "", name: ""})).status, name)
	}
}

// A folder without photos is told by what it holds instead, with commands that can be
// typed as they stand.
func TestWhatAFolderHoldsInstead(t *testing.T) {
	root := filepath.Join(t.TempDir(), "class 5's")
	require.NoError(t, os.MkdirAll(filepath.Join(root, "plot 7"), 0o755))
	require.NoError(t, os.WriteFile(filepath.Join(root, "plot 7", "a.jpg"), nil, 0o644))
	r := command(t, nil, "read", root)
	assert.Equal(t, statusRefused, r.status)
	assert.Contains(t, r.err, "holds no photos itself, but folders that do\n")
	assert.Contains(t, r.err, `class 5'\''s/plot 7'; all of them: mudline batch '`)
	assert.Contains(t, command(t, nil, "read", folder(t, map[string]string{"a.cr2": ""})).err, "only other files, such as a.cr2")
	assert.Contains(t, command(t, nil, "read", folder(t, map[string]string{"jar.yaml": ""})).err, "holds no photos\n")
}

// An option without a value is a slip of a script, and not the same as none.
func TestOptionsWithoutValue(t *testing.T) {
	dir := folder(t, map[string]string{"a.jpg": ""})
	for _, args := range [][]string{{"read", dir, "--temp", ""}, {"read", dir, "--name="}, {"read", dir, "--elapsed", ""}, {"read", dir, "--out", " "}, {"times", "--water-depth", ""},
		{"times", "--calendar="}, {"classify", "--sand", "", "--clay", "20"}, {"compare", dir, dir, "--sort", ""}, {"batch", dir, "--out", ""}, {"read", dir, "--language", ""}} {
		r := command(t, nil, args...)
		assert.Equal(t, statusInput, r.status, args)
		assert.Regexp(t, `^error: --[a-z-]+ is given without a value\nhint: give it a value`, r.err, args)
	}
	r := command(t, nil, "read", dir, "--temp", "", "--json")
	assert.Equal(t, reading.OfInput, failureIn(t, r).Kind)
}

// A file whose name begins with a dash is no option.
func TestFilesNamedLikeOptions(t *testing.T) {
	t.Chdir(folder(t, map[string]string{"-a.jpg": "", "--json.jpg": ""}))
	for _, name := range []string{"-a.jpg", "--json.jpg"} {
		r := command(t, nil, "read", name)
		assert.Equal(t, statusInput, r.status)
		assert.Contains(t, r.err, "hint: if the file of that name is meant, write ./"+name)
	}
	assert.Equal(t, statusOK, command(t, nil, "read", "./-a.jpg", "./--json.jpg").status)
	assert.Contains(t, command(t, nil, "read", "-b.jpg").err, "--help lists the options")
}

// Names that steer a terminal, break lines or are commands reach it spelt out, and quoted
// where they stand in a command.
func TestHostileNames(t *testing.T) {
	for _, name := range []string{"a\x1b[2Jb.jpg", "a\nerror: b.jpg", "\u202egpj.exe.jpg", "\u009b2J.jpg", "\x07.jpg", "a\tb.jpg", "a\rb.jpg"} {
		root := t.TempDir()
		dir := filepath.Join(root, "jar")
		require.NoError(t, os.Mkdir(dir, 0o755))
		if os.WriteFile(filepath.Join(dir, name), []byte("no picture"), 0o644) != nil {
			continue // a disk that takes no such names
		}
		for _, args := range [][]string{{"read", dir}, {"batch", root, "--dry-run"}, {"batch", root}, {"compare", dir, root}} {
			status, out, errOut := whole(t, args...)
			assert.NotEqual(t, statusInternal, status, "%v %q", args, name)
			assert.NotRegexp(t, "[\\x00-\\x08\\x0b-\\x1f\\x7f\\x{80}-\\x{9f}\\x{202a}-\\x{202e}]", out+errOut, "%v %q", args, name)
			assert.NotContains(t, errOut, "\nerror: b", "%v", args)
		}
	}
	_, _, errOut := whole(t, "read", filepath.Join(folder(t, map[string]string{"a b's.jpg": "no picture"}), "a b's.jpg"))
	assert.Contains(t, errOut, "a b's.jpg: the file is not a picture")
}
