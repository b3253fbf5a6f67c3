package imaging_test

import (
	"bytes"
	"image"
	"image/color"
	"image/draw"
	"image/jpeg"
	"image/png"
	"math"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"golang.org/x/image/tiff"

	"mudline/imaging"
	"mudline/internal/jartest"
	"mudline/internal/testkit"
)

var (
	red   = color.RGBA{200, 60, 50, 255}
	green = color.RGBA{60, 160, 70, 255}
	blue  = color.RGBA{60, 80, 190, 255}
	white = color.RGBA{210, 210, 200, 255}
)

// quadrants is the picture in the fixtures, with its origin off 0,0.
func quadrants() *image.RGBA {
	large := image.NewRGBA(image.Rect(-30, -20, 400, 300))
	pic := large.SubImage(image.Rect(-1, -1, 319, 255)).(*image.RGBA)
	for y := -1; y < 255; y++ {
		for x := -1; x < 319; x++ {
			pic.SetRGBA(x, y, [2][2]color.RGBA{{red, green}, {blue, white}}[(y+1)/128][(x+1)/160])
		}
	}
	return pic
}

// assertCorners compares the colours of the upper left, upper right, lower left
// and lower right quadrant, in the middle and 3 pixels inside its corners.
func assertCorners(t *testing.T, pic *image.RGBA, tolerance float64, want ...color.RGBA) {
	t.Helper()
	w, h := pic.Rect.Dx(), pic.Rect.Dy()
	for k, c := range want {
		x0, y0 := k%2*w/2, k/2*h/2
		for _, at := range []image.Point{{w / 4, h / 4}, {3, 3}, {w/2 - 4, h/2 - 4}} {
			got := pic.RGBAAt(x0+at.X, y0+at.Y)
			assert.InDelta(t, c.R, got.R, tolerance, "red, quadrant %d at %v", k, at)
			assert.InDelta(t, c.G, got.G, tolerance, "green, quadrant %d at %v", k, at)
			assert.InDelta(t, c.B, got.B, tolerance, "blue, quadrant %d at %v", k, at)
			assert.EqualValues(t, 255, got.A)
		}
	}
}

func TestOpenFormats(t *testing.T) {
	var tif, grey16, pal bytes.Buffer
	require.NoError(t, tiff.Encode(&tif, quadrants(), &tiff.Options{Compression: tiff.Deflate}))
	require.NoError(t, png.Encode(&pal, paletted()))
	require.NoError(t, png.Encode(&grey16, deep()))
	for _, c := range []struct {
		name, format string
		data         []byte
		turned       bool
		tolerance    float64
	}{
		{"quadrants.png", "png", fixture(t, "quadrants.png"), true, 0},
		{"paletted.png", "png", pal.Bytes(), false, 0},
		{"deep.png", "png", grey16.Bytes(), false, 0},
		{"quadrants.tif", "tiff", fixture(t, "quadrants.tif"), true, 0},
		{"deflate.tif", "tiff", tif.Bytes(), false, 0},
		{"quadrants-progressive.jpg", "jpeg", fixture(t, "quadrants-progressive.jpg"), true, 4},
		// VP8's studio range has 219 steps for 255.
		{"quadrants.webp", "webp", fixture(t, "quadrants.webp"), true, 6},
		{"quadrants-lossless.webp", "webp", fixture(t, "quadrants-lossless.webp"), false, 0},
		{"quadrants.heic", "heic", fixture(t, "quadrants.heic"), false, 6},
		{"quadrants-turned.heic", "heic", fixture(t, "quadrants-turned.heic"), true, 6},
	} {
		t.Run(c.name, func(t *testing.T) {
			info, err := imaging.Inspect(c.data)
			require.NoError(t, err)
			assert.Equal(t, c.format, info.Format)
			p, err := imaging.Open(imaging.PureGo{}, c.name, c.data)
			require.NoError(t, err)
			want := []color.RGBA{red, green, blue, white}
			w, h := 320, 256
			if c.turned { // a quarter turn clockwise
				want = []color.RGBA{blue, red, white, green}
				w, h = 256, 320
			}
			assert.Equal(t, image.Rect(0, 0, w, h), p.Picture.Rect)
			assert.Equal(t, [2]int{w, h}, [2]int{p.FullW, p.FullH})
			assert.Equal(t, 1.0, p.Scale)
			assertCorners(t, p.Picture, c.tolerance, want...)
			if c.turned || c.name == "quadrants.heic" { // those with metadata
				assert.True(t, p.Taken.Equal(time.Date(2026, 5, 3, 12, 3, 22, 0, time.UTC)), "%v", p.Taken)
				assert.True(t, p.HasOffset)
				assert.Equal(t, 26.0, p.Focal35MM)
			}
		})
	}
}

func paletted() image.Image {
	src := quadrants()
	out := image.NewPaletted(src.Rect, color.Palette{red, green, blue, white})
	for y := src.Rect.Min.Y; y < src.Rect.Max.Y; y++ {
		for x := src.Rect.Min.X; x < src.Rect.Max.X; x++ {
			out.Set(x, y, src.At(x, y))
		}
	}
	return out
}

// deep has 16 bits to a channel.
func deep() image.Image {
	src := quadrants()
	out := image.NewNRGBA64(src.Rect)
	for y := src.Rect.Min.Y; y < src.Rect.Max.Y; y++ {
		for x := src.Rect.Min.X; x < src.Rect.Max.X; x++ {
			out.Set(x, y, src.At(x, y))
		}
	}
	return out
}

// What is transparent is laid on white.
func TestOpenTransparent(t *testing.T) {
	pic := image.NewNRGBA(image.Rect(0, 0, 300, 300))
	for i := range pic.Pix {
		pic.Pix[i] = 128 // half transparent mid-grey on the lower half
		if i < len(pic.Pix)/2 {
			pic.Pix[i] = 0
		}
	}
	var b bytes.Buffer
	require.NoError(t, png.Encode(&b, pic))
	p, err := imaging.Open(imaging.PureGo{}, "", b.Bytes())
	require.NoError(t, err)
	assert.Equal(t, color.RGBA{255, 255, 255, 255}, p.Picture.RGBAAt(10, 10))
	got := p.Picture.RGBAAt(10, 290)
	assert.InDelta(t, 191, got.R, 1) // 128 * 0.502 + 255 * 0.498
}

// The eight orientations through a whole JPEG file, reduced.
func TestOpenOrientation(t *testing.T) {
	pic := image.NewRGBA(image.Rect(0, 0, 2000, 1000))
	for y := range 1000 {
		for x := range 2000 {
			pic.SetRGBA(x, y, [2][2]color.RGBA{{red, green}, {blue, white}}[y/500][x/1000])
		}
	}
	var b bytes.Buffer
	require.NoError(t, jpeg.Encode(&b, pic, &jpeg.Options{Quality: 92}))
	for orientation, want := range map[uint16][]color.RGBA{
		1: {red, green, blue, white}, 2: {green, red, white, blue},
		3: {white, blue, green, red}, 4: {blue, white, red, green},
		5: {red, blue, green, white}, 6: {blue, red, white, green},
		7: {white, green, blue, red}, 8: {green, white, red, blue},
	} {
		p, err := imaging.Open(imaging.PureGo{}, "", jartest.WithEXIF(b.Bytes(), jartest.EXIF{Orientation: orientation}))
		require.NoError(t, err)
		w, h, fullW, fullH := 1600, 800, 2000, 1000
		if orientation >= 5 {
			w, h, fullW, fullH = h, w, fullH, fullW
		}
		assert.Equal(t, image.Rect(0, 0, w, h), p.Picture.Rect)
		assert.Equal(t, [2]int{fullW, fullH}, [2]int{p.FullW, p.FullH})
		assert.Equal(t, 1.25, p.Scale)
		assertCorners(t, p.Picture, 4, want...)
	}
}

func TestOpenGreyJPEG(t *testing.T) {
	grey := image.NewGray(image.Rect(0, 0, 400, 300))
	for i := range grey.Pix {
		grey.Pix[i] = uint8(40 + i%400/2)
	}
	data, _ := testkit.Coded(t, grey, 95)
	p, err := imaging.Open(imaging.PureGo{}, "", data)
	require.NoError(t, err)
	got := p.Picture.RGBAAt(200, 100)
	assert.InDelta(t, 140, got.R, 3)
	assert.Equal(t, got.R, got.G)
	assert.Equal(t, got.R, got.B)
}

// Photos are opened side by side, with every decoder.
func TestOpenTogether(t *testing.T) {
	names := []string{"quadrants.heic", "quadrants-turned.heic", "quadrants.webp", "quadrants.png", "quadrants.tif"}
	var group sync.WaitGroup
	for range 4 {
		for _, name := range names {
			data := fixture(t, name)
			group.Go(func() {
				p, err := imaging.Open(imaging.PureGo{}, name, data)
				if assert.NoError(t, err) {
					assert.Len(t, p.Picture.Pix, 4*320*256)
				}
			})
		}
	}
	group.Wait()
}

// What follows the end of a picture, as some phones append, is not its concern.
func TestOpenWithTrailer(t *testing.T) {
	for _, name := range []string{"quadrants.heic", "quadrants-progressive.jpg", "quadrants.png", "quadrants.webp"} {
		data := append(fixture(t, name), "\xff\xd8 short film and more"...)
		p, err := imaging.Open(imaging.PureGo{}, name, data)
		require.NoError(t, err)
		assert.Len(t, p.Picture.Pix, 4*320*256)
	}
}

// A JPEG decoded at a fraction of its size gives the picture that the same one
// gives at full size: here as PNG, of odd sizes just over twice and
// four times the working one.
func TestOpenReducedAsFull(t *testing.T) {
	for _, size := range []image.Point{{2205, 3303}, {6411, 1107}} {
		pic := image.NewYCbCr(image.Rectangle{Max: size}, image.YCbCrSubsampleRatio420)
		across, down := wave(size.X, 40), wave(size.Y, 23)
		for y := range size.Y {
			for x := range size.X {
				pic.Y[pic.YOffset(x, y)] = uint8(128 + 70*across[x]*down[y])
				c := pic.COffset(x, y)
				pic.Cb[c], pic.Cr[c] = uint8(100+50*x/size.X), uint8(110+50*y/size.Y)
			}
		}
		data, info := testkit.Coded(t, pic, 95)
		full, err := jpeg.Decode(bytes.NewReader(data))
		require.NoError(t, err)
		rgba := image.NewRGBA(full.Bounds())
		draw.Draw(rgba, rgba.Rect, full, image.Point{}, draw.Src)
		var b bytes.Buffer
		require.NoError(t, (&png.Encoder{CompressionLevel: png.NoCompression}).Encode(&b, rgba))
		plain, err := imaging.Inspect(b.Bytes())
		require.NoError(t, err)
		want, wantFull, err := imaging.PureGo{}.Decode(b.Bytes(), plain, imaging.WorkingSide)
		require.NoError(t, err)
		got, gotFull, err := imaging.PureGo{}.Decode(data, info, imaging.WorkingSide)
		require.NoError(t, err)
		assert.Equal(t, wantFull, gotFull)
		require.Equal(t, want.Rect, got.Rect)
		worst, sum := 0.0, 0.0
		for i := range want.Pix {
			d := math.Abs(float64(want.Pix[i]) - float64(got.Pix[i]))
			worst, sum = math.Max(worst, d), sum+d
		}
		// A picture off by a pixel at its far edge would be off by 5 levels there.
		assert.LessOrEqual(t, worst, 3.0, "%v", size)
		assert.LessOrEqual(t, sum/float64(len(want.Pix)), 0.5, "%v", size)
	}
}

func wave(n int, length float64) []float64 {
	v := make([]float64, n)
	for i := range v {
		v[i] = math.Sin(float64(i) / length)
	}
	return v
}

// Damage within a large JPEG is refused as within a small one, not passed over.
func TestOpenReducedDamaged(t *testing.T) {
	pic := image.NewGray(image.Rect(0, 0, 3300, 2400))
	for i := range pic.Pix {
		pic.Pix[i] = uint8(i * i >> 7)
	}
	data, _ := testkit.Coded(t, pic, 80)
	_, err := imaging.Open(imaging.PureGo{}, "a.jpg", data)
	require.NoError(t, err)
	half := append(bytes.Clone(data[:len(data)/2]), 0xff, 0xd9) // the end mark stays
	_, err = imaging.Open(imaging.PureGo{}, "a.jpg", half)
	r := refusalOf(t, err)
	assert.Contains(t, r.Text.String(), "a.jpg")
	assert.Contains(t, []string{imaging.CodeTruncated, imaging.CodeDamaged}, r.Code)
}
