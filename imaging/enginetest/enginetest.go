// Package enginetest holds the checks that every imaging.Engine passes, on
// pictures whose right answer is known by construction.
package enginetest

import (
	"image"
	"image/color"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mudline/imaging"
	"mudline/imaging/colour"
	"mudline/internal/jartest"
	"mudline/internal/testkit"
)

// Run checks an engine.
func Run(t *testing.T, eng imaging.Engine) {
	assert.NotEmpty(t, eng.Name())
	t.Run("decode size", func(t *testing.T) { decodeSize(t, eng) })
	t.Run("decode colours", func(t *testing.T) { decodeColours(t, eng) })
	t.Run("decode as stored", func(t *testing.T) { decodeAsStored(t, eng) })
	t.Run("decode damaged", func(t *testing.T) { decodeDamaged(t, eng) })
	t.Run("cut strip", func(t *testing.T) { cutStrip(t, eng) })
	t.Run("cut strip off the picture", func(t *testing.T) { cutStripOff(t, eng) })
}

// ramp is a smooth picture: red grows to the right, green downwards, blue is
// between.
func ramp(w, h int) *image.RGBA {
	pic := image.NewRGBA(image.Rect(0, 0, w, h))
	for y := range h {
		for x := range w {
			pic.SetRGBA(x, y, rampAt((float64(x)+0.5)/float64(w), (float64(y)+0.5)/float64(h)))
		}
	}
	return pic
}

// rampAt is the colour at a share of the width and of the height.
func rampAt(x, y float64) color.RGBA {
	x, y = math.Min(math.Max(x, 0), 1), math.Min(math.Max(y, 0), 1)
	return color.RGBA{uint8(40 + 160*x + 0.5), uint8(50 + 140*y + 0.5), uint8(90 + 30*x + 30*y + 0.5), 255}
}

func decodeSize(t *testing.T, eng imaging.Engine) {
	for _, c := range []struct{ w, h, side, wantW, wantH int }{
		{400, 300, 1600, 400, 300}, // never enlarged
		{400, 300, 400, 400, 300},
		{400, 300, 399, 399, 299},
		{801, 603, 400, 400, 301},
		{300, 400, 100, 75, 100},
		{1000, 260, 100, 100, 26},
		{517, 311, 64, 64, 38}, // 64 * 311/517 = 38.499
	} {
		data, info := testkit.Coded(t, ramp(c.w, c.h), 95)
		pic, full, err := eng.Decode(data, info, c.side)
		require.NoError(t, err)
		assert.Equal(t, image.Rect(0, 0, c.wantW, c.wantH), pic.Rect, "%+v", c)
		assert.Equal(t, image.Pt(c.w, c.h), full, "%+v", c)
	}
}

func decodeColours(t *testing.T, eng imaging.Engine) {
	for _, side := range []int{1200, 900, 400, 333, 150, 100} {
		data, info := testkit.Coded(t, ramp(1200, 901), 97)
		pic, _, err := eng.Decode(data, info, side)
		require.NoError(t, err)
		w, h := pic.Rect.Dx(), pic.Rect.Dy()
		worst := 0.0
		for y := range h {
			for x := range w {
				want, got := rampAt((float64(x)+0.5)/float64(w), (float64(y)+0.5)/float64(h)), pic.RGBAAt(x, y)
				require.EqualValues(t, 255, got.A)
				for _, d := range []int{int(want.R) - int(got.R), int(want.G) - int(got.G), int(want.B) - int(got.B)} {
					worst = math.Max(worst, math.Abs(float64(d)))
				}
			}
		}
		// JPEG at this quality and 8-bit steps account for 4 levels; a picture
		// off by one reduced pixel at side 100 would be off by 2 more.
		assert.LessOrEqual(t, worst, 5.0, "side %d", side)
	}
}

// decodeAsStored: turning the picture upright is not the engine's business.
func decodeAsStored(t *testing.T, eng imaging.Engine) {
	data, info := testkit.Coded(t, ramp(640, 320), 95)
	data = jartest.WithEXIF(data, jartest.EXIF{Orientation: 6})
	info, err := imaging.Inspect(data)
	require.NoError(t, err)
	require.Equal(t, 6, info.Orientation)
	pic, full, err := eng.Decode(data, info, 320)
	require.NoError(t, err)
	assert.Equal(t, image.Rect(0, 0, 320, 160), pic.Rect)
	assert.Equal(t, image.Pt(640, 320), full)
	assert.Less(t, pic.RGBAAt(5, 80).R, pic.RGBAAt(315, 80).R)
}

func decodeDamaged(t *testing.T, eng imaging.Engine) {
	data, info := testkit.Coded(t, ramp(640, 320), 95)
	for i := 700; i < len(data)-2; i++ { // the end mark stays
		data[i] = 0x3c
	}
	pic, _, err := eng.Decode(data, info, 320)
	if err == nil { // a decoder may fill in what it cannot read
		assert.Equal(t, image.Rect(0, 0, 320, 160), pic.Rect)
		return
	}
	var refusal *imaging.Refusal
	require.ErrorAs(t, err, &refusal)
	assert.NotEmpty(t, refusal.Remedy)
}

// tilted is a frame with roll, keystone and bow.
var tilted = imaging.Frame{
	Floor: imaging.Point{X: 212, Y: 400}, Water: imaging.Point{X: 190, Y: 90},
	HalfWidthFloor: 120, HalfWidthWater: 112, BowFloor: 14, BowWater: -6,
}

func cutStrip(t *testing.T, eng imaging.Engine) {
	const w, h = 400, 500
	pic := ramp(w, h)
	s := eng.CutStrip(pic, tilted, 1.05, -0.05)
	require.Len(t, s.Lab, 3*s.W*s.H)
	// About one row to a pixel along the centre line, 310.8 pixels here.
	assert.InDelta(t, 310.8*1.1, float64(s.H), 1)
	for r := range s.H {
		for c := range s.W {
			p := tilted.At(s.U(c), s.Height(float64(r)+0.5))
			want := rampAt(p.X/w, p.Y/h)
			l, a, b := colour.Lab(float32(want.R), float32(want.G), float32(want.B))
			i := 3 * (r*s.W + c)
			// One level of sRGB is up to 0.4 in L* and 0.6 in a* and b* here.
			require.InDelta(t, l, s.Lab[i], 0.6, "row %d column %d", r, c)
			require.InDelta(t, a, s.Lab[i+1], 1.2, "row %d column %d", r, c)
			require.InDelta(t, b, s.Lab[i+2], 1.2, "row %d column %d", r, c)
		}
	}
}

// cutStripOff: what lies outside the picture repeats its edge, and a frame that
// makes no sense gives a strip all the same.
func cutStripOff(t *testing.T, eng imaging.Engine) {
	pic := ramp(300, 300)
	low := imaging.Frame{Floor: imaging.Point{X: 150, Y: 350}, Water: imaging.Point{X: 150, Y: 250}, HalfWidthFloor: 50, HalfWidthWater: 50}
	s := eng.CutStrip(pic, low, 1, 0)
	want := rampAt(0.5, 1)
	l, _, _ := colour.Lab(float32(want.R), float32(want.G), float32(want.B))
	assert.InDelta(t, l, s.Lab[3*((s.H-1)*s.W+s.W/2)], 0.6)

	nan := math.NaN()
	for _, f := range []imaging.Frame{
		{},
		{Floor: imaging.Point{X: nan, Y: nan}, Water: imaging.Point{X: 1, Y: 1}},
		{Floor: imaging.Point{X: -1e9, Y: 1e9}, Water: imaging.Point{X: 1e9, Y: -1e9}, HalfWidthFloor: 1, HalfWidthWater: 1},
	} {
		s := eng.CutStrip(pic, f, 1, 0)
		assert.Len(t, s.Lab, 3*s.W*s.H)
	}
}

// Texture is a smooth random grey function of the plane: the same seed gives the same
// picture.
func Texture(w, h int, seed uint64) *image.Gray {
	rng := rand.New(rand.NewPCG(seed, 1))
	type wave struct{ kx, ky, phase float64 }
	var waves []wave
	for range 40 {
		length := 6 + 60*rng.Float64()
		angle := 2 * math.Pi * rng.Float64()
		waves = append(waves, wave{
			2 * math.Pi / length * math.Cos(angle), 2 * math.Pi / length * math.Sin(angle), 2 * math.Pi * rng.Float64(),
		})
	}
	g := image.NewGray(image.Rect(0, 0, w, h))
	for y := range h {
		for x := range w {
			v := 0.0
			for _, k := range waves {
				v += math.Cos(k.kx*float64(x) + k.ky*float64(y) + k.phase)
			}
			g.SetGray(x, y, color.Gray{Y: uint8(math.Min(math.Max(128+10*v, 0), 255))})
		}
	}
	return g
}
