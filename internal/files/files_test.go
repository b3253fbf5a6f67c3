package files_test

import (
	"errors"
	"io"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mudline/internal/files"
)

func names(t *testing.T, dir string) (out []string) {
	entries, err := os.ReadDir(dir)
	require.NoError(t, err)
	for _, e := range entries {
		out = append(out, e.Name())
	}
	return out
}

func TestIsPhoto(t *testing.T) {
	for name, want := range map[string]bool{"a.jpg": true, "A.JPEG": true, "b.HEIC": true, "c.tif": true, ".a.jpg": false, "a.read.png": false, "a.read.JPG": false, "a.txt": false, "jpg": false} {
		assert.Equal(t, want, files.IsPhoto(name), name)
	}
}

func TestRead(t *testing.T) {
	path := filepath.Join(t.TempDir(), "a")
	require.NoError(t, os.WriteFile(path, []byte("12345"), 0o644))
	data, err := files.Read(path, 5)
	require.NoError(t, err)
	assert.Equal(t, "12345", string(data))
	_, err = files.Read(path, 4)
	assert.ErrorContains(t, err, "larger than the 4 bytes")
	_, err = files.Read(filepath.Dir(path), 5)
	assert.ErrorContains(t, err, "not an ordinary file")
	_, err = files.Read(path+"x", 5)
	assert.ErrorIs(t, err, os.ErrNotExist)
}

func TestWriteAllOrNothing(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "new")
	require.NoError(t, files.WriteAll(dir, []files.File{{Name: "a", Data: []byte("1")}, {Name: "b", Data: nil}}))
	assert.Equal(t, []string{"a", "b"}, names(t, dir))
	// The second name cannot be taken: it is a folder that holds something.
	require.NoError(t, os.MkdirAll(filepath.Join(dir, "c", "d"), 0o755))
	require.Error(t, files.WriteAll(dir, []files.File{{Name: "c", Data: []byte("2")}}))
	assert.Equal(t, []string{"a", "b", "c"}, names(t, dir), "no temporary file is left")
	file := filepath.Join(dir, "a")
	require.Error(t, files.WriteAll(file, []files.File{{Name: "x"}}), "a file is no folder")
	data, err := os.ReadFile(file)
	require.NoError(t, err)
	assert.Equal(t, "1", string(data))
}

func TestWriteFailsWhole(t *testing.T) {
	path := filepath.Join(t.TempDir(), "a")
	require.NoError(t, os.WriteFile(path, []byte("old"), 0o644))
	boom := errors.New("boom")
	err := files.Write(path, func(w io.Writer) error {
		_, _ = io.WriteString(w, "half")
		return boom
	})
	require.ErrorIs(t, err, boom)
	assert.Equal(t, []string{"a"}, names(t, filepath.Dir(path)))
	data, err := os.ReadFile(path)
	require.NoError(t, err)
	assert.Equal(t, "old", string(data))
}

func TestSweep(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "with [brackets] *")
	require.NoError(t, os.Mkdir(dir, 0o755))
	for _, n := range []string{".mudline-123", "kept", ".hidden"} {
		require.NoError(t, os.WriteFile(filepath.Join(dir, n), nil, 0o644))
	}
	files.Sweep(dir)
	assert.Equal(t, []string{".hidden", "kept"}, names(t, dir))
	files.Sweep(dir + "x") // is not there
}
