package batch

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// What a jar left behind is told of and kept until its removal is asked for; then
// only what the batch wrote goes.
func TestResultsOfJarsThatAreGone(t *testing.T) {
	root := many(t, 4)
	opt := options(filepath.Join(t.TempDir(), "out"))
	run(t, root, opt)
	require.NoError(t, os.RemoveAll(filepath.Join(root, "plot-001")))
	require.NoError(t, os.Rename(filepath.Join(root, "plot-002"), filepath.Join(root, "brook")))
	note := filepath.Join(opt.Out, "plot-001", "my notes.txt")
	require.NoError(t, os.WriteFile(note, []byte("mine"), 0o644))
	require.NoError(t, os.Mkdir(filepath.Join(opt.Out, "other"), 0o755))
	gone := []Gone{{"plot-001/", "plot-001", "plot-001"}, {"plot-002/", "plot-002", "plot-002"}}

	assert.Equal(t, gone, find(t, root).Gone(opt.Out), "a dry run sees them")
	s := run(t, root, opt)
	assert.Equal(t, gone, s.Gone)
	assert.Equal(t, []int{3, 0}, []int{s.Read, s.Pruned})
	got := results(t, opt.Out)
	assert.Contains(t, got, "plot-001/"+ReportName, "nothing is removed unasked")
	assert.NotContains(t, got[csvName], "plot-001")
	assert.Contains(t, got[indexName], "Results of jars that are gone")
	assert.Contains(t, got[indexName], "<bdi>plot-002</bdi>")

	opt.Prune = true
	s = run(t, root, opt)
	assert.Equal(t, []int{3, 3, 2}, []int{s.Read, s.Kept, s.Pruned})
	assert.Empty(t, s.Gone)
	assert.NoDirExists(t, filepath.Join(opt.Out, "plot-002"))
	assert.DirExists(t, filepath.Join(opt.Out, "other"), "no results: not the batch's to remove")
	require.NoError(t, os.Remove(note), "what the batch did not write stays")
	require.NoError(t, os.Remove(filepath.Join(opt.Out, "plot-001")), "and nothing else did")
	require.NoError(t, os.Remove(filepath.Join(opt.Out, "other")))
	fresh := options(filepath.Join(t.TempDir(), "out"))
	run(t, root, fresh)
	assert.Equal(t, results(t, fresh.Out), results(t, opt.Out), "as if they had never been")
}

func TestInterruptedRunsRemoveNothing(t *testing.T) {
	root := many(t, 4)
	opt := options(filepath.Join(t.TempDir(), "out"))
	run(t, root, opt)
	require.NoError(t, os.RemoveAll(filepath.Join(root, "plot-001")))
	require.NoError(t, os.WriteFile(filepath.Join(root, "plot-003", "a_1min.jpg"), []byte("new"), 0o644))
	opt.Prune, opt.write = true, full(1)
	_, err := Run(t.Context(), find(t, root), opt)
	require.Error(t, err)
	assert.FileExists(t, filepath.Join(opt.Out, "plot-001", ReportName))
}

// A folder that cannot be opened today has not been removed.
func TestUnreadableFolderIsNotGone(t *testing.T) {
	out := t.TempDir()
	p := &Plan{Left: []Left{{Path: "class a"}}}
	for i, id := range []string{"class a/plot 1/", "class ab/plot 1/"} {
		f, err := (&done{Row: Row{ID: id, Name: "plot 1"}}).encode()
		require.NoError(t, err)
		folder := filepath.Join(out, strings.Repeat("x", i+1))
		require.NoError(t, os.Mkdir(folder, 0o755))
		require.NoError(t, os.WriteFile(filepath.Join(folder, f.Name), f.Data, 0o644))
	}
	assert.Equal(t, []Gone{{"class ab/plot 1/", "plot 1", "xx"}}, p.Gone(out))
}

func TestMergeTellsWhatIsGone(t *testing.T) {
	root := many(t, 6)
	opt := options(filepath.Join(t.TempDir(), "out"))
	run(t, root, opt)
	require.NoError(t, os.RemoveAll(filepath.Join(root, "plot-001")))
	for k := 1; k <= 2; k++ {
		opt.Shard = Shard{k, 2}
		assert.Empty(t, run(t, root, opt).Gone, "a part does not know of all")
	}
	s, err := Merge([]string{opt.Out}, opt.Out)
	require.NoError(t, err)
	assert.Equal(t, []Gone{{"plot-001/", "plot-001", "plot-001"}}, s.Gone)
}
