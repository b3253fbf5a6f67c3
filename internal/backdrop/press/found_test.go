package press_test

import (
	"bytes"
	"cmp"
	"fmt"
	"image"
	"image/color"
	"image/draw"
	"image/jpeg"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"testing"

	"github.com/makiuchi-d/gozxing"
	"github.com/makiuchi-d/gozxing/qrcode"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mudline/imaging/sheetmark"
	"mudline/internal/backdrop"
	"mudline/internal/backdrop/press"
	"mudline/internal/jartest"
)

const identity = sheetmark.Identity(0x9d6ef)

func sheet(t *testing.T, name string) *image.RGBA {
	p, err := backdrop.Draw(backdrop.Sheet{Identity: identity, Name: name})
	require.NoError(t, err)
	return press.Picture(p, 150)
}

func truths(t *testing.T) []*jartest.Truth {
	list, err := jartest.ReadTruths(filepath.Join("..", "..", "..", "testdata", "sheets"))
	require.NoError(t, err)
	require.NotEmpty(t, list)
	return list
}

func decoded(t *testing.T, data []byte) *image.RGBA {
	img, err := jpeg.Decode(bytes.NewReader(data))
	require.NoError(t, err)
	pic := image.NewRGBA(img.Bounds())
	draw.Draw(pic, pic.Rect, img, image.Point{}, draw.Src)
	return pic
}

// spoilt is one way a photo can be worse, with where a place of the good one is seen.
type spoilt struct {
	name  string
	spoil func(*image.RGBA) *image.RGBA
	moved func(sheetmark.Point) sheetmark.Point
	least int // marks that must be read
}

func same(p sheetmark.Point) sheetmark.Point { return p }

// The pictures are rendered, with the print laid on: see jartest.Lay.
func TestSheetIsFoundInSpoiltPhotos(t *testing.T) {
	// A camera turned about itself by degrees to the side and up: the picture is mapped
	// by K R K^-1, whatever it shows.
	tilt := func(side, up float64) (func(*image.RGBA) *image.RGBA, func(sheetmark.Point) sheetmark.Point) {
		const focal = 2000.0
		turn := func(p sheetmark.Point, side, up float64) sheetmark.Point {
			x, y, z := (p.X-600)/focal, (p.Y-800)/focal, 1.0
			s, c := math.Sincos(side * math.Pi / 180)
			x, z = c*x+s*z, c*z-s*x
			s, c = math.Sincos(up * math.Pi / 180)
			y, z = c*y+s*z, c*z-s*y
			return sheetmark.Point{X: 600 + focal*x/z, Y: 800 + focal*y/z}
		}
		back := func(p sheetmark.Point) sheetmark.Point { // the turns undone, in the other order
			x, y, z := (p.X-600)/focal, (p.Y-800)/focal, 1.0
			s, c := math.Sincos(-up * math.Pi / 180)
			y, z = c*y+s*z, c*z-s*y
			s, c = math.Sincos(-side * math.Pi / 180)
			x, z = c*x+s*z, c*z-s*x
			return sheetmark.Point{X: 600 + focal*x/z, Y: 800 + focal*y/z}
		}
		return func(p *image.RGBA) *image.RGBA { return warped(p, p.Rect, back) },
			func(p sheetmark.Point) sheetmark.Point { return turn(p, side, up) }
	}
	tiltA, movedA := tilt(3, 2)
	tiltB, movedB := tilt(-3, -3)
	cropped := func(p *image.RGBA) *image.RGBA {
		return warped(p, image.Rect(0, 0, 1100, 1300), func(q sheetmark.Point) sheetmark.Point { return sheetmark.Point{X: q.X + 90, Y: q.Y + 190} })
	}
	cases := []spoilt{
		{"as it is", nil, same, 11},
		{"lamplight, dark", light(0.55, 0.32, 0.14), same, 10},
		{"shade, bright", light(1.3, 1.5, 1.9), same, 10},
		{"blurred", blurred(2), same, 10},
		{"noisy", noisy(14), same, 10},
		{"a shadow across", shadow, same, 10},
		{"glare", glare, same, 7},
		{"left side hidden", hidden(0, 0.47), same, 5},
		{"right side hidden", hidden(0.55, 1), same, 5},
		{"tilted", tiltA, movedA, 10},
		{"tilted the other way", tiltB, movedB, 10},
		{"cropped", cropped, func(p sheetmark.Point) sheetmark.Point { return sheetmark.Point{X: p.X - 90, Y: p.Y - 190} }, 8},
		{"half the size", scaled(0.5), func(p sheetmark.Point) sheetmark.Point { return sheetmark.Point{X: p.X / 2, Y: p.Y / 2} }, 10},
	}
	for _, tr := range truths(t)[1:] {
		print := sheet(t, "plot 7")
		for i, photo := range tr.Photos {
			data, err := tr.LaidPhoto(photo, print, sheetmark.A4, nil)
			require.NoError(t, err)
			whole := decoded(t, data)
			for k, c := range cases {
				if k > 0 && k%len(tr.Photos) != i { // each case on one photo of each jar
					continue
				}
				pic := whole
				if c.spoil != nil {
					pic = c.spoil(whole)
				}
				what := photo.File + ", " + c.name
				found, _ := sheetmark.Find(pic, sheetmark.LensOf(photo.Camera.F35MM, pic.Rect.Dx(), pic.Rect.Dy()))
				if !assert.Len(t, found, 1, what) {
					continue
				}
				assert.Equal(t, identity, found[0].Identity, what)
				assert.GreaterOrEqual(t, len(found[0].Seen), c.least, what)
				for j, corner := range found[0].Corners() {
					at := photo.Rows.SheetCorners[j]
					want := c.moved(sheetmark.Point{X: at[0], Y: at[1]})
					assert.Less(t, math.Hypot(corner.X-want.X, corner.Y-want.Y), 2.0, "%s, corner %d", what, j)
				}
			}
		}
	}
}

// What a printer and the paper do to a sheet: greys by dots, paler ink that shines, a print
// smaller than it should be, sides that bend.
func TestSheetIsFoundAsPrinted(t *testing.T) {
	cases := []struct {
		name  string
		as    jartest.Printing
		spoil func(*image.RGBA) *image.RGBA
		least int     // marks that must be read
		size  float64 // share of the diameter and the depth that may be off
	}{
		{"grey laser", jartest.Printing{Black: 0.12, DotGain: 0.18}, nil, 11, 0.02},
		{"pale toner", jartest.Printing{Black: 0.25, DotGain: 0.1}, shadow, 10, 0.02},
		{"much toner", jartest.Printing{Black: 0.03, DotGain: 0.3}, glare, 7, 0.02},
		{"shiny in slant light", jartest.Printing{Black: 0.1, DotGain: 0.18, Gloss: 0.3}, slant, 10, 0.02},
		{"at 97 %", jartest.Printing{Black: 0.12, DotGain: 0.18, Scale: 0.97}, nil, 11, 0.02},
		{"curled", jartest.Printing{Black: 0.12, DotGain: 0.18, CurlMM: 3}, nil, 11, 0.03},
	}
	print := sheet(t, "plot 7")
	for k, c := range cases {
		list := truths(t)
		tr := list[k%len(list)]
		photo := tr.Photos[k/len(list)%len(tr.Photos)]
		t.Run(c.name, func(t *testing.T) {
			what := photo.File + ", " + c.name
			data, err := tr.LaidPhotoAs(photo, print, sheetmark.A4, c.as, c.spoil)
			require.NoError(t, err)
			pic := decoded(t, data)
			found, _ := sheetmark.Find(pic, sheetmark.LensOf(photo.Camera.F35MM, 1200, 1600))
			require.Len(t, found, 1, what)
			s := found[0]
			assert.Equal(t, identity, s.Identity, what)
			assert.GreaterOrEqual(t, len(s.Seen), c.least, what)
			scale := cmp.Or(c.as.Scale, 1)
			for j, p := range sheetmark.A4.Corners() {
				got, want := s.Stand.Picture(p), c.as.Seen(photo, sheetmark.A4, p)
				assert.Less(t, math.Hypot(got.X-want.X, got.Y-want.Y), 2.0, "%s, corner %d", what, j)
			}
			f := photo.Frame(tr.WaterHeightMM)
			rim := func(h float64) sheetmark.Rim {
				return sheetmark.Rim{Left: sheetmark.Point(f.At(-1, h)), Right: sheetmark.Point(f.At(1, h)), Front: sheetmark.Point(f.At(0, h))}
			}
			size, ok := s.Stand.Measure(sheetmark.Vessel{Floor: rim(0), Water: rim(1)})
			require.True(t, ok, what)
			assert.InEpsilon(t, tr.WaterHeightMM, scale*size.Depth.MM, c.size, what)
			assert.InEpsilon(t, 2*tr.Jar.OuterRadiusMM, scale*size.Diameter.MM, c.size, what)
			l, ok := s.Light(pic)
			require.True(t, ok, what)
			before := 1.0
			for i, g := range l.Greys {
				if g.Share == 0 {
					continue
				}
				assert.Less(t, g.Share, before, "%s, grey %d", what, i)
				before = g.Share
			}
		})
	}
}

// slant is light that falls along the sheet: a third of it at the left.
func slant(p *image.RGBA) *image.RGBA {
	out := image.NewRGBA(p.Rect)
	for i, v := range p.Pix {
		k := 0.35 + 1.1*float64(i/4%p.Rect.Dx())/float64(p.Rect.Dx())
		if out.Pix[i] = 255; i%4 < 3 {
			out.Pix[i] = uint8(math.Min(255*math.Pow(k*math.Pow(float64(v)/255, 2.2), 1/2.2)+0.5, 255))
		}
	}
	return out
}

func TestMirroredSheet(t *testing.T) {
	tr := truths(t)[0]
	photo := tr.Photos[2]
	data, err := tr.LaidPhoto(photo, sheet(t, "plot 7"), sheetmark.A4, nil)
	require.NoError(t, err)
	pic := decoded(t, data)
	w := float64(pic.Rect.Dx())
	pic = warped(pic, pic.Rect, func(p sheetmark.Point) sheetmark.Point { return sheetmark.Point{X: w - p.X, Y: p.Y} })
	found, _ := sheetmark.Find(pic, sheetmark.LensOf(photo.Camera.F35MM, 1200, 1600))
	require.Len(t, found, 1)
	assert.True(t, found[0].Stand.Mirror)
	for j, corner := range found[0].Corners() {
		assert.InDelta(t, w-photo.Rows.SheetCorners[j][0], corner.X, 2)
		assert.InDelta(t, photo.Rows.SheetCorners[j][1], corner.Y, 2)
	}
	name, ok := found[0].Name()
	assert.True(t, ok)
	assert.Equal(t, "plot 7", name)
}

// No jar of testdata stands before a sheet, and none may be seen there.
func TestNoSheetWhereThereIsNone(t *testing.T) {
	photos, err := filepath.Glob(filepath.Join("..", "..", "..", "testdata", "*", "*", "*.jpg"))
	require.NoError(t, err)
	require.NotEmpty(t, photos)
	for i, p := range photos {
		if i%2 > 0 { // half of them, for the time it takes
			continue
		}
		data, err := os.ReadFile(p)
		require.NoError(t, err)
		found, marks := sheetmark.Find(decoded(t, data), sheetmark.LensOf(26, 1200, 1600))
		assert.Empty(t, found, p)
		assert.Zero(t, marks, "%s: marks read by chance", p)
	}
}

// An independent decoder reads the name's code: gozxing, a port of ZXing.
func TestNameIsReadByAnotherDecoder(t *testing.T) {
	for _, name := range []string{"", "plot 7", "Jardín de Zoë, hauteur n° 3", "a name that is longer than the code can hold, and is cut short there"} {
		pic := sheet(t, name)
		img, err := gozxing.NewBinaryBitmapFromImage(pic)
		require.NoError(t, err)
		read, err := qrcode.NewQRCodeReader().Decode(img, map[gozxing.DecodeHintType]any{gozxing.DecodeHintType_TRY_HARDER: true, gozxing.DecodeHintType_CHARACTER_SET: "UTF-8"})
		require.NoError(t, err, name)
		assert.Contains(t, read.GetText(), "mudline "+identity.String(), name)

		found, _ := sheetmark.Find(bordered(pic), sheetmark.LensOf(40, 1440, 1954))
		require.Len(t, found, 1, name)
		own, ok := found[0].Name()
		require.True(t, ok, name)
		assert.Equal(t, fmt.Sprintf("mudline %s %s", identity, own), read.GetText()+map[bool]string{true: " "}[own == ""])
		if len(name) <= sheetmark.MostName {
			assert.Equal(t, name, own)
		} else {
			assert.Equal(t, name[:sheetmark.MostName], own)
		}
	}
}

// bordered is a picture on a grey table.
func bordered(pic *image.RGBA) *image.RGBA {
	out := image.NewRGBA(pic.Rect.Inset(-100))
	draw.Draw(out, out.Rect, image.NewUniform(color.Gray{Y: 120}), image.Point{}, draw.Src)
	draw.Draw(out, pic.Rect, pic, image.Point{}, draw.Src)
	out.Rect = out.Rect.Sub(out.Rect.Min)
	return out
}

func light(r, g, b float64) func(*image.RGBA) *image.RGBA {
	gains := [3]float64{r, g, b}
	return func(p *image.RGBA) *image.RGBA {
		out := image.NewRGBA(p.Rect)
		for i, v := range p.Pix {
			if i%4 == 3 {
				out.Pix[i] = 255
				continue
			}
			lin := math.Pow(float64(v)/255, 2.2) * gains[i%4]
			out.Pix[i] = uint8(math.Min(255*math.Pow(lin, 1/2.2)+0.5, 255))
		}
		return out
	}
}

func shadow(p *image.RGBA) *image.RGBA {
	out := image.NewRGBA(p.Rect)
	copy(out.Pix, p.Pix)
	for y := range p.Rect.Dy() {
		for x := range p.Rect.Dx() {
			if x+y/3 > 700 {
				at := out.PixOffset(x, y)
				for k := range 3 {
					out.Pix[at+k] = uint8(float64(out.Pix[at+k]) * 0.6)
				}
			}
		}
	}
	return out
}

// glare is a bright spot of 150 pixels on the right side.
func glare(p *image.RGBA) *image.RGBA {
	out := image.NewRGBA(p.Rect)
	copy(out.Pix, p.Pix)
	for y := range p.Rect.Dy() {
		for x := range p.Rect.Dx() {
			d := math.Hypot(float64(x)-950, float64(y)-700) / 150
			at := out.PixOffset(x, y)
			for k := range 3 {
				out.Pix[at+k] = uint8(math.Min(float64(out.Pix[at+k])+255*math.Exp(-d*d), 255))
			}
		}
	}
	return out
}

// hidden is a board before a part of the picture's width.
func hidden(from, to float64) func(*image.RGBA) *image.RGBA {
	return func(p *image.RGBA) *image.RGBA {
		out := image.NewRGBA(p.Rect)
		copy(out.Pix, p.Pix)
		w := float64(p.Rect.Dx())
		draw.Draw(out, image.Rect(int(from*w), 0, int(to*w), p.Rect.Dy()), image.NewUniform(color.RGBA{120, 90, 60, 255}), image.Point{}, draw.Src)
		return out
	}
}

func noisy(sd float64) func(*image.RGBA) *image.RGBA {
	return func(p *image.RGBA) *image.RGBA {
		r := rand.New(rand.NewPCG(1, 2))
		out := image.NewRGBA(p.Rect)
		for i, v := range p.Pix {
			out.Pix[i] = uint8(math.Max(0, math.Min(255, float64(v)+sd*r.NormFloat64())))
			if i%4 == 3 {
				out.Pix[i] = 255
			}
		}
		return out
	}
}

// blurred is the mean of a square of 2 n + 1 pixels.
func blurred(n int) func(*image.RGBA) *image.RGBA {
	return func(p *image.RGBA) *image.RGBA {
		out := image.NewRGBA(p.Rect)
		for y := range p.Rect.Dy() {
			for x := range p.Rect.Dx() {
				var sum [3]int
				for dy := -n; dy <= n; dy++ {
					for dx := -n; dx <= n; dx++ {
						c := p.RGBAAt(min(max(x+dx, 0), p.Rect.Dx()-1), min(max(y+dy, 0), p.Rect.Dy()-1))
						sum[0], sum[1], sum[2] = sum[0]+int(c.R), sum[1]+int(c.G), sum[2]+int(c.B)
					}
				}
				k := (2*n + 1) * (2*n + 1)
				out.SetRGBA(x, y, color.RGBA{uint8(sum[0] / k), uint8(sum[1] / k), uint8(sum[2] / k), 255})
			}
		}
		return out
	}
}

func scaled(k float64) func(*image.RGBA) *image.RGBA {
	return func(p *image.RGBA) *image.RGBA {
		r := image.Rect(0, 0, int(k*float64(p.Rect.Dx())), int(k*float64(p.Rect.Dy())))
		return warped(blurred(1)(p), r, func(q sheetmark.Point) sheetmark.Point { return sheetmark.Point{X: q.X / k, Y: q.Y / k} })
	}
}

// warped takes each pixel from where from has it, blended of four.
func warped(p *image.RGBA, r image.Rectangle, from func(sheetmark.Point) sheetmark.Point) *image.RGBA {
	out := image.NewRGBA(r)
	for y := range r.Dy() {
		for x := range r.Dx() {
			q := from(sheetmark.Point{X: float64(x) + 0.5, Y: float64(y) + 0.5})
			fx, fy := q.X-0.5, q.Y-0.5
			x0, y0 := int(math.Floor(fx)), int(math.Floor(fy))
			u, v := fx-float64(x0), fy-float64(y0)
			at := func(x, y int) color.RGBA {
				return p.RGBAAt(min(max(x, 0), p.Rect.Dx()-1), min(max(y, 0), p.Rect.Dy()-1))
			}
			a, b, c, d := at(x0, y0), at(x0+1, y0), at(x0, y0+1), at(x0+1, y0+1)
			mix := func(a, b, c, d uint8) uint8 {
				return uint8((1-v)*((1-u)*float64(a)+u*float64(b)) + v*((1-u)*float64(c)+u*float64(d)) + 0.5)
			}
			out.SetRGBA(x, y, color.RGBA{mix(a.R, b.R, c.R, d.R), mix(a.G, b.G, c.G, d.G), mix(a.B, b.B, c.B, d.B), 255})
		}
	}
	return out
}
