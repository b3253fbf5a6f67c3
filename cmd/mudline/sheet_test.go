package main

import (
	"bytes"
	"image/png"
	"os"
	"os/exec"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mudline/internal/browsertest"
)

func TestSheetWritesEachForm(t *testing.T) {
	t.Chdir(t.TempDir())
	r := command(t, nil, "sheet", "--name", "plot 7", "--id", "k7qf")
	require.Equal(t, statusOK, r.status, r.err)
	assert.Contains(t, r.out, "wrote sheet.pdf: sheet K7QF plot 7")
	one, err := os.ReadFile("sheet.pdf")
	require.NoError(t, err)
	command(t, nil, "sheet", "--name", "plot 7", "--id", "K7QF", "--out", "again.pdf")
	again, err := os.ReadFile("again.pdf")
	require.NoError(t, err)
	assert.True(t, bytes.Equal(one, again), "the same sheet is the same file")

	r = command(t, nil, "sheet", "--format", "png", "--dpi", "150", "--paper", "letter")
	require.Equal(t, statusOK, r.status, r.err)
	f, err := os.Open("sheet.png")
	require.NoError(t, err)
	defer f.Close()
	size, err := png.DecodeConfig(f)
	require.NoError(t, err)
	assert.Equal(t, [2]int{1275, 1650}, [2]int{size.Width, size.Height}, "8.5 x 11 inches")

	require.NoError(t, os.WriteFile("names.txt", []byte("Ana\n\n Béla \nCléo\n"), 0o600))
	r = command(t, nil, "sheet", "--names", "names.txt", "--out", "class.svg", "--language", "fr")
	require.Equal(t, statusOK, r.status, r.err)
	svg, err := os.ReadFile("class-2.svg")
	require.NoError(t, err)
	assert.Contains(t, string(svg), ">Béla<")
	assert.Contains(t, string(svg), "posez ici")

	r = command(t, nil, "new", "plot-9", "--sheet")
	require.Equal(t, statusOK, r.status, r.err)
	for _, name := range []string{"jar.yaml", "sheet.pdf"} {
		_, err := os.Stat(filepath.Join("plot-9", name))
		assert.NoError(t, err)
	}
}

func TestSheetRefusesWhatItCannotPrint(t *testing.T) {
	t.Chdir(t.TempDir())
	for want, args := range map[string][]string{
		"--format":     {"--format", "docx"},
		"--paper":      {"--paper", "a3"},
		"--id":         {"--id", "12345"},
		"--dpi":        {"--dpi", "9"},
		"--count":      {"--count", "9000"},
		"say the same": {"--count", "3", "--name", "x"},
		"--names":      {"--names", "missing.txt"},
		"--language":   {"--language", "xx"},
		"several":      {"--count", "2", "--format", "svg", "--out", "-"},
		"options only": {"plot-7"},
	} {
		r := command(t, nil, append([]string{"sheet"}, args...)...)
		assert.Equal(t, statusInput, r.status, args)
		assert.Contains(t, r.err, want, args)
	}
}

// A length printed: the line of 100 mm in a page rendered at 300 dots to an inch.
func TestPrintedLineHasItsLength(t *testing.T) {
	renderer := browsertest.Program(t, "pdftoppm", "poppler-utils")
	t.Chdir(t.TempDir())
	require.Equal(t, statusOK, command(t, nil, "sheet", "--id", "K7QF").status)
	out, err := exec.Command(renderer, "-r", "300", "-gray", "-png", "sheet.pdf", "page").CombinedOutput()
	require.NoError(t, err, string(out))
	pages, err := filepath.Glob("page*.png")
	require.NoError(t, err)
	require.Len(t, pages, 1)
	data, err := os.ReadFile(pages[0])
	require.NoError(t, err)
	pic, err := png.Decode(bytes.NewReader(data))
	require.NoError(t, err)
	const perMM = 300 / 25.4
	// The line's row is 233.5 mm above the lower edge; it is the longest dark run there.
	row := int((297 - 233.5) * perMM)
	longest, run := 0, 0
	for x := range pic.Bounds().Dx() {
		if v, _, _, _ := pic.At(x, row).RGBA(); v < 0x8000 {
			run++
		} else {
			run = 0
		}
		longest = max(longest, run)
	}
	assert.InDelta(t, 100, float64(longest)/perMM, 0.3)
}
