//go:build unix

package record_test

import (
	"os"
	"os/exec"
	"os/signal"
	"path/filepath"
	"strings"
	"syscall"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mudline/internal/record"
)

// TestFullDiskLeavesTheOldFile writes in a process that may write no file of
// more than 64 bytes, where writing fails half way as on a full disk.
func TestFullDiskLeavesTheOldFile(t *testing.T) {
	const inside = "MUDLINE_TEST_FULL_DISK"
	if path := os.Getenv(inside); path != "" {
		signal.Ignore(syscall.SIGXFSZ)
		require.NoError(t, syscall.Setrlimit(syscall.RLIMIT_FSIZE, &syscall.Rlimit{Cur: 64, Max: 64}))
		require.NoError(t, record.Replace(path, []byte("name: b\n")), "what fits is written")
		require.ErrorContains(t, record.Replace(path, []byte(strings.Repeat("# c\n", 100))), "cannot write "+path)
		_, err := record.WriteStarter(nil, filepath.Dir(path), "a", "")
		require.ErrorIs(t, err, record.ErrExists)
		return
	}
	path := filepath.Join(t.TempDir(), record.FileName)
	require.NoError(t, os.WriteFile(path, []byte("name: a\n"), 0o644))
	cmd := exec.Command(os.Args[0], "-test.run=^TestFullDiskLeavesTheOldFile$")
	cmd.Env = append(os.Environ(), inside+"="+path)
	out, err := cmd.CombinedOutput()
	require.NoError(t, err, string(out))
	text, err := os.ReadFile(path)
	require.NoError(t, err)
	assert.Equal(t, "name: b\n", string(text))
	entries, err := os.ReadDir(filepath.Dir(path))
	require.NoError(t, err)
	assert.Len(t, entries, 1, "no temporary file is left")
}
