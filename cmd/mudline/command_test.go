package main

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"image"
	"image/png"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"runtime"
	"strings"
	"sync"
	"syscall"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mudline/imaging"
	"mudline/internal/engine"
	"mudline/internal/files"
	"mudline/internal/jar"
	"mudline/internal/reading"
	"mudline/internal/record"
	"mudline/internal/words"
)

// ran is what a command left behind.
type ran struct {
	status      int
	out, err    string
	photos      []string
	stated      record.Record
	analysisRan bool
}

// analysed is the made-up reading of the tests below: the commands are under
// test here, the reading of pictures is elsewhere.
func analysed(names []string) *jar.Result {
	res := &jar.Result{Reading: reading.Reading{Version: 1, TempC: 20, TempFrom: "assumed", WaterDepthMM: reading.Ptr(130),
		Fractions: &reading.Fractions{Sand: reading.Estimate{Percent: 60, Low: 50, High: 70}, Silt: reading.Estimate{Percent: 30, Low: 20, High: 40},
			Clay: reading.Estimate{Percent: 10, Low: 5, High: 15}},
		ByThickness: &reading.Shares{Sand: reading.Ptr(55), Silt: reading.Ptr(25), Clay: reading.Ptr(20)},
		Class:       &reading.Class{System: "usda", Name: "sandy loam", Probability: 0.9}}}
	for _, n := range names {
		res.Reading.Photos = append(res.Reading.Photos, reading.Photo{File: n, ElapsedS: 60, ElapsedFrom: "name", SizePx: [2]int{80, 120},
			HeightsMM: &reading.Heights{DepositTop: &reading.Height{Value: 24, SD: 0.5}}})
		res.Scenes = append(res.Scenes, jar.Scene{File: n, Picture: image.NewRGBA(image.Rect(0, 0, 80, 120)), Scale: 1,
			Frame: imaging.Frame{Floor: imaging.Point{X: 40, Y: 110}, Water: imaging.Point{X: 40, Y: 20}, HalfWidthFloor: 20, HalfWidthWater: 20}})
	}
	return res
}

// command runs the program as a person would, with the analysis replaced.
func command(t *testing.T, fail error, args ...string) ran {
	t.Helper()
	var out, errOut bytes.Buffer
	var r ran
	var one sync.Mutex // a batch reads several jars at a time
	a := app{analyse: func(_ context.Context, files []jar.File, rec record.Record, o jar.Options) (*jar.Result, error) {
		one.Lock()
		defer one.Unlock()
		r.analysisRan, r.stated = true, rec
		for _, f := range files {
			r.photos = append(r.photos, f.Name)
		}
		o.Progress(1, len(files))
		if fail != nil {
			return nil, fail
		}
		return analysed(r.photos), nil
	}}
	r.status = a.run(t.Context(), args, &out, &errOut)
	r.out, r.err = out.String(), errOut.String()
	return r
}

// folder makes a folder of files with the given contents.
func folder(t *testing.T, files map[string]string) string {
	t.Helper()
	dir := t.TempDir()
	for name, text := range files {
		require.NoError(t, os.WriteFile(filepath.Join(dir, name), []byte(text), 0o644))
	}
	return dir
}

func names(t *testing.T, dir string) []string {
	t.Helper()
	entries, err := os.ReadDir(dir)
	require.NoError(t, err)
	var out []string
	for _, e := range entries {
		out = append(out, e.Name())
	}
	return out
}

func TestReadFolder(t *testing.T) {
	dir := folder(t, map[string]string{"b_2h.JPG": "", "a_1min.jpg": "", "c.heic": "", "notes.txt": "", ".hidden.jpg": "", "a_1min.read.png": "",
		"jar.yaml": "name: Plot 7\nwater-depth: 5 in\nphotos:\n  c.heic: {elapsed: 2d}\n"})
	r := command(t, nil, "read", dir)
	require.Equal(t, statusOK, r.status, r.err)
	assert.Equal(t, []string{"a_1min.jpg", "b_2h.JPG", "c.heic"}, r.photos)
	assert.Equal(t, "Plot 7", r.stated.Name)
	assert.InDelta(t, 127, r.stated.WaterDepthMM, 1e-9)
	for _, want := range []string{"sandy loam - very likely, 90 in 100", "0.94 +- 0.04 in", "by thickness alone", "corrected"} {
		assert.Contains(t, r.out, want)
	}
	assert.Contains(t, r.out, filepath.Base(dir), "an unnamed reading takes the folder's name")
	assert.Empty(t, r.err)
}

func TestOptionsWinOverTheRecord(t *testing.T) {
	dir := folder(t, map[string]string{"a.jpg": "", "b=1.jpg": "", "jar.yaml": "name: x\ntemp: 10\nwater-depth: 5 in\nphotos:\n  a.jpg: {elapsed: 1h, box: [1, 2, 3, 4]}\n"})
	r := command(t, nil, "read", dir, "--name", "y", "--temp", "68F", "--water-depth", "130 mm", "--shaken", "2026-06-05 11:38", "--system", "canadian",
		"--elapsed", "a.jpg=2h", "--elapsed", "b=1.jpg=3h", "--box", "5,6,70,80", "--line", "a.jpg:sand-top=24mm", "--line", "b=1.jpg:water=9px")
	require.Equal(t, statusOK, r.status, r.err)
	s := r.stated
	assert.Equal(t, "y", s.Name)
	assert.InDelta(t, 20, *s.TempC, 1e-9)
	assert.False(t, s.Inches)
	assert.Equal(t, "canadian", s.System)
	assert.Equal(t, "2h0m0s 3h0m0s", s.Photos["a.jpg"].Elapsed.String()+" "+s.Photos["b=1.jpg"].Elapsed.String())
	assert.Equal(t, record.Box{X0: 1, Y0: 2, X1: 3, Y1: 4}, *s.BoxOf("a.jpg"))
	assert.Equal(t, record.Box{X0: 5, Y0: 6, X1: 70, Y1: 80}, *s.BoxOf("b=1.jpg"))
	assert.Equal(t, record.Line{Value: 24, MM: true}, *s.Photos["a.jpg"].Lines.SandTop)
	assert.Equal(t, record.Line{Value: 9}, *s.Photos["b=1.jpg"].Lines.Water)
}

func TestJSONMeetsTheSchema(t *testing.T) {
	dir := folder(t, map[string]string{"a_1min.jpg": ""})
	refusal := &reading.Refusal{Code: reading.NoJar, Text: "a_1min.jpg: no jar was found", Remedy: "draw a box round it"}
	for _, c := range []struct {
		fail   error
		status int
		want   string
	}{{nil, statusOK, `"percent": 60`}, {refusal, statusRefused, `"code": "no_jar"`}} {
		r := command(t, c.fail, "read", dir, "--json")
		assert.Equal(t, c.status, r.status)
		assert.Contains(t, r.out, c.want)
		v, err := jsonschema.UnmarshalJSON(strings.NewReader(r.out))
		require.NoError(t, err)
		assert.NoError(t, schema(t).Validate(v))
	}
}

func TestMistakesAreExplained(t *testing.T) {
	dir := folder(t, map[string]string{"a.jpg": "", "jar.yaml": "temp: 20\n"})
	bad := folder(t, map[string]string{"a.jpg": "", "jar.yaml": "temp: 20\ncolour: red\n"})
	stray := folder(t, map[string]string{"a.jpg": "", "jar.yaml": "photos:\n  b.jpg: {elapsed: 2h}\n"})
	for _, c := range []struct {
		args []string
		want string
	}{
		{[]string{"read"}, "hint: mudline read FOLDER"},
		{[]string{"read", dir, bad}, "read one jar at a time"},
		{[]string{"read", filepath.Join(dir, "missing.jpg")}, "missing.jpg does not exist"},
		{[]string{"read", bad}, "jar.yaml:2: colour: unknown key"},
		{[]string{"read", stray}, `"b.jpg" is not one of the photos: a.jpg`},
		{[]string{"read", filepath.Join(dir, "a.jpg"), filepath.Join(bad, "a.jpg")}, "the same file name"},
		{[]string{"read", dir, "--water-depth", "-5"}, "--water-depth: water depth -5 is outside 20 to 400 mm"},
		{[]string{"read", dir, "--temp", "300C"}, "--temp: water temperature 300C is outside 0 to 45 C"},
		{[]string{"read", dir, "--elapsed", "a.jpg"}, "write FILE=VALUE"},
		{[]string{"read", dir, "--elapsed", "x.jpg=2h"}, `"x.jpg" is not one of the photos`},
		{[]string{"read", dir, "--elapsed", "a.jpg=soon"}, "is not a time with a unit"},
		{[]string{"read", dir, "--line", "a.jpg=5px"}, "has no colon"},
		{[]string{"read", dir, "--line", "a.jpg:sand-top=24"}, "has no unit: write px"},
		{[]string{"read", dir, "--line", "a.jpg:top=5px"}, `unknown line "top"`},
		{[]string{"read", dir, "--line", "a.jpg:sand-top=50mm", "--line", "a.jpg:silt-top=40mm"}, "lies below line sand-top"},
		{[]string{"read", dir, "--box", "1,2,3"}, "has 3 numbers"},
		{[]string{"read", dir, "--system", "mars"}, "unknown class system"},
		{[]string{"read", dir, "--frobnicate"}, "unknown flag"},
		{[]string{"frobnicate"}, "unknown command"},
		{[]string{"new"}, "one folder is needed, 0 were given"},
		{[]string{"new", filepath.Join(dir, "a.jpg")}, "is not a folder\n"},
		{[]string{"merge", filepath.Join(dir, "none")}, "does not exist\n"},
		{[]string{"sheet", "--names", filepath.Join(dir, "none")}, "does not exist\n"},
		{[]string{"new", filepath.Join(dir, "a", "b")}, "give a folder whose parent folder exists"},
	} {
		r := command(t, nil, c.args...)
		assert.Equal(t, statusInput, r.status, c.args)
		assert.Contains(t, r.err, c.want)
		assert.True(t, strings.HasPrefix(r.err, "error: "), r.err)
		assert.Empty(t, r.out, c.args)
		assert.False(t, r.analysisRan, c.args)
	}
}

func TestRefusalAndFault(t *testing.T) {
	dir := folder(t, map[string]string{"a.jpg": ""})
	r := command(t, &reading.Refusal{Code: reading.TooDark, Text: "a.jpg is too dark", Remedy: "photograph it by daylight"}, "read", dir)
	assert.Equal(t, statusRefused, r.status)
	assert.Equal(t, "refused: a.jpg is too dark\nwhat to do: photograph it by daylight\n", r.err)
	assert.Empty(t, r.out)

	r = command(t, nil, "read", folder(t, map[string]string{"readme.txt": ""}))
	assert.Equal(t, statusRefused, r.status)
	assert.Contains(t, r.err, "holds no photos")

	mistake := record.MistakeIn("a.jpg", "box", words.Say("jar.ends-upside-down"))
	r = command(t, mistake, "read", dir)
	assert.Equal(t, statusInput, r.status)
	assert.Contains(t, r.err, "error: "+mistake.Error()+"\nhint: correct it in the options or in jar.yaml")
	f := failureIn(t, command(t, mistake, "read", dir, "--json"))
	assert.Equal(t, []string{"mistake", "a.jpg", "box"}, []string{string(f.Kind), f.Photo, f.Key})

	r = command(t, errors.New("a slice is too short"), "read", dir)
	assert.Equal(t, statusInternal, r.status, "what is no mistake of the person is not told as one")
	assert.Contains(t, r.err, "error: a slice is too short\nhint: this is a fault in mudline")
	assert.Equal(t, reading.OfProgram, failureIn(t, command(t, errors.New("a slice is too short"), "read", dir, "--json")).Kind)

	disk := &fs.PathError{Op: "open", Path: "a.jpg", Err: syscall.EIO}
	r = command(t, disk, "read", dir)
	assert.Equal(t, statusDisk, r.status)
	assert.Contains(t, r.err, "hint: check that the file can be read")
	assert.Equal(t, reading.OfDisk, failureIn(t, command(t, disk, "read", dir, "--json")).Kind)
}

// failureIn is the failure that a command with --json printed, by the schema.
func failureIn(t *testing.T, r ran) reading.Failure {
	t.Helper()
	v, err := jsonschema.UnmarshalJSON(strings.NewReader(r.out))
	require.NoError(t, err, r.out)
	require.NoError(t, schema(t).Validate(v), r.out)
	var d reading.FailureDocument
	require.NoError(t, json.Unmarshal([]byte(r.out), &d))
	assert.Contains(t, r.err, "error: "+d.Error.Text)
	return d.Error
}

func TestInterruptIsNotAMistake(t *testing.T) {
	ctx, stop := context.WithCancel(t.Context())
	stop()
	var out, errOut bytes.Buffer
	a := app{analyse: func(ctx context.Context, _ []jar.File, _ record.Record, _ jar.Options) (*jar.Result, error) {
		return nil, ctx.Err()
	}}
	status := a.run(ctx, []string{"read", folder(t, map[string]string{"a.jpg": ""})}, &out, &errOut)
	assert.Equal(t, statusStopped, status)
	assert.Equal(t, "error: stopped before the end\n", errOut.String())
}

func TestOutHoldsPicturesAndReading(t *testing.T) {
	dir := folder(t, map[string]string{"a_1min.jpg": "", "a_1min.png": "", "b_2h.jpg": ""})
	out := filepath.Join(t.TempDir(), "new", "folder")
	r := command(t, nil, "read", dir, "--out", out)
	require.Equal(t, statusOK, r.status, r.err)
	assert.Equal(t, []string{"a_1min.png.read.png", "a_1min.read.png", "b_2h.read.png", "reading.json"}, names(t, out))
	f, err := os.Open(filepath.Join(out, "b_2h.read.png"))
	require.NoError(t, err)
	defer f.Close()
	pic, err := png.Decode(f)
	require.NoError(t, err)
	assert.Equal(t, 120, pic.Bounds().Dy())
}

func TestNoFileIsLeftAfterFailure(t *testing.T) {
	dir := folder(t, map[string]string{"a.jpg": ""})
	out := filepath.Join(t.TempDir(), "out")
	r := command(t, &reading.Refusal{Code: reading.NoJar, Text: "no jar", Remedy: "box"}, "read", dir, "--out", out)
	assert.Equal(t, statusRefused, r.status)
	assert.NoDirExists(t, out)

	file := filepath.Join(dir, "a.jpg")
	r = command(t, nil, "read", dir, "--out", file)
	assert.Equal(t, statusInput, r.status)
	assert.Contains(t, r.err, "hint: choose another folder")
	assert.Equal(t, []string{"a.jpg"}, names(t, dir))

	// A name that cannot be taken: the others, already written, go too.
	taken := t.TempDir()
	require.NoError(t, os.MkdirAll(filepath.Join(taken, "reading.json", "x"), 0o755))
	r = command(t, nil, "read", dir, "--out", taken)
	assert.Equal(t, statusInput, r.status)
	assert.Equal(t, []string{"reading.json"}, names(t, taken))
}

func TestOutReplacesAnEarlierReading(t *testing.T) {
	dir := folder(t, map[string]string{"a.jpg": ""})
	out := t.TempDir()
	require.NoError(t, os.WriteFile(filepath.Join(out, "reading.json"), []byte(`{"version": 1, "jar": "old"}`), 0o644))
	require.Equal(t, statusOK, command(t, nil, "read", dir, "--out", out).status)
	text, err := os.ReadFile(filepath.Join(out, "reading.json"))
	require.NoError(t, err)
	assert.Contains(t, string(text), `"version": 1`)
}

func TestPhotosAreReadOnDemandAndCapped(t *testing.T) {
	dir := folder(t, map[string]string{"a.jpg": "some bytes"})
	set, err := findPhotos([]string{filepath.Join(dir, "a.jpg")})
	require.NoError(t, err)
	data, err := set.files()[0].Data()
	require.NoError(t, err)
	assert.Equal(t, "some bytes", string(data))
	_, err = files.Read(filepath.Join(dir, "a.jpg"), 9)
	require.ErrorContains(t, err, "larger than the 9 bytes")
	_, err = files.Read(dir, 9)
	require.ErrorContains(t, err, "not an ordinary file")
	require.NoError(t, os.Remove(filepath.Join(dir, "a.jpg")))
	_, err = set.files()[0].Data()
	require.ErrorIs(t, err, os.ErrNotExist)
}

func TestNewWritesAStarter(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "plot 9")
	r := command(t, nil, "new", dir)
	require.Equal(t, statusOK, r.status, r.err)
	assert.Contains(t, r.out, "mudline read")
	rec, err := readRecord(dir)
	require.NoError(t, err)
	assert.Equal(t, "plot 9", rec.Name)
	r = command(t, nil, "new", dir, "--name", "other")
	assert.Equal(t, statusInput, r.status)
	assert.Contains(t, r.err, "there already")
	assert.Equal(t, []string{"jar.yaml"}, names(t, dir))

	dir = filepath.Join(t.TempDir(), "bancal 9")
	r = command(t, nil, "new", dir, "--language", "es")
	require.Equal(t, statusOK, r.status, r.err)
	text, err := os.ReadFile(filepath.Join(dir, "jar.yaml"))
	require.NoError(t, err)
	assert.Contains(t, string(text), "# Lo que sabes de este frasco.")
}

func readRecord(dir string) (*record.Record, error) {
	data, err := os.ReadFile(filepath.Join(dir, record.FileName))
	if err != nil {
		return nil, err
	}
	return record.Parse(record.FileName, data)
}

func TestVersion(t *testing.T) {
	r := command(t, nil, "version")
	require.Equal(t, statusOK, r.status)
	assert.Contains(t, r.out, "image engine "+engine.Default().Name())
	assert.Equal(t, r.out, command(t, nil, "--version").out)
	r = command(t, nil, "version", "--json")
	require.Equal(t, statusOK, r.status)
	var said map[string]string
	require.NoError(t, json.Unmarshal([]byte(r.out), &said))
	assert.Equal(t, version, said["version"])
	assert.Equal(t, engine.Default().Name(), said["engine"])
	assert.Equal(t, runtime.GOOS+"/"+runtime.GOARCH, said["os"]+"/"+said["arch"])
}

func TestSampleRecordsAreValid(t *testing.T) {
	dirs, err := filepath.Glob(filepath.Join("..", "..", "samples", "*", record.FileName))
	require.NoError(t, err)
	require.Len(t, dirs, 4)
	for _, d := range dirs {
		r := command(t, nil, "read", filepath.Dir(d))
		require.Equal(t, statusOK, r.status, r.err)
		assert.GreaterOrEqual(t, len(r.photos), 3)
		assert.NotZero(t, r.stated.WaterDepthMM)
	}
}

// TestGuideCommandsRun runs every command line the README shows.
func TestGuideCommandsRun(t *testing.T) {
	text, err := os.ReadFile(filepath.Join("..", "..", "README.md"))
	require.NoError(t, err)
	t.Chdir(t.TempDir())
	for _, f := range []string{"plot-7/plot7_1min.jpg", "plot-7/plot7_2h.jpg", "plot-7/plot7_2d.jpg", "plot-12/a_1min.jpg",
		"class-5b/ada/a_1min.jpg", "class-5b/ben/b_1min.jpg", "IMG_0412.jpg", "IMG_0415.jpg"} {
		require.NoError(t, os.MkdirAll(filepath.Dir(f), 0o755))
		require.NoError(t, os.WriteFile(f, nil, 0o644))
	}
	count := 0
	for _, line := range strings.Split(string(text), "\n") {
		words, ok := strings.CutPrefix(line, "mudline ")
		if !ok {
			continue
		}
		count++
		r := command(t, nil, split(words)...)
		assert.Equal(t, statusOK, r.status, "%s: %s", line, r.err)
	}
	assert.GreaterOrEqual(t, count, 5)
}

// split cuts a command line at blanks outside double quotes, and drops a comment
// and where the output goes.
func split(line string) []string {
	line, _, _ = strings.Cut(line, " #")
	line, _, _ = strings.Cut(line, " > ")
	var out []string
	for i, part := range strings.Split(line, `"`) {
		if i%2 == 1 {
			out = append(out, part)
		} else {
			out = append(out, strings.Fields(part)...)
		}
	}
	return out
}

// TestGuideListsEveryRefusal holds the help on refusals to the codes.
func TestGuideListsEveryRefusal(t *testing.T) {
	guide, err := helpFiles.ReadFile("help/en/topics/refusals.txt")
	require.NoError(t, err)
	source, err := os.ReadFile(filepath.Join("..", "..", "internal", "reading", "codes.go"))
	require.NoError(t, err)
	codes := regexp.MustCompile(`RefusalCode += "([a-z_]+)"`).FindAllSubmatch(source, -1)
	require.GreaterOrEqual(t, len(codes), 15)
	for _, c := range codes {
		assert.Regexp(t, `(?m)^(\w+, )*`+string(c[1])+`(, \w+)*$`, string(guide))
	}
}
