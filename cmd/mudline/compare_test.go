package main

import (
	"bytes"
	"context"
	"encoding/csv"
	"encoding/json"
	"errors"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mudline/internal/compare"
	"mudline/internal/jar"
	"mudline/internal/reading"
	"mudline/internal/record"
	"mudline/internal/words"
)

// readingFile writes a reading with that clay, its sand and silt alike.
func readingFile(t *testing.T, dir, name string, clay float64) string {
	t.Helper()
	r := reading.Reading{Jar: name, System: "usda", TempFrom: "assumed", Fractions: &reading.Fractions{
		Clay: reading.Estimate{Percent: clay, Low: clay - 3, High: clay + 3}}}
	rest := reading.Estimate{Percent: (100 - clay) / 2, Low: (100-clay)/2 - 4, High: (100-clay)/2 + 4}
	r.Fractions.Sand, r.Fractions.Silt = rest, rest
	path := filepath.Join(dir, reading.FileName)
	var b bytes.Buffer
	require.NoError(t, r.Encode(&b))
	require.NoError(t, os.WriteFile(path, b.Bytes(), 0o644))
	return path
}

func TestCompareTakesPhotosAndReadings(t *testing.T) {
	photos := folder(t, map[string]string{"a_1min.jpg": "", "jar.yaml": "name: photographed\n"})
	readingFile(t, photos, "stale", 50) // photos win over a reading beside them
	out := folder(t, map[string]string{"a_1min.read.png": ""})
	readingFile(t, out, "kept", 30)
	file := readingFile(t, t.TempDir(), "", 40)
	text, err := os.ReadFile(file)
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(file, append([]byte("\ufeff"), text...), 0o644)) // as an editor may leave it
	r := command(t, nil, "compare", photos, out, file, "--sort", "clay")
	require.Equal(t, statusOK, r.status, r.err)
	assert.Equal(t, []string{"a_1min.jpg"}, r.photos)
	unnamed := filepath.Base(filepath.Dir(file))
	at := []int{strings.Index(r.out, unnamed), strings.Index(r.out, "kept"), strings.Index(r.out, "photographed")}
	assert.IsIncreasing(t, at, r.out)
	assert.NotContains(t, r.out, "stale")
	for _, want := range []string{"What differs", "clay: kept has more, by 20 points", "60 (50-70)", "sandy loam 90"} {
		assert.Contains(t, r.out, want)
	}
}

// The report on several jars and its charts: every jar with its ranges, nothing loaded, and
// no file of another's written over.
func TestCompareReports(t *testing.T) {
	a, b := readingFile(t, t.TempDir(), "Bed <b>", 30), readingFile(t, t.TempDir(), "Meadow", 40)
	refused := folder(t, map[string]string{reading.FileName: `{"version":1,"refused":{"code":"too_dark","text":"x.jpg is too dark","remedy":"by daylight"}}`})
	out := filepath.Join(t.TempDir(), "jars.html")
	r := command(t, nil, "compare", a, b, refused, "--report", out)
	require.Equal(t, statusRefused, r.status, r.err)
	page, err := os.ReadFile(out)
	require.NoError(t, err)
	for _, want := range []string{"3 jars side by side", "Bed &lt;b&gt;", "Meadow", "27 to 33", "x.jpg is too dark", "By daylight", `class="chart"`} {
		assert.True(t, strings.Contains(string(page), want), want)
	}
	assert.Empty(t, regexp.MustCompile(`(src|href)="[^#d]`).FindString(string(page)), "it leads nowhere but into itself")
	assert.Less(t, strings.Index(string(page), "Meadow"), strings.Index(string(page), "Bed &lt;b&gt;"), "most clay first: it is what differs")

	require.NoError(t, os.WriteFile(out, []byte("mine"), 0o644))
	r = command(t, nil, "compare", a, b, "--report", out)
	assert.Equal(t, statusInput, r.status)
	for _, chart := range []string{"stacked", "triangle"} {
		r = command(t, nil, "compare", a, b, "--format", "svg", "--chart", chart)
		require.Equal(t, statusOK, r.status, r.err)
		assert.True(t, strings.HasPrefix(r.out, "<svg"))
		assert.Contains(t, r.out, "Meadow")
	}
	r = command(t, nil, "compare", a, b, "--format", "pdf")
	assert.Contains(t, r.err, "pdf")
	r = command(t, nil, "compare", a, b, "--chart", "pie")
	assert.Contains(t, r.err, "pie")
}

func TestCompareGoesOnAfterARefusal(t *testing.T) {
	a := folder(t, map[string]string{"a_1min.jpg": ""})
	empty := t.TempDir()
	refused := folder(t, map[string]string{reading.FileName: `{"version":1,"refused":{"code":"too_dark","text":"x.jpg is too dark","remedy":"by daylight"}}`})
	for _, format := range []string{"", "--json", "--csv"} {
		args := []string{"compare", empty, a, refused}
		if format != "" {
			args = append(args, format)
		}
		r := command(t, nil, args...)
		assert.Equal(t, statusRefused, r.status)
		assert.Contains(t, r.err, "refused: 2 of 3 jars could not be read")
		assert.Contains(t, r.out, "holds no photos")
		assert.Contains(t, r.out, "x.jpg is too dark")
		switch format {
		case "--json":
			var c compare.Comparison
			require.NoError(t, json.Unmarshal([]byte(r.out), &c))
			require.Len(t, c.Jars, 3)
			assert.Equal(t, filepath.Base(a), c.Jars[0].Name)
			assert.Equal(t, reading.NoPhotos, c.Jars[1].Refused.Code)
		case "--csv":
			lines, err := csv.NewReader(strings.NewReader(r.out)).ReadAll()
			require.NoError(t, err)
			require.Len(t, lines, 4)
			assert.Equal(t, "refused", lines[2][2])
		}
	}
	// The analysis refuses, or finds a stated value that does not fit.
	b := folder(t, map[string]string{"b_1min.jpg": ""})
	r := command(t, &reading.Refusal{Code: "no_jar", Text: "no jar was found", Remedy: "draw a box"}, "compare", a, b)
	assert.Equal(t, statusRefused, r.status)
	assert.Equal(t, 2, strings.Count(r.out, "no jar was found\n  What to do: draw a box"))
	r = command(t, record.MistakeIn("a.jpg", "box", words.Say("jar.ends-upside-down")), "compare", a, b)
	assert.Equal(t, statusRefused, r.status)
	assert.Equal(t, 2, strings.Count(r.out, "\n  What to do: correct it in jar.yaml"))
	r = command(t, errors.New("a slice is too short"), "compare", a, b, "--json")
	assert.Equal(t, statusInternal, r.status)
	assert.Equal(t, 2, strings.Count(r.out, `"program_fault"`))
}

func TestCompareMistakes(t *testing.T) {
	a, b := folder(t, map[string]string{"a.jpg": ""}), folder(t, map[string]string{"b.jpg": ""})
	broken := folder(t, map[string]string{reading.FileName: `{"version":7}`})
	bad := folder(t, map[string]string{"a.jpg": "", "jar.yaml": "colour: red\n"})
	kept := readingFile(t, t.TempDir(), "kept", 30)
	for _, c := range []struct {
		args []string
		want string
	}{
		{[]string{}, "two jars or more are needed"},
		{[]string{a}, "mudline read"},
		{[]string{a, a + string(filepath.Separator)}, "are the same jar"},
		{[]string{a, b, a}, "is given twice"},
		{[]string{filepath.Dir(kept), kept}, "are the same jar"},
		{[]string{a, filepath.Join(b, "none")}, "does not exist"},
		{[]string{a, filepath.Join(b, "b.jpg")}, "is a single photo"},
		{[]string{a, broken}, "version 7"},
		{[]string{a, filepath.Join(bad, "jar.yaml")}, "not a reading in JSON"},
		{[]string{a, bad}, "colour: unknown key"},
		{[]string{a, b, "--sort", "colour"}, "use name, sand, silt, clay, water, class"},
		{[]string{a, b, "--json", "--csv"}, "exclude each other"},
		{[]string{a, b, "--chart", "triangle"}, "--chart needs a format"},
	} {
		r := command(t, nil, append([]string{"compare"}, c.args...)...)
		assert.Equal(t, statusInput, r.status, c.args)
		assert.Contains(t, r.err, c.want)
		assert.NotContains(t, r.out, "jars", c.args)
		assert.False(t, r.analysisRan, "a mistake shows before any photo is read: %s", c.args)
	}
}

// What a * names beside the jars is left out and named; a reading that is broken is
// not, since its jar was meant.
func TestCompareLeavesStrayFilesOut(t *testing.T) {
	a, b := folder(t, map[string]string{"a.jpg": ""}), folder(t, map[string]string{"b.jpg": "", "README.md": "# Jars", "batch.json": `{"jars":[]}`})
	kept := readingFile(t, t.TempDir(), "kept", 30)
	readme, list, photo := filepath.Join(b, "README.md"), filepath.Join(b, "batch.json"), filepath.Join(b, "b.jpg")
	r := command(t, nil, "compare", readme, kept, list, a, photo, "--json")
	require.Equal(t, statusOK, r.status, r.err)
	var c compare.Comparison
	require.NoError(t, json.Unmarshal([]byte(r.out), &c))
	assert.Len(t, c.Jars, 2)
	for _, want := range []string{"warning: left out: " + readme + ": it is not a reading", "warning: left out: " + list, "warning: left out: " + photo + " is a single photo"} {
		assert.Contains(t, r.err, want)
	}
	broken := folder(t, map[string]string{reading.FileName: `{"version":7}`})
	r = command(t, nil, "compare", a, b, filepath.Join(broken, reading.FileName))
	assert.Equal(t, statusInput, r.status)
	r = command(t, nil, "compare", readme, a)
	assert.Equal(t, statusInput, r.status, "one jar alone is not compared")
	assert.Contains(t, r.err, "hint: give a reading.json")
}

func TestCompareStopsWhenInterrupted(t *testing.T) {
	ctx, stop := context.WithCancel(t.Context())
	stop()
	runs := 0
	a := app{analyse: func(ctx context.Context, _ []jar.File, _ record.Record, _ jar.Options) (*jar.Result, error) {
		runs++
		return nil, ctx.Err()
	}}
	var out, errOut bytes.Buffer
	status := a.run(ctx, []string{"compare", folder(t, map[string]string{"a.jpg": ""}), folder(t, map[string]string{"b.jpg": ""})}, &out, &errOut)
	assert.Equal(t, statusStopped, status)
	assert.Equal(t, 1, runs)
	assert.Empty(t, out.String())
}

// TestSamplesAreCompared reads two sample jars (rendered), of which truth.json
// says what each holds.
func TestSamplesAreCompared(t *testing.T) {
	samples := filepath.Join("..", "..", "samples")
	status, out, errText := whole(t, "compare", filepath.Join(samples, "plot-12-old-orchard"), filepath.Join(samples, "plot-07-by-the-brook"), "--sort", "name", "--json")
	require.Equal(t, statusOK, status, errText)
	var c compare.Comparison
	require.NoError(t, json.Unmarshal([]byte(out), &c))
	require.Len(t, c.Jars, 2)
	assert.Equal(t, "Plot 7, by the brook (rendered)", c.Jars[0].Name)
	require.Len(t, c.Differences, 3)
	for i, want := range []float64{63.2 - 35.3, 27.4 - 38.8, 9.4 - 25.9} {
		d := c.Differences[i]
		assert.True(t, d.Low <= want && want <= d.High, "%s: true difference %.1f, read %.1f to %.1f", d.Fraction, want, d.Low, d.High)
		assert.Equal(t, want > 0, d.ProbabilityMore > 0.5, d.Fraction)
	}
}
