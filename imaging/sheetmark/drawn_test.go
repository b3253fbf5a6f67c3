package sheetmark

import (
	"image"
	"image/color"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mudline/imaging/colour"
)

// print is what a drawn sheet shows: linear light of paper, ink and table, and the shares of
// the paper's light that its greys throw back.
type print struct {
	id           Identity
	paper        Paper
	name         string
	light, table [3]float64
	shares       [Greys]float64
}

var usual = print{id: 0x9d6ef, name: "plot 7", light: [3]float64{0.6, 0.55, 0.45}, table: [3]float64{0.1, 0.09, 0.07}, shares: [Greys]float64{0.55, 0.28, 0.1}}

const ink = 0.03

// share is how much of the paper's light a place on the sheet throws back.
func (p print) share() func(q Point) float64 {
	type field struct{ fields [inner * inner]bool }
	var marks [Marks]field
	for i := range marks {
		marks[i].fields = Code{p.id, p.paper, i}.Fields()
	}
	code, err := EncodeName(p.id, p.name)
	if err != nil {
		panic(err)
	}
	return func(q Point) float64 {
		for i := range marks {
			m := Mark(i)
			c, r := int(math.Floor((q.X-m.X+MarkMM/2)/MarkMM*Modules)), int(math.Floor((m.Y+MarkMM/2-q.Y)/MarkMM*Modules))
			if c < 0 || r < 0 || c >= Modules || r >= Modules {
				continue
			}
			if c == 0 || r == 0 || c == Modules-1 || r == Modules-1 || marks[i].fields[(r-1)*inner+c-1] {
				return ink
			}
			return 1
		}
		for _, g := range Patches() {
			if math.Abs(q.X-g.Mid.X) < PatchMM/2 && math.Abs(q.Y-g.Mid.Y) < PatchMM/2 {
				for k, of := range inks {
					if of == g.Ink {
						return p.shares[k]
					}
				}
			}
		}
		if x := math.Abs(q.X); x < ScaleX && x > ScaleX-4 && q.Y > ScaleLow-0.4 && q.Y < ScaleTop+0.4 && math.Abs(q.Y-10*math.Round(q.Y/10)) < 0.4 {
			return ink // a line of a scale
		}
		c, r := int(math.Floor((q.X-QRMid.X+QRMM/2)/QRMM*float64(qrFields))), int(math.Floor((QRMid.Y+QRMM/2-q.Y)/QRMM*float64(qrFields)))
		if c >= 0 && r >= 0 && c < qrFields && r < qrFields && code.Black(c, r) {
			return ink
		}
		return 1
	}
}

// drawnAs is the picture of a print that stands so, each pixel the mean of four rays.
func (p print) drawnAs(s Stand, w, h int) *image.RGBA {
	pic := image.NewRGBA(image.Rect(0, 0, w, h))
	of := p.share()
	pw, ph := p.paper.SizeMM()
	for y := range h {
		for x := range w {
			var sum [3]float64
			for k := range 4 {
				q, ok := s.On(Point{float64(x) + 0.25 + 0.5*float64(k%2), float64(y) + 0.25 + 0.5*float64(k/2)})
				light := p.table
				if ok && math.Abs(q.X) < pw/2 && q.Y > 0 && q.Y < ph {
					light = p.light
					for c := range light {
						light[c] *= of(q)
					}
				}
				for c := range sum {
					sum[c] += light[c] / 4
				}
			}
			level := func(c int) uint8 { return uint8(min(colour.Level(sum[c]), 255) + 0.5) }
			pic.SetRGBA(x, y, color.RGBA{level(0), level(1), level(2), 255})
		}
	}
	return pic
}

// flipped is the picture as a mirror shows it.
func flipped(pic *image.RGBA) *image.RGBA {
	out := image.NewRGBA(pic.Rect)
	for y := range pic.Rect.Dy() {
		for x := range pic.Rect.Dx() {
			out.SetRGBA(pic.Rect.Dx()-1-x, y, pic.RGBAAt(x, y))
		}
	}
	return out
}

// A sheet that was drawn by rays is found as it was drawn: all marks, its name, the paper's
// corners to half a pixel, the light of paper and greys; so is its mirror image. Blanked, it
// is paper, and what is not print is left alone.
func TestADrawnSheetIsFoundAsItWasDrawn(t *testing.T) {
	s := standing(0.08, 0.15, 0.05)
	s.Focal, s.Mid = 900, Point{360, 480}
	pic := usual.drawnAs(s, 720, 960)
	lens := Lens{Focal: 1.01 * s.Focal, Stated: true, Mid: s.Mid}
	found, marks := Find(pic, lens)
	require.Len(t, found, 1)
	assert.Equal(t, Marks, marks)
	f := found[0]
	assert.Equal(t, usual.id, f.Identity)
	assert.Equal(t, A4, f.Paper)
	assert.Equal(t, []int{0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11}, f.Seen)
	assert.Less(t, f.RMS, 0.3)
	for i, c := range A4.Corners() {
		want, got := s.Picture(c), f.Corners()[i]
		assert.Less(t, math.Hypot(want.X-got.X, want.Y-got.Y), 0.5, "corner %d", i)
	}
	assert.InEpsilon(t, s.DistanceMM(), f.Stand.DistanceMM(), 0.02)
	assert.InDelta(t, s.Focal, f.Stand.Focal, 3*s.Focal*max(0.005, f.Stand.FocalSD))
	name, ok := f.Name()
	assert.True(t, ok)
	assert.Equal(t, usual.name, name)

	l, ok := f.Light(pic)
	require.True(t, ok)
	for k := range 3 {
		assert.InDelta(t, usual.light[k], l.Paper[k], 0.01)
	}
	for i, want := range usual.shares {
		assert.InDelta(t, want, l.Greys[i].Share, 0.01)
		for k := range 3 {
			assert.InDelta(t, want*usual.light[k], l.Greys[i].Light[k], 0.01)
		}
	}

	blank := f.Blank(pic)
	_, marks = Find(blank, lens)
	assert.Zero(t, marks)
	for _, p := range []Point{Mark(0), Mark(7), Patches()[2].Mid, QRMid, {QRMid.X - QRMM/2 + 0.5, QRMid.Y + QRMM/2 - 0.5}, {-ScaleX + 2, 100}, {ScaleX - 2, ScaleTop}} {
		at := s.Picture(p)
		c := blank.RGBAAt(int(at.X), int(at.Y))
		for k, v := range []uint8{c.R, c.G, c.B} {
			assert.InDelta(t, colour.Level(usual.light[k]), float64(v), 4, "%v", p)
		}
	}
	for _, p := range []Point{{0, 100}, {-50, 200}, {100, 290}, {-130, 150}} {
		at := s.Picture(p)
		assert.Equal(t, pic.RGBAAt(int(at.X), int(at.Y)), blank.RGBAAt(int(at.X), int(at.Y)), "%v", p)
	}

	w := f.White(pic)
	require.NotNil(t, w)
	assert.True(t, w.Usual())
	lit := w.Relit(pic)
	at := s.Picture(Point{40, 100})
	c := lit.RGBAAt(int(at.X), int(at.Y))
	for _, v := range []uint8{c.R, c.G, c.B} {
		assert.InDelta(t, colour.Level(usualPaper), float64(v), 3, "paper is grey, and as light as is usual")
	}

	mirror, _ := Find(flipped(pic), Lens{Focal: s.Focal, Stated: true, Mid: s.Mid})
	require.Len(t, mirror, 1)
	assert.Equal(t, usual.id, mirror[0].Identity)
	assert.True(t, mirror[0].Stand.Mirror)
	for i, c := range A4.Corners() {
		want, got := s.Picture(c), mirror[0].Corners()[i]
		assert.Less(t, math.Hypot(720-want.X-got.X, want.Y-got.Y), 0.5, "corner %d", i)
	}
}

// Two marks are no sheet, and neither are marks of two sheets or a mark in the wrong place.
func TestWhatIsNoSheet(t *testing.T) {
	s := standing(0.05, -0.1, 0.04)
	s.Focal, s.Mid = 750, Point{300, 400}
	letter := usual
	letter.paper, letter.id = Letter, 77
	pic := letter.drawnAs(s, 600, 800)
	lens := Lens{Focal: s.Focal, Stated: true, Mid: s.Mid}
	found, _ := Find(pic, lens)
	require.Len(t, found, 1)
	assert.Equal(t, Letter, found[0].Paper)
	assert.Equal(t, Identity(77), found[0].Identity)
	hide := func(keep ...int) *image.RGBA {
		out := image.NewRGBA(pic.Rect)
		copy(out.Pix, pic.Pix)
		for i := range Marks {
			hidden := true
			for _, k := range keep {
				hidden = hidden && k != i
			}
			m := s.Picture(Mark(i))
			for y := -24; hidden && y <= 24; y++ {
				for x := -24; x <= 24; x++ {
					out.SetRGBA(int(m.X)+x, int(m.Y)+y, color.RGBA{180, 175, 160, 255})
				}
			}
		}
		return out
	}
	found, marks := Find(hide(1, 4, 9), lens)
	require.Len(t, found, 1)
	assert.Equal(t, []int{1, 4, 9}, found[0].Seen)
	assert.Equal(t, 3, marks)
	found, marks = Find(hide(1, 9), lens)
	assert.Empty(t, found)
	assert.Equal(t, 2, marks)
}

// A lens by the diagonal of 35 mm film (CIPA DC-008: 43.27 mm): 26 mm shows 79.5 degrees of
// it, and 50 mm 46.8 degrees (the usual figures of makers).
func TestLensOfAFile(t *testing.T) {
	for mm, degrees := range map[float64]float64{26: 79.5, 50: 46.8, 85: 28.6} {
		l := LensOf(mm, 3000, 4000)
		assert.True(t, l.Stated)
		assert.InDelta(t, degrees, 2*math.Atan(2500/l.Focal)*180/math.Pi, 0.1, "%g mm", mm)
		assert.Equal(t, Point{1500, 2000}, l.Mid)
	}
	unknown := LensOf(0, 3000, 4000)
	assert.False(t, unknown.Stated)
	assert.InDelta(t, LensOf(26, 3000, 4000).Focal, unknown.Focal, 1e-9)
	assert.Greater(t, unknown.focalSD(), LensOf(26, 3000, 4000).focalSD())
	cropped := LensOf(26, 3000, 4000)
	cropped.Cropped = true
	assert.InDelta(t, unknown.focalSD(), cropped.focalSD(), 1e-12, "what the file tells is of the whole picture")
	assert.InDelta(t, croppedSD*5000, cropped.axisSD(), 1e-9)
}
