package main

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"image"
	_ "image/jpeg"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"

	"github.com/santhosh-tekuri/jsonschema/v6"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mudline/internal/batch"
	"mudline/internal/jar"
	"mudline/internal/reading"
	"mudline/internal/record"
)

// club is a folder of jars; the files' text says what becomes of them.
func club(t *testing.T, list map[string]string) string {
	t.Helper()
	root := filepath.Join(t.TempDir(), "club")
	for name, text := range list {
		p := filepath.Join(root, filepath.FromSlash(name))
		require.NoError(t, os.MkdirAll(filepath.Dir(p), 0o755))
		require.NoError(t, os.WriteFile(p, []byte(text), 0o644))
	}
	return root
}

// batchRun runs the program with an analysis that does as the photos say.
func batchRun(t *testing.T, ctx context.Context, args ...string) ran {
	t.Helper()
	var out, errOut bytes.Buffer
	var r ran
	a := app{analyse: func(ctx context.Context, list []jar.File, rec record.Record, o jar.Options) (*jar.Result, error) {
		r.analysisRan = true
		var names []string
		for i, f := range list {
			data, err := f.Data()
			if err != nil {
				return nil, err
			}
			switch string(data) {
			case "refuse":
				return nil, &reading.Refusal{Code: reading.NoJar, Text: f.Name + " shows no jar", Remedy: "take the photo again"}
			case "panic":
				panic("made to fail")
			}
			names = append(names, f.Name)
			o.Progress(i+1, len(list))
		}
		return analysed(names), nil
	}}
	r.status = a.run(ctx, args, &out, &errOut)
	r.out, r.err = out.String(), errOut.String()
	return r
}

func TestBatch(t *testing.T) {
	root := club(t, map[string]string{"plot 1/a_1min.jpg": "", "plot 1/b_2h.jpg": "", "plot2_1min.jpg": "", "plot2_2h.jpg": "", "jar.yaml": "temp: 12"})
	r := batchRun(t, t.Context(), "batch", root, "--jobs", "2")
	require.Equal(t, statusOK, r.status, r.err)
	assert.Equal(t, "2 jars: 2 read, 0 refused\nlook at "+root+"-read/index.html\n", r.out)
	assert.Empty(t, r.err, "no bar where there is no terminal")
	assert.Equal(t, []string{".batch.lock", "batch.json", "index.html", "plot 1", "plot2", "results.csv", "results.jsonl"}, names(t, root+"-read"))
	assert.Equal(t, []string{"a_1min.read.jpg", "b_2h.read.jpg", "done.json", "reading.json", "report.html", "thumb.read.jpg"}, names(t, filepath.Join(root+"-read", "plot 1")))
	r = batchRun(t, t.Context(), "batch", root)
	assert.Equal(t, statusOK, r.status)
	assert.False(t, r.analysisRan)
	assert.Contains(t, r.out, "2 jars: 2 read, 0 refused (2 had been read before)")

	r = batchRun(t, t.Context(), "batch", root, "--language", "fr")
	require.Equal(t, statusOK, r.status, r.err)
	assert.Contains(t, r.out, "2 bocaux\u00a0: 2 lus, 0 refusés\n", "reports in another language are made anew")
	assert.Contains(t, string(content(t, filepath.Join(root+"-read", "plot2", "report.html"))), `<html lang="fr">`)
	r = batchRun(t, t.Context(), "batch", root, "--language", "xx")
	assert.Equal(t, statusInput, r.status)
}

func TestBatchStatuses(t *testing.T) {
	out := filepath.Join(t.TempDir(), "out")
	r := batchRun(t, t.Context(), "batch", club(t, map[string]string{"a/x_1min.jpg": "", "b/x_1min.jpg": "refuse"}), "--out", out)
	assert.Equal(t, statusRefused, r.status)
	assert.Contains(t, r.out, "  b: x_1min.jpg shows no jar\n    what to do: take the photo again\n")
	assert.Contains(t, r.err, "refused: 1 of 2 jars could not be read")
	r = batchRun(t, t.Context(), "batch", club(t, map[string]string{"a/x_1min.jpg": "panic", "b/x_1min.jpg": "refuse", "c/x_1min.jpg": ""}), "--out", out+"2")
	assert.Equal(t, statusInternal, r.status)
	assert.Contains(t, r.out, "3 jars: 1 read, 1 refused, 1 failed")
	r = batchRun(t, t.Context(), "batch", club(t, map[string]string{"a/x_1min.jpg": "", "IMG_1.jpg": "no picture"}), "--out", out+"3")
	assert.Equal(t, statusRefused, r.status, "a photo left out is told, too")
	assert.Contains(t, r.out, "not sorted:\n    IMG_1.jpg: the file is not a picture")
	r = batchRun(t, t.Context(), "batch", club(t, map[string]string{"readme.txt": ""}))
	assert.Equal(t, statusRefused, r.status)
	assert.Contains(t, r.err, "holds no photos of jars")
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	r = batchRun(t, ctx, "batch", club(t, map[string]string{"a/x_1min.jpg": ""}), "--out", out+"4")
	assert.Equal(t, statusStopped, r.status)
	assert.Contains(t, r.err, "stopped: 0 of 1 jars are finished and kept in "+out+"4; run the same command again to go on")
}

func TestBatchMistakes(t *testing.T) {
	root := club(t, map[string]string{"a/x_1min.jpg": ""})
	file := filepath.Join(t.TempDir(), "file")
	require.NoError(t, os.WriteFile(file, nil, 0o644))
	for _, x := range []struct {
		args []string
		want string
	}{
		{nil, "one folder of jars is needed, 0 were given"},
		{[]string{root, root}, "2 were given"},
		{[]string{root + "x"}, "x does not exist"},
		{[]string{file}, "is not a folder"},
		{[]string{root, "--jobs", "0"}, "--jobs: 0"},
		{[]string{root, "--memory", "much"}, `--memory: "much" is not a size`},
		{[]string{root, "--memory", "1M"}, "at least 256M"},
		{[]string{root, "--memory", "NaN"}, "is not a size"},
		{[]string{root, "--shard", "3/2"}, "from 1 to 2"},
		{[]string{root, "--out", file}, "cannot write into " + file},
		{[]string{root, "--out", root}, "which holds the photos"},
	} {
		r := batchRun(t, t.Context(), append([]string{"batch"}, x.args...)...)
		assert.Equal(t, statusInput, r.status, x.args)
		assert.Contains(t, r.err, x.want)
		assert.False(t, r.analysisRan, x.args)
	}
}

// Halving keeps colours and places: each pixel is the mean of its four.
func TestHalved(t *testing.T) {
	pic := image.NewRGBA(image.Rect(0, 0, 5, 4))
	for i := range pic.Pix {
		pic.Pix[i] = uint8(7 * i)
	}
	small := halved(pic)
	require.Equal(t, image.Rect(0, 0, 2, 2), small.Rect)
	for y := range 2 {
		for x := range 2 {
			for k := range 4 {
				sum := 2
				for _, p := range []image.Point{{X: 2 * x, Y: 2 * y}, {X: 2*x + 1, Y: 2 * y}, {X: 2 * x, Y: 2*y + 1}, {X: 2*x + 1, Y: 2*y + 1}} {
					sum += int(pic.Pix[pic.PixOffset(p.X, p.Y)+k])
				}
				assert.Equal(t, uint8(sum/4), small.Pix[small.PixOffset(x, y)+k])
			}
		}
	}
}

func TestParseBytes(t *testing.T) {
	for s, want := range map[string]int64{"2G": 2 << 30, "512M": 512 << 20, "1.5g": 3 << 29, "2GiB": 2 << 30, "300 MB": 300 << 20, "1T": 1 << 40, "300000000": 300000000} {
		got, err := parseBytes(s)
		require.NoError(t, err, s)
		assert.Equal(t, want, got, s)
	}
}

func TestDryRun(t *testing.T) {
	root := club(t, map[string]string{"plot 1/a_1min.jpg": "", "plot 1/b.jpg": "", "plot2_1min.jpg": "", "plot2.jar.yaml": "temp: warm", "IMG_1.jpg": "x"})
	r := batchRun(t, t.Context(), "batch", root, "--dry-run")
	require.Equal(t, statusOK, r.status, r.err)
	assert.False(t, r.analysisRan)
	assert.NoDirExists(t, root+"-read")
	for _, want := range []string{"plot 1 (in a folder of their own)\n    a_1min.jpg: 1 min, from its name\n    b.jpg: time not known\n", "plot2 (by the names of the files)\n",
		"  ! b.jpg does not say when it was taken", "  ! plot2.jar.yaml:1: temp", "not sorted:\n    IMG_1.jpg", "2 jars, 3 photos; 2 likely to be refused (marked !), 1 not sorted\n"} {
		assert.Contains(t, r.out, want)
	}
}

func TestShardsAndMerge(t *testing.T) {
	list := map[string]string{}
	for _, c := range "abcdefghij" {
		list[string(c)+"/x_1min.jpg"] = string(c)
	}
	root := club(t, list)
	out := filepath.Join(t.TempDir(), "out")
	for _, k := range []string{"1/2", "2/2"} {
		r := batchRun(t, t.Context(), "batch", root, "--out", out, "--shard", k)
		require.Equal(t, statusOK, r.status, r.err)
		assert.Contains(t, r.out, "part "+k+" is in "+out)
		if k == "1/2" {
			early := batchRun(t, t.Context(), "merge", out)
			assert.Equal(t, statusInput, early.status)
			assert.Contains(t, early.err, "parts are missing: 2 of 2")
		}
	}
	r := batchRun(t, t.Context(), "merge", out)
	require.Equal(t, statusOK, r.status, r.err)
	assert.Contains(t, r.out, "10 jars: 10 read, 0 refused")
	one := filepath.Join(t.TempDir(), "one")
	require.Equal(t, statusOK, batchRun(t, t.Context(), "batch", root, "--out", one).status)
	for _, name := range []string{"results.csv", "results.jsonl", "index.html", "batch.json"} {
		a, err := os.ReadFile(filepath.Join(out, name))
		require.NoError(t, err)
		b, err := os.ReadFile(filepath.Join(one, name))
		require.NoError(t, err)
		assert.True(t, bytes.Equal(a, b), name)
	}
	assert.Equal(t, statusInput, batchRun(t, t.Context(), "merge").status)
	assert.Equal(t, statusInput, batchRun(t, t.Context(), "merge", out, one).status)
}

// TestBatchReadsTheSamples reads the sample jars (rendered) with everything in
// place: readings that keep to the schema, reduced pictures, reports, tables.
func TestBatchReadsTheSamples(t *testing.T) {
	if testing.Short() {
		t.Skip("reads pictures")
	}
	out := filepath.Join(t.TempDir(), "out")
	status, text, errText := whole(t, "batch", filepath.Join("..", "..", "samples"), "--out", out)
	require.Equal(t, statusOK, status, errText)
	assert.Contains(t, text, "4 jars: 4 read")
	s := schema(t)
	data, err := os.ReadFile(filepath.Join(out, "results.jsonl"))
	require.NoError(t, err)
	for _, line := range strings.Split(strings.TrimSpace(string(data)), "\n") {
		var one struct {
			Folder  string
			Reading json.RawMessage
		}
		require.NoError(t, json.Unmarshal([]byte(line), &one))
		v, err := jsonschema.UnmarshalJSON(bytes.NewReader(one.Reading))
		require.NoError(t, err)
		require.NoError(t, s.Validate(v))
		drawn, err := filepath.Glob(filepath.Join(out, one.Folder, "*.read.jpg"))
		require.NoError(t, err)
		var r reading.Reading
		require.NoError(t, json.Unmarshal(one.Reading, &r))
		assert.GreaterOrEqual(t, len(drawn), 4, "three photos and the thumbnail; of a film some")
		assert.LessOrEqual(t, len(drawn), len(r.Photos)+1)
		for _, p := range drawn {
			f, err := os.Open(p)
			require.NoError(t, err)
			c, _, err := image.DecodeConfig(f)
			require.NoError(t, err)
			f.Close()
			assert.LessOrEqual(t, c.Height, annotatedSide)
			if filepath.Base(p) == batch.ThumbName {
				assert.Equal(t, thumbHeight, c.Height)
			}
		}
		assert.FileExists(t, filepath.Join(out, one.Folder, batch.ReportName))
	}
}

// The time left is that of the rest at the speed so far, in words.
func TestTimeLeft(t *testing.T) {
	for _, x := range []struct {
		done, total int
		spent       time.Duration
		want        string
	}{
		{1, 100, time.Minute, "reading photos"},
		{10, 100, time.Second, "reading photos"},
		{10, 100, 10 * time.Second, "reading photos, about 90 s left"},
		{10, 150, 61 * time.Second, "reading photos, about 14 min left"},
		{10, 1000, 2 * time.Minute, "reading photos, about 3 h 18 min left"},
	} {
		assert.Equal(t, x.want, remaining(x.done, x.total, x.spent, nil))
	}
}

// Jars that are gone are told of, and removed only where that is asked for.
func TestBatchPrune(t *testing.T) {
	root := club(t, map[string]string{"plot 1/a_1min.jpg": "", "plot 2/a_1min.jpg": "", "group 3/readme.txt": "", "plot 1/Jar.yaml.txt": "temp: 12"})
	require.Equal(t, statusOK, batchRun(t, t.Context(), "batch", root).status)
	require.NoError(t, os.RemoveAll(filepath.Join(root, "plot 2")))
	old := filepath.Join(root+"-read", "plot 2")
	for _, more := range []string{"--dry-run", "--jobs=1"} {
		r := batchRun(t, t.Context(), "batch", root, more)
		require.Equal(t, statusOK, r.status, r.err)
		assert.Contains(t, r.out, "--prune removes them:\n    plot 2: "+old+"\n")
		assert.DirExists(t, old)
		for _, note := range []string{"note: there are no photos in group 3/, so it is not a jar.\n", "note: plot 1/Jar.yaml.txt is not read: a record is called jar.yaml or NAME.jar.yaml"} {
			assert.Contains(t, r.out+r.err, note)
		}
	}
	r := batchRun(t, t.Context(), "batch", root, "--prune", "--shard", "1/2")
	assert.Equal(t, statusInput, r.status)
	assert.Contains(t, r.err, "--prune looks at all jars")
	r = batchRun(t, t.Context(), "batch", root, "--prune")
	assert.Equal(t, statusOK, r.status)
	assert.Contains(t, r.out, "removed the results of 1 jar whose photos are no longer in the folder\n")
	assert.NoDirExists(t, old)
	other := club(t, map[string]string{"bed 9/a_1min.jpg": ""})
	r = batchRun(t, t.Context(), "batch", other, "--out", root+"-read", "--prune")
	assert.Equal(t, statusInput, r.status)
	assert.Contains(t, r.err, "they look like another batch's, and are not removed")
	assert.DirExists(t, filepath.Join(root+"-read", "plot 1"))
}

// The hint fits the fault.
func TestBatchHints(t *testing.T) {
	r := batchRun(t, t.Context(), "batch", club(t, map[string]string{"a/x_1min.jpg": "", "jar.yaml": "temp: hot"}))
	assert.Equal(t, statusInput, r.status)
	assert.Contains(t, r.err, "hint: correct it: it holds for all jars of the folder")
	assert.Equal(t, "make room, or choose another folder with --out", outHint(&batch.WriteError{Folder: "x", Err: syscall.ENOSPC}).String())
	assert.Contains(t, outHint(&batch.WriteError{Folder: "x", Err: os.ErrPermission}).String(), "can be written into")
	assert.Equal(t, "wait until it ends, or choose another folder with --out", outHint(fmt.Errorf("%w into x", batch.ErrBusy)).String())
}

// A part of a batch has no tables yet to send anybody to.
func TestAPartOfABatchSendsNobodyToItsTables(t *testing.T) {
	for whole, want := range map[bool]string{true: "command.do-put-right", false: "command.do-see-table"} {
		var no *reading.Refusal
		require.ErrorAs(t, ended(batch.Summary{Jars: 3, Refused: 1}, 0, whole), &no)
		assert.Equal(t, want, no.Help().Key)
	}
}
