package main

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"encoding/xml"
	"errors"
	"image/png"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mudline/internal/reading"
	"mudline/internal/report"
	"mudline/internal/words"
)

func pieceInput() report.ReportInput {
	in := report.ReportInput{Result: *analysed([]string{"a_1min.jpg"})}
	in.Result.Reading.Soils = [][3]float64{{60, 30, 10}, {62, 29, 9}}
	return in
}

func TestPiecesAreWhatTheySay(t *testing.T) {
	for format, check := range map[string]func(text string){
		"csv": func(text string) {
			rows, err := csv.NewReader(strings.NewReader(text)).ReadAll()
			require.NoError(t, err)
			assert.Len(t, rows, 2, "the header and one line of one photo")
		},
		"json": func(text string) {
			var r reading.Reading
			require.NoError(t, json.Unmarshal([]byte(text), &r))
			assert.Equal(t, 60.0, r.Fractions.Sand.Percent)
		},
		"html": func(text string) { assert.True(t, strings.HasPrefix(text, "<!doctype html>")) },
		"svg": func(text string) {
			d := xml.NewDecoder(strings.NewReader(text))
			root := ""
			for {
				token, err := d.Token()
				if errors.Is(err, io.EOF) {
					break
				}
				require.NoError(t, err)
				if e, ok := token.(xml.StartElement); ok && root == "" {
					root = e.Name.Local
				}
			}
			assert.Equal(t, "svg", root)
		},
		"png": func(text string) {
			pic, err := png.Decode(strings.NewReader(text))
			require.NoError(t, err)
			assert.GreaterOrEqual(t, pic.Bounds().Dx(), 1200, "fit for a poster")
		},
	} {
		var out bytes.Buffer
		p := pieceFlags{format: format}
		require.NoError(t, p.check(false), format)
		printed, err := p.write(&out, pieceInput(), "")
		require.NoError(t, err, format)
		assert.True(t, printed)
		check(out.String())

		folder := filepath.Join(t.TempDir(), "new")
		var quiet bytes.Buffer
		printed, err = p.write(&quiet, pieceInput(), folder)
		require.NoError(t, err, format)
		assert.False(t, printed, "the table is still printed")
		assert.Zero(t, quiet.Len())
		data, err := os.ReadFile(filepath.Join(folder, p.fileName()))
		require.NoError(t, err)
		assert.Equal(t, out.Bytes(), data)
		var told bytes.Buffer
		require.NoError(t, readOptions{out: folder, pieces: p}.tellFiles(&told, nil))
		assert.Contains(t, told.String(), "the "+format+" is "+filepath.Join(folder, p.fileName())+"\n")
	}
}

func TestEveryChartIsDrawnOrSaysWhyNot(t *testing.T) {
	for _, name := range report.ChartNames() {
		var out bytes.Buffer
		p := pieceFlags{format: "svg", chart: name}
		require.NoError(t, p.check(false))
		if _, err := p.write(&out, pieceInput(), ""); err != nil {
			var input *inputError
			assert.ErrorAs(t, err, &input, name)
			assert.Contains(t, err.Error(), "--chart "+name)
			assert.Zero(t, out.Len())
			continue
		}
		assert.Contains(t, out.String(), "<svg", name)
	}
}

func TestPieceFlagsThatDoNotFit(t *testing.T) {
	folder := t.TempDir()
	for _, c := range []struct {
		p    pieceFlags
		json bool
		want string
	}{
		{pieceFlags{format: "pdf"}, false, `"pdf" is not a format`},
		{pieceFlags{format: "svg", chart: "pie"}, false, `"pie" is not a chart`},
		{pieceFlags{chart: "triangle"}, false, "needs a format"},
		{pieceFlags{format: "csv", chart: "triangle"}, false, "needs a format"},
		{pieceFlags{format: "csv"}, true, "--json and --format"},
		{pieceFlags{report: folder}, false, "is a folder"},
	} {
		err := c.p.check(c.json)
		var input *inputError
		require.ErrorAs(t, err, &input)
		assert.Contains(t, err.Error(), c.want)
		assert.NotEmpty(t, input.hint)
	}
	assert.NoError(t, (&pieceFlags{}).check(true))
}

// A person's language is that of all that is printed and written, of a refused jar too.
func TestReportsInOtherLanguages(t *testing.T) {
	dir := folder(t, map[string]string{"a_1min.jpg": ""})
	file := filepath.Join(t.TempDir(), "report.html")
	r := command(t, nil, "read", dir, "--report", file, "--language", "es")
	require.Equal(t, statusOK, r.status, r.err)
	assert.Contains(t, r.out, "franco arenoso", "the table too")
	text := string(content(t, file))
	for _, part := range []string{`<html lang="es">`, "Franco arenoso", "24,0 ± 1,0 mm", ">arcilla %</text>"} {
		assert.Contains(t, text, part)
	}
	r = command(t, reading.Refuse(reading.NoPhotos, words.Say("command.holds-no-photos", words.Name("folder", "a")), words.Message{}), "read", dir, "--report", file, "--language", "fr")
	assert.Equal(t, statusRefused, r.status)
	assert.Contains(t, string(content(t, file)), "a ne contient pas de photos")
	assert.Contains(t, r.err, "refusé\u00a0: a ne contient pas de photos")
	r = command(t, nil, "read", dir, "--format", "svg", "--chart", "shares", "--language", "fr")
	assert.Contains(t, r.out, "argile")
	r = command(t, nil, "read", dir, "--language", "xx")
	assert.Equal(t, statusInput, r.status)
	assert.Contains(t, r.err, "en, es, fr")
	assert.False(t, r.analysisRan)
}

// A report is whole or not there, and an old one stays until the new one is whole.
func TestReportIsWrittenWhole(t *testing.T) {
	path := filepath.Join(t.TempDir(), "sub", "jar 1.html")
	p := pieceFlags{report: path}
	printed, err := p.write(io.Discard, pieceInput(), "")
	require.NoError(t, err)
	assert.False(t, printed)
	first, err := os.ReadFile(path)
	require.NoError(t, err)
	assert.True(t, bytes.HasSuffix(bytes.TrimSpace(first), []byte("</html>")))

	blocked := filepath.Join(path, "in a file", "report.html")
	_, err = (&pieceFlags{report: blocked}).write(io.Discard, pieceInput(), "")
	var input *inputError
	require.ErrorAs(t, err, &input)
	left, err := os.ReadDir(filepath.Dir(path))
	require.NoError(t, err)
	assert.Len(t, left, 1, "no temporary file stays")
}

func TestRefusedJarHasAReport(t *testing.T) {
	path := filepath.Join(t.TempDir(), "r.html")
	in := report.RefusedInput("Shed", &reading.Refusal{Code: reading.NoJar, Text: "no jar was found", Remedy: "show all of it"}, nil, report.Options{})
	printed, err := (&pieceFlags{report: path, format: "csv"}).write(io.Discard, in, "")
	require.NoError(t, err)
	assert.False(t, printed, "there is no row to write")
	data, err := os.ReadFile(path)
	require.NoError(t, err)
	assert.Contains(t, string(data), "No jar was found.")

	var out bytes.Buffer
	printed, err = (&pieceFlags{format: "json"}).write(&out, in, "")
	require.NoError(t, err)
	assert.True(t, printed)
	assert.Contains(t, out.String(), `"no_jar"`)
}

func content(t *testing.T, path string) []byte {
	t.Helper()
	data, err := os.ReadFile(path)
	require.NoError(t, err)
	return data
}

// A chart that cannot be drawn is refused with the names of those that can.
func TestOtherChartsAreThoseThatCanBeDrawn(t *testing.T) {
	if testing.Short() {
		t.Skip("reads pictures")
	}
	status, _, said := whole(t, "read", filepath.Join("..", "..", "samples", "plot-07-by-the-brook"), "--format", "svg", "--chart", "film")
	assert.Equal(t, statusInput, status)
	assert.Contains(t, said, "other charts: triangle, settling, shares, intervals\n", "three photos give neither sizes nor a film")
}
