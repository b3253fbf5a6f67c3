package jarfind_test

import (
	"image"
	"math"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	ours "mudline/imaging"
	"mudline/imaging/jarfind"
	"mudline/internal/jartest"
)

// The rendered jars are straight; stretched row by row they are not.
func TestTaper(t *testing.T) {
	if testing.Short() {
		t.Skip("long, and nothing runs side by side in it; the plain run has it")
	}
	truths, err := jartest.ReadTruths("../../testdata/jars")
	require.NoError(t, err)
	for _, taper := range []float64{0, 0.12, -0.12} {
		near := 0
		for _, jar := range truths {
			var all [][]float64
			for _, p := range jar.Photos {
				data, err := os.ReadFile(filepath.Join(jar.Dir, p.File))
				require.NoError(t, err)
				photo, err := ours.Open(ours.PureGo{}, p.File, data)
				require.NoError(t, err)
				f := p.Frame(jar.WaterHeightMM)
				all = append(all, jarfind.Silhouette(tapered(photo.Picture, f, taper), f))
			}
			got, ok := jarfind.Taper(all)
			require.True(t, ok, jar.Name)
			t.Logf("%s stretched by %.2f: %.3f", jar.Name, taper, got)
			if taper == 0 {
				assert.InDelta(t, 0, got, 0.02, "%s is straight", jar.Name)
			} else {
				assert.Positive(t, got*taper, "%s leans the wrong way", jar.Name)
			}
			if math.Abs(got-taper) < 0.04 {
				near++
			}
		}
		// Upright boards behind a jar can hide its taper: one of the five may.
		assert.GreaterOrEqual(t, near, len(truths)-1, "stretched by %.2f", taper)
	}
}

// tapered stretches each row about the jar's centre line.
func tapered(pic *image.RGBA, f ours.Frame, taper float64) *image.RGBA {
	out := image.NewRGBA(pic.Rect)
	w := pic.Rect.Dx()
	for y := range pic.Rect.Dy() {
		h := f.HeightOfRow(float64(y) + 0.5)
		k := 1 + taper*(min(max(h, -0.2), 1.2)-0.5)
		cx := f.At(0, h).X
		for x := range w {
			sx := min(max(int(cx+(float64(x)+0.5-cx)/k), 0), w-1)
			copy(out.Pix[y*out.Stride+4*x:][:4], pic.Pix[y*pic.Stride+4*sx:][:4])
		}
	}
	return out
}
