package report_test

import (
	"image"
	"image/color"
	_ "image/jpeg"
	"image/png"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mudline/imaging"
	"mudline/imaging/colour"
	"mudline/internal/jartest"
	"mudline/internal/reading"
	"mudline/internal/report"
	"mudline/layers"
)

func load(t testing.TB, path string) image.Image {
	t.Helper()
	f, err := os.Open(path)
	require.NoError(t, err)
	defer f.Close()
	pic, _, err := image.Decode(f)
	require.NoError(t, err)
	return pic
}

// trueReading is what a perfect reader would say of a rendered jar.
func trueReading(truth *jartest.Truth) reading.Reading {
	r := sample()
	r.Jar, r.WaterDepthMM = truth.Name, &truth.WaterHeightMM
	r.Photos = nil
	for _, p := range truth.Photos {
		at := func(v *float64) *reading.Height {
			if v == nil {
				return nil
			}
			return &reading.Height{Value: *v, SD: 0.4}
		}
		r.Photos = append(r.Photos, reading.Photo{File: p.File, ElapsedS: p.ElapsedS, ElapsedFrom: "name", SizePx: p.Size,
			HeightsMM: &reading.Heights{DepositTop: at(p.FacingHeights.DepositTop), SandTop: at(p.FacingHeights.SandSilt), SiltTop: at(p.FacingHeights.SiltClay)}})
	}
	return r
}

// TestSceneDrawsOnTheTruth draws a rendered jar with its true geometry. Each
// line must cross the row the truth gives for it, and pictures are left to look
// at where MUDLINE_PICTURES names a folder.
func TestSceneDrawsOnTheTruth(t *testing.T) {
	for _, name := range []string{"open-11", "open-13"} {
		truth, err := jartest.ReadTruth(filepath.Join("..", "..", "testdata", "jars", name))
		require.NoError(t, err)
		r := trueReading(truth)
		for i, p := range truth.Photos {
			pic := load(t, filepath.Join(truth.Dir, p.File))
			d := report.Scene(pic, p.Frame(truth.WaterHeightMM), r.Photos[i], r, report.Options{})
			for _, c := range d.Curves {
				key := map[layers.Line]string{layers.Floor: "inner_base", layers.Water: "water_surface", layers.DepositTop: "deposit_top"}[c.Line.Name]
				if key == "" {
					continue
				}
				mid := c.Points[len(c.Points)/2]
				assert.InDelta(t, p.Rows.Points[key].Row, mid.Y, 3, "%s %s", p.File, c.Label)
				assert.InDelta(t, p.Rows.Points[key].X, mid.X, 3, "%s %s", p.File, c.Label)
			}
			out := report.Annotate(d)
			assert.Equal(t, p.Size[1], out.Rect.Dy())
			assert.Greater(t, out.Rect.Dx(), p.Size[0])
			if dir := os.Getenv("MUDLINE_PICTURES"); dir != "" {
				f, err := os.Create(filepath.Join(dir, p.File+".png"))
				require.NoError(t, err)
				require.NoError(t, png.Encode(f, out))
				require.NoError(t, f.Close())
			}
		}
	}
}

// plainPhoto is a picture of one colour that does not begin at 0,0.
func plainPhoto(c color.Color) *image.RGBA {
	pic := image.NewRGBA(image.Rect(-3, -5, 297, 395))
	for y := pic.Rect.Min.Y; y < pic.Rect.Max.Y; y++ {
		for x := pic.Rect.Min.X; x < pic.Rect.Max.X; x++ {
			pic.Set(x, y, c)
		}
	}
	return pic
}

// luminance is relative luminance by WCAG 2.1.
func luminance(c color.Color) float64 {
	l, _, _ := colour.Lab(channels(c))
	f := (float64(l) + 16) / 116 // inverse of CIE L* above its linear foot
	return f * f * f
}

func channels(c color.Color) (r, g, b float32) {
	R, G, B, _ := c.RGBA()
	return float32(R) / 257, float32(G) / 257, float32(B) / 257
}

// A line must stand out on white, black and mid grey alike: between its stroke
// and its casing there is always a contrast of 4.5 (WCAG 2.1, 1.4.3) with the
// photo behind.
func TestLinesShowOnAnyBackground(t *testing.T) {
	frame := imaging.Frame{Floor: imaging.Point{X: 150, Y: 350}, Water: imaging.Point{X: 150, Y: 60}, HalfWidthFloor: 60, HalfWidthWater: 60}
	depth := 130.0
	p := reading.Photo{File: "a.jpg", ElapsedS: 60, HeightsMM: &reading.Heights{DepositTop: &reading.Height{Value: 65, SD: 0.1}}}
	for _, ground := range []color.Color{color.White, color.Black, color.Gray{128}, color.RGBA{200, 30, 30, 255}} {
		out := report.Annotate(report.Scene(plainPhoto(ground), frame, p, reading.Reading{WaterDepthMM: &depth}, report.Options{}))
		best := 0.0
		for y := 195; y < 216; y++ {
			a, b := luminance(out.At(150, y)), luminance(ground)
			best = max(best, (max(a, b)+0.05)/(min(a, b)+0.05))
		}
		assert.GreaterOrEqual(t, best, 3.0, "on %v", ground)
		assert.Equal(t, color.RGBAModel.Convert(ground), out.At(150, 100), "the photo between the lines is left alone")
	}
}

func TestSceneWithoutHeights(t *testing.T) {
	frame := imaging.Frame{Floor: imaging.Point{X: 150, Y: 350}, Water: imaging.Point{X: 150, Y: 60}, HalfWidthFloor: 60, HalfWidthWater: 60}
	d := report.Scene(plainPhoto(color.White), frame, reading.Photo{ElapsedS: 60}, reading.Reading{Jar: "a"}, report.Options{})
	assert.Len(t, d.Curves, 4, "two edges, floor and water")
	assert.NotPanics(t, func() { report.Annotate(d) })
}

// tolerance is how far a channel of the golden picture may differ: smoothing of
// edges is floating point, which processors may round differently.
const tolerance = 3

// TestPictureGolden compares a small drawing with testdata/picture.png.
// MUDLINE_UPDATE=1 rewrites it; look at it before committing.
func TestPictureGolden(t *testing.T) {
	frame := imaging.Frame{Floor: imaging.Point{X: 150, Y: 340}, Water: imaging.Point{X: 158, Y: 90}, HalfWidthFloor: 70, HalfWidthWater: 64, BowFloor: 14, BowWater: -6}
	r := sample()
	got := report.Annotate(report.Scene(plainPhoto(color.RGBA{128, 150, 120, 255}), frame, r.Photos[1], r, report.Options{Inches: true}))
	path := filepath.Join("testdata", "picture.png")
	if os.Getenv("MUDLINE_UPDATE") != "" {
		f, err := os.Create(path)
		require.NoError(t, err)
		require.NoError(t, png.Encode(f, got))
		require.NoError(t, f.Close())
	}
	f, err := os.Open(path)
	require.NoError(t, err)
	defer f.Close()
	want, err := png.Decode(f)
	require.NoError(t, err)
	require.Equal(t, want.Bounds(), got.Bounds())
	for y := range got.Rect.Dy() {
		for x := range got.Rect.Dx() {
			gr, gg, gb := channels(got.At(x, y))
			wr, wg, wb := channels(want.At(x, y))
			if max(abs(gr-wr), abs(gg-wg), abs(gb-wb)) > tolerance {
				t.Fatalf("pixel %d,%d is %v, the golden has %v", x, y, got.At(x, y), want.At(x, y))
			}
		}
	}
}

func abs(v float32) float32 { return max(v, -v) }
