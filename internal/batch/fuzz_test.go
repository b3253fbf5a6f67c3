package batch

import (
	"io/fs"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/stretchr/testify/require"
)

// FuzzFolder: whatever a jar is called, its results get a folder of their own that lies
// where it should.
func FuzzFolder(f *testing.F) {
	for _, name := range []string{"plot-7", "../..", "CON.txt", ".git", "a\x00b", "\u202egpj.exe", strings.Repeat("é", 200), "shard-1-of-2", "results.csv", "~", "-rf"} {
		f.Add(name, name+"2")
	}
	f.Fuzz(func(t *testing.T, one, other string) {
		n := newNames()
		a, b := n.folder(one), n.folder(other)
		require.NotEqual(t, folded(a), folded(b))
		for _, name := range []string{a, b} {
			require.True(t, fs.ValidPath(name) && utf8.ValidString(name) && name != ".", "%q", name)
			require.False(t, strings.ContainsAny(name, "/\\:\x00"), "%q", name)
			require.LessOrEqual(t, len(name), maxFolderBytes+20)
			require.NotContains(t, ".-~", name[:1])
		}
	})
}
