package batch

import (
	"context"
	"encoding/csv"
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"sync/atomic"
	"syscall"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mudline/internal/files"
	"mudline/internal/jar"
	"mudline/internal/record"
)

func run(t testing.TB, root string, opt Options) Summary {
	t.Helper()
	s, err := Run(t.Context(), find(t, root, opt.Out), opt)
	require.NoError(t, err)
	return s
}

func TestSameBytesWhateverTheWorkers(t *testing.T) {
	root := many(t, 23)
	var first map[string]string
	for _, jobs := range []int{1, 2, 7} {
		opt := options(filepath.Join(t.TempDir(), "out"))
		opt.Jobs = jobs
		s := run(t, root, opt)
		assert.Equal(t, Summary{Jars: 23, Read: 23}, s)
		got := results(t, opt.Out)
		require.Len(t, got, 23*4+4)
		if first == nil {
			first = got
		}
		assert.Equal(t, first, got, "%d workers", jobs)
	}
}

// counting counts the analyses.
func counting(opt Options) (Options, *atomic.Int32) {
	n := new(atomic.Int32)
	inner := opt.Analyse
	opt.Analyse = func(ctx context.Context, f []jar.File, r record.Record, o jar.Options) (*jar.Result, error) {
		n.Add(1)
		return inner(ctx, f, r, o)
	}
	return opt, n
}

func TestSecondRunReadsOnlyWhatChanged(t *testing.T) {
	root := many(t, 6)
	opt, n := counting(options(filepath.Join(t.TempDir(), "out")))
	run(t, root, opt)
	before := results(t, opt.Out)
	again := func(want int, what string, kept int) {
		t.Helper()
		n.Store(0)
		s := run(t, root, opt)
		assert.Equal(t, want, int(n.Load()), what)
		assert.Equal(t, kept, s.Kept, what)
	}
	stamps := func() (all []time.Time) {
		for name := range before {
			info, err := os.Stat(filepath.Join(opt.Out, name))
			require.NoError(t, err)
			all = append(all, info.ModTime())
		}
		return all
	}
	again(0, "nothing changed", 6)
	written := map[string]bool{}
	for _, at := range stamps() {
		written[at.String()] = true
	}
	again(0, "nothing changed", 6)
	for _, at := range stamps() {
		assert.True(t, written[at.String()], "a run without news writes nothing")
	}

	photo := filepath.Join(root, "plot-003", "a_1min.jpg")
	require.NoError(t, os.Chtimes(photo, time.Now(), time.Now().Add(-time.Hour)))
	again(0, "touched, the content is the same", 6)
	require.NoError(t, os.WriteFile(photo, []byte("photo X"), 0o644))
	again(1, "a photo changed, its size did not", 5)
	info, err := os.Stat(photo)
	require.NoError(t, err)
	data, err := os.ReadFile(photo)
	require.NoError(t, err)
	data[0]++
	f, err := os.OpenFile(photo, os.O_WRONLY, 0)
	require.NoError(t, err)
	_, err = f.Write(data)
	require.NoError(t, errors.Join(err, f.Close(), os.Chtimes(photo, time.Now(), info.ModTime())))
	again(0, "changed behind the time's back", 6)
	opt.Recheck = true
	again(1, "a recheck finds it", 5)
	again(0, "and not twice", 6)
	opt.Recheck = false
	require.NoError(t, os.WriteFile(filepath.Join(root, "plot-001", "jar.yaml"), []byte("temp: 12"), 0o644))
	again(1, "a record is new", 5)
	require.NoError(t, os.WriteFile(filepath.Join(root, "jar.yaml"), []byte("temp: 14"), 0o644))
	again(6, "a record for all is new", 0)
	require.NoError(t, os.WriteFile(filepath.Join(root, "plot-002", "c_2d.jpg"), []byte("more"), 0o644))
	again(1, "a photo is new", 5)
	require.NoError(t, os.Rename(filepath.Join(root, "plot-002", "c_2d.jpg"), filepath.Join(root, "plot-002", "c_3d.jpg")))
	again(1, "a name says another time", 5)
	require.NoError(t, os.Remove(filepath.Join(opt.Out, "plot-004", ReportName)))
	again(1, "a report is gone", 5)
	require.NoError(t, os.RemoveAll(filepath.Join(root, "plot-005")))
	again(0, "a jar is gone", 5)
	assert.NotContains(t, results(t, opt.Out)[csvName], "plot-005")
	opt.Stamp = "test 2"
	again(5, "another program", 0)
}

func TestOneBadJarNeverStopsTheRest(t *testing.T) {
	root := tree(t, map[string]string{"a/x_1min.jpg": "fine", "b/x_1min.jpg": "panic", "c/x_1min.jpg": "refuse", "d/x_1min.jpg": "fine", "d/jar.yaml": "temp: hot", "e/x_1min.jpg": "fine"})
	opt := options(filepath.Join(t.TempDir(), "out"))
	plain := opt.Render
	opt.Render = func(o Outcome) ([]files.File, error) {
		if o.Jar.Name == "e" {
			return nil, errors.New("no ink")
		}
		return plain(o)
	}
	s := run(t, root, opt)
	assert.Equal(t, []int{5, 1, 2, 2}, []int{s.Jars, s.Read, s.Refused, s.Faults})
	var texts []string
	for _, r := range s.Rows {
		texts = append(texts, r.ID+" "+r.Status+" "+string(r.Refused.Code))
	}
	assert.Equal(t, []string{"b/ fault program_fault", "c/ refused no_jar", "d/ refused bad_record", "e/ fault program_fault"}, texts)
	got := results(t, opt.Out)
	assert.Contains(t, got["b/reading.json"], "made to fail")
	assert.Contains(t, got["c/reading.json"], "shows no jar")
	again, n := counting(options(opt.Out))
	assert.Equal(t, 4, run(t, root, again).Read+1+1, "e is read with a pen that has ink")
	assert.Equal(t, 2, int(n.Load()), "faults are tried again, refusals are not")
}

// Names as people write them come through to a reader of CSV (RFC 4180) as they
// are, but for what would run as a formula, and every jar has its own folder.
func TestNames(t *testing.T) {
	long := strings.Repeat("long name ", 20) + "."
	given := []string{"plain", "comma, semicolon;", `quote "x"`, "line\nbreak", "=1+2", "+1", "-1", "@sum", "🌱 bed", "حديقة", "\u202eevil", long, "Plain", "CON"}
	list := map[string]string{}
	for i, name := range given {
		text, err := json.Marshal(name)
		require.NoError(t, err)
		list[fmt.Sprintf("%02d/x_1min.jpg", i)] = "photo"
		list[fmt.Sprintf("%02d/jar.yaml", i)] = "name: " + string(text) + "\n"
	}
	opt := options(filepath.Join(t.TempDir(), "out"))
	s := run(t, tree(t, list), opt)
	require.Equal(t, len(given), s.Read)
	data, err := os.ReadFile(filepath.Join(opt.Out, csvName))
	require.NoError(t, err)
	require.True(t, strings.HasPrefix(string(data), "\xef\xbb\xbfjar,place,"), "UTF-8 is marked")
	rows, err := csv.NewReader(strings.NewReader(string(data[3:]))).ReadAll()
	require.NoError(t, err)
	require.Len(t, rows, len(given)+1)
	folders := map[string]bool{}
	for i, name := range given {
		row := rows[i+1]
		require.Len(t, row, len(Columns))
		assert.NotRegexp(t, `^\s*[=+@-]`, row[0])
		want := strings.TrimSpace(strings.ReplaceAll(name, "\r\n", "\n"))
		assert.Equal(t, want, strings.TrimSpace(strings.TrimPrefix(strings.ReplaceAll(row[0], "\r\n", "\n"), "'")))
		assert.False(t, folders[strings.ToLower(row[2])], row[2])
		folders[strings.ToLower(row[2])] = true
		assert.FileExists(t, filepath.Join(opt.Out, row[2], "reading.json"))
	}
	index, err := os.ReadFile(filepath.Join(opt.Out, indexName))
	require.NoError(t, err)
	assert.Contains(t, string(index), "quote &#34;x&#34;")
	for _, l := range strings.Split(strings.TrimSpace(results(t, opt.Out)[jsonlName]), "\n") {
		var one struct{ Jar string }
		require.NoError(t, json.Unmarshal([]byte(l), &one))
		assert.Contains(t, given, one.Jar)
	}
}

func TestInterruptionKeepsWhatIsFinished(t *testing.T) {
	root := many(t, 10)
	ctx, cancel := context.WithCancel(t.Context())
	opt := options(filepath.Join(t.TempDir(), "out"))
	opt.Jobs = 1
	n := 0
	opt.Analyse = func(ctx context.Context, f []jar.File, r record.Record, o jar.Options) (*jar.Result, error) {
		if n++; n == 4 {
			cancel()
		}
		return made(ctx, f, r, o)
	}
	s, err := Run(ctx, find(t, root), opt)
	require.ErrorIs(t, err, context.Canceled)
	assert.Equal(t, []int{3, 7}, []int{s.Read, s.Left})
	assert.Equal(t, 4, strings.Count(results(t, opt.Out)[csvName], "\r\n"), "the tables hold what is finished")
	opt.Analyse = made
	s = run(t, root, opt)
	assert.Equal(t, []int{10, 3}, []int{s.Read, s.Kept})
	whole := options(filepath.Join(t.TempDir(), "out"))
	run(t, root, whole)
	assert.Equal(t, results(t, whole.Out), results(t, opt.Out), "as if nothing had happened")
}

func TestVanishedPhoto(t *testing.T) {
	root := many(t, 3)
	opt := options(filepath.Join(t.TempDir(), "out"))
	plan := find(t, root)
	gone := filepath.Join(root, "plot-001", "b_2h.jpg")
	require.NoError(t, os.Remove(gone))
	s, err := Run(t.Context(), plan, opt)
	require.NoError(t, err)
	require.Len(t, s.Rows, 1)
	assert.Equal(t, "plot-001/b_2h.jpg was there when the folder was listed, and is gone now", s.Rows[0].Refused.Text)
	assert.Equal(t, 2, s.Read)
	require.NoError(t, os.WriteFile(gone, []byte("back"), 0o644))
	assert.Equal(t, 3, run(t, root, opt).Read)
}

// full fails as a full disk does, after some files.
func full(after int) func(string, []files.File) error {
	var n atomic.Int32
	return func(folder string, list []files.File) error {
		if int(n.Add(1)) > after {
			return &os.PathError{Op: "write", Path: folder, Err: syscall.ENOSPC}
		}
		return files.WriteAll(folder, list)
	}
}

func TestFullDisk(t *testing.T) {
	root := many(t, 8)
	opt := options(filepath.Join(t.TempDir(), "out"))
	opt.write = full(4)
	s, err := Run(t.Context(), find(t, root), opt)
	var write *WriteError
	require.ErrorAs(t, err, &write)
	assert.Equal(t, "cannot write into "+opt.Out+": no space left on device", err.Error())
	assert.Equal(t, []int{3, 5}, []int{s.Read, s.Left}, "one file was the trial")
	opt.write = nil
	s = run(t, root, opt)
	assert.Equal(t, []int{8, 3}, []int{s.Read, s.Kept})
}

// A real full disk, where this process may mount one.
func TestFullDiskMounted(t *testing.T) {
	out := t.TempDir()
	if err := mountSmall(out, 96<<10); err != nil {
		t.Skip("no file system can be mounted here: " + err.Error())
	}
	defer unmount(out)
	root := many(t, 40)
	opt := options(out)
	opt.Render = func(Outcome) ([]files.File, error) {
		return []files.File{{Name: ReportName, Data: make([]byte, 9<<10)}}, nil
	}
	s, err := Run(t.Context(), find(t, root), opt)
	require.ErrorIs(t, err, syscall.ENOSPC)
	assert.ErrorContains(t, err, "no space left on device")
	assert.NotZero(t, s.Left)
	assert.NotZero(t, s.Read)
	for name, text := range results(t, out) {
		assert.NotContains(t, name, ".mudline-", "nothing half written is left")
		if filepath.Base(name) == doneName {
			assert.True(t, json.Valid([]byte(text)), name)
		}
	}
}

func TestOutputFolderThatCannotBeWritten(t *testing.T) {
	root := many(t, 2)
	opt, n := counting(options(filepath.Join(t.TempDir(), "file")))
	require.NoError(t, os.WriteFile(opt.Out, nil, 0o644))
	_, err := Run(t.Context(), find(t, root), opt)
	var write *WriteError
	require.ErrorAs(t, err, &write)
	assert.Contains(t, err.Error(), "cannot write into "+opt.Out)
	assert.Zero(t, n.Load(), "found out before any work is done")
	opt.Out = root
	_, err = Run(t.Context(), find(t, root), opt)
	assert.ErrorContains(t, err, "which holds the photos")
}

func TestJarFolderInTheWay(t *testing.T) {
	root := many(t, 3)
	opt := options(filepath.Join(t.TempDir(), "out"))
	require.NoError(t, os.MkdirAll(opt.Out, 0o755))
	require.NoError(t, os.WriteFile(filepath.Join(opt.Out, "plot-001"), nil, 0o644))
	s := run(t, root, opt)
	assert.Equal(t, []int{2, 1}, []int{s.Read, s.Faults})
	assert.Contains(t, s.Rows[0].Refused.Text, "cannot write into "+opt.Out+"/plot-001")
}
