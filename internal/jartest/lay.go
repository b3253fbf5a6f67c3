package jartest

import (
	"bytes"
	"image"
	"image/draw"
	"image/jpeg"
	"math"
	"os"
	"path/filepath"
	"slices"

	"mudline/imaging/colour"
	"mudline/imaging/sheetmark"
)

// Lay prints a sheet onto the blank one of a rendered photo as an even printer does and
// as it lies flat; see LayAs.
func (t *Truth) Lay(photo TruthPhoto, pic *image.RGBA, print image.Image, paper sheetmark.Paper) *image.RGBA {
	return t.LayAs(photo, pic, print, paper, Printing{})
}

// LayAs prints a sheet onto the blank one of a rendered photo, where it is seen directly:
// each pixel's light is multiplied by what the print leaves of the paper's. The jar and
// what else stands before the sheet are left as they are. print is the sheet with
// paper's edges as its own; pic has the size of the truth.
func (t *Truth) LayAs(photo TruthPhoto, pic *image.RGBA, print image.Image, paper sheetmark.Paper, as Printing) *image.RGBA {
	out := image.NewRGBA(pic.Rect)
	copy(out.Pix, pic.Pix)
	corners := make([]sheetmark.Point, 4)
	x0, y0, x1, y1 := pic.Rect.Max.X, pic.Rect.Max.Y, 0, 0
	for i, c := range photo.Rows.SheetCorners {
		corners[i] = sheetmark.Point{X: c[0], Y: c[1]}
		x0, x1 = min(x0, int(c[0])), max(x1, int(c[0])+1)
		y0, y1 = min(y0, int(c[1])), max(y1, int(c[1])+1)
	}
	b := print.Bounds()
	w, h := float64(b.Dx()), float64(b.Dy())
	flat, ok := sheetmark.PlaneOf(corners, []sheetmark.Point{{X: 0, Y: 0}, {X: w, Y: 0}, {X: w, Y: h}, {X: 0, Y: h}})
	if !ok {
		return out
	}
	onPrint := as.placed(flat, w, h, paper)
	left := reflectances(print, as)
	paperTint := medianTint(pic, photo)
	hides := t.hides(photo)
	for y := max(y0, 0); y < min(y1, pic.Rect.Dy()); y++ {
		for x := max(x0, 0); x < min(x1, pic.Rect.Dx()); x++ {
			if left.blankAbout(onPrint(sheetmark.Point{X: float64(x) + 0.5, Y: float64(y) + 0.5})) {
				continue
			}
			k := 0.0
			const parts = 4 // of a pixel, each way
			for i := range parts * parts {
				p := onPrint(sheetmark.Point{X: float64(x) + (float64(i%parts)+0.5)/parts, Y: float64(y) + (float64(i/parts)+0.5)/parts})
				v := left.at(p)
				k += (v + as.shine(p.X, w, v)) / (parts * parts)
			}
			if k > 0.999 || hides(float64(x)+0.5, float64(y)+0.5) {
				continue
			}
			at := out.PixOffset(x, y)
			c := out.Pix[at : at+3]
			if tint := tintOf(c); math.Abs(tint[0]-paperTint[0]) > 0.3 || math.Abs(tint[1]-paperTint[1]) > 0.3 {
				continue
			}
			for i := range c {
				c[i] = encoded(k * colour.LightOf(c[i]))
			}
		}
	}
	return out
}

type printed struct {
	w, h int
	v    []float64
	ink  []int // how many pixels are not white above and left of each, (w+1) x (h+1)
}

func reflectances(print image.Image, as Printing) printed {
	b := print.Bounds()
	p := printed{b.Dx(), b.Dy(), make([]float64, b.Dx()*b.Dy()), make([]int, (b.Dx()+1)*(b.Dy()+1))}
	for y := range p.h {
		for x := range p.w {
			r, _, _, _ := print.At(b.Min.X+x, b.Min.Y+y).RGBA()
			p.v[y*p.w+x] = as.leaves(uint8(r >> 8))
			n := 0
			if r < 0xffff {
				n = 1
			}
			s := p.w + 1
			p.ink[(y+1)*s+x+1] = n + p.ink[(y+1)*s+x] + p.ink[y*s+x+1] - p.ink[y*s+x]
		}
	}
	return p
}

// blankAbout says whether there is no ink within some pixels of a place.
func (p printed) blankAbout(q sheetmark.Point) bool {
	const reach = 5
	at := func(v float64, top int) int { return min(max(int(v), 0), top) }
	x0, x1, y0, y1 := at(q.X-reach, p.w), at(q.X+reach, p.w), at(q.Y-reach, p.h), at(q.Y+reach, p.h)
	s := p.w + 1
	return p.ink[y1*s+x1]-p.ink[y0*s+x1]-p.ink[y1*s+x0]+p.ink[y0*s+x0] == 0
}

func (p printed) at(q sheetmark.Point) float64 {
	x, y := int(math.Floor(q.X)), int(math.Floor(q.Y))
	if x < 0 || y < 0 || x >= p.w || y >= p.h {
		return 1
	}
	return p.v[y*p.w+x]
}

// hides tells whether a pixel shows the jar or its lid, by the truth.
func (t *Truth) hides(photo TruthPhoto) func(x, y float64) bool {
	f := photo.Frame(t.WaterHeightMM)
	top, low := f.At(0, (t.Jar.TotalHeightMM+4)/t.WaterHeightMM), f.At(0, -0.2)
	return func(x, y float64) bool {
		if y < top.Y-math.Abs(f.BowWater)-4 || y > low.Y {
			return false
		}
		h := f.HeightOfRow(y)
		l, r := f.At(-1.09, h), f.At(1.09, h)
		return x > l.X && x < r.X
	}
}

// medianTint is the median tint about the middles of the sheet's sides.
func medianTint(pic *image.RGBA, photo TruthPhoto) [2]float64 {
	var seen [2][]float64
	c := photo.Rows.SheetCorners
	for i := range 40 {
		t := 0.1 + 0.8*float64(i)/39
		for _, u := range []float64{0.1, 0.9} {
			x := (1-t)*((1-u)*c[0][0]+u*c[1][0]) + t*((1-u)*c[3][0]+u*c[2][0])
			y := (1-t)*((1-u)*c[0][1]+u*c[1][1]) + t*((1-u)*c[3][1]+u*c[2][1])
			if image.Pt(int(x), int(y)).In(pic.Rect) {
				tint := tintOf(pic.Pix[pic.PixOffset(int(x), int(y)):])
				seen[0], seen[1] = append(seen[0], tint[0]), append(seen[1], tint[1])
			}
		}
	}
	var m [2]float64
	for k := range seen {
		if slices.Sort(seen[k]); len(seen[k]) > 0 {
			m[k] = seen[k][len(seen[k])/2]
		}
	}
	return m
}

func tintOf(c []uint8) [2]float64 {
	r, g, b := colour.LightOf(c[0])+0.004, colour.LightOf(c[1])+0.004, colour.LightOf(c[2])+0.004
	return [2]float64{math.Log(r / g), math.Log(b / g)}
}

func encoded(light float64) uint8 { return uint8(math.Min(colour.Level(light)+0.5, 255)) }

// LaidPhoto is the photo's file with the sheet printed on and then changed by spoil, if
// that is not nil; what the file tells beside the picture stays.
func (t *Truth) LaidPhoto(photo TruthPhoto, print image.Image, paper sheetmark.Paper, spoil func(*image.RGBA) *image.RGBA) ([]byte, error) {
	return t.LaidPhotoAs(photo, print, paper, Printing{}, spoil)
}

// LaidPhotoAs is LaidPhoto by LayAs.
func (t *Truth) LaidPhotoAs(photo TruthPhoto, print image.Image, paper sheetmark.Paper, as Printing, spoil func(*image.RGBA) *image.RGBA) ([]byte, error) {
	data, err := os.ReadFile(filepath.Join(t.Dir, photo.File))
	if err != nil {
		return nil, err
	}
	return Changed(data, func(pic *image.RGBA) *image.RGBA {
		pic = t.LayAs(photo, pic, print, paper, as)
		if spoil != nil {
			pic = spoil(pic)
		}
		return pic
	}, 88)
}

// Changed is a JPEG file whose picture was changed, where change is not nil, and saved
// anew; what the file tells beside the picture stays.
func Changed(data []byte, change func(*image.RGBA) *image.RGBA, quality int) ([]byte, error) {
	img, err := jpeg.Decode(bytes.NewReader(data))
	if err != nil {
		return nil, err
	}
	pic := image.NewRGBA(img.Bounds())
	draw.Draw(pic, pic.Rect, img, image.Point{}, draw.Src)
	if change != nil {
		pic = change(pic)
	}
	var b bytes.Buffer
	if err := jpeg.Encode(&b, pic, &jpeg.Options{Quality: quality}); err != nil {
		return nil, err
	}
	return withEXIF(data, b.Bytes()), nil
}

// withEXIF puts the EXIF segment of one JPEG file into another.
func withEXIF(from, to []byte) []byte {
	for at := 2; at+4 < len(from) && from[at] == 0xff; {
		n := 2 + int(from[at+2])<<8 + int(from[at+3])
		if from[at+1] == 0xe1 && at+n <= len(from) {
			return slices.Concat(to[:2], from[at:at+n], to[2:])
		}
		at += n
	}
	return to
}
