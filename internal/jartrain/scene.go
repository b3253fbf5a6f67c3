package main

import (
	"image"
	"image/color"
	"math"
	"math/rand/v2"

	"mudline/imaging"
	"mudline/imaging/jarfind"
	"mudline/imaging/jarnet"
)

// scene is a picture made from a base: another view, light, background, things
// about the jar.
type scene struct {
	pic   *image.RGBA
	alpha []float32 // of the jar
	place jarfind.Stance
	top   float64
	water float64 // height of the water's surface, in half widths
}

// maker makes scenes and samples from what was loaded.
type maker struct {
	bases    []*base
	pictures []*image.RGBA // ordinary ones, as backgrounds
	textures []*image.RGBA
	empties  []empty     // ordinary ones with what the finder proposes there
	net      *jarnet.Net // as far as it is fitted; nil before
}

// scene makes a random one.
func (m *maker) scene(r *rand.Rand) *scene {
	b := pick(r, m.bases)
	w, h := 300, 400
	switch r.IntN(6) {
	case 0:
		w, h = 400, 300
	case 1:
		w, h = 340, 400
	case 2:
		w, h = 225, 400
	}
	s := &scene{pic: image.NewRGBA(image.Rect(0, 0, w, h)), alpha: make([]float32, w*h), top: b.top, water: b.water}
	mirror := r.IntN(2) == 0
	// Where the jar goes: half width, foot, turn.
	half := math.Exp(math.Log(0.085)+r.Float64()*math.Log(0.27/0.085)) * 400
	half = math.Min(half, 0.46*float64(w))
	tall := math.Min(b.top, 3.3)
	foot := imaging.Point{X: float64(w) * (0.5 + 0.2*clampNorm(r)), Y: 0}
	foot.Y = float64(h)*0.5 + half*tall*0.5 + float64(h)*0.12*clampNorm(r)
	foot.Y = math.Min(foot.Y, float64(h)-0.25*half)
	turn := 0.0
	if r.IntN(2) == 0 {
		turn = 0.05 * clampNorm(r)
	}
	k := b.place.Half / half
	sin, cos := math.Sincos(turn)
	bg := m.background(r, w, h)
	for y := range h {
		for x := range w {
			dx, dy := float64(x)+0.5-foot.X, float64(y)+0.5-foot.Y
			bx, by := k*(cos*dx+sin*dy), k*(-sin*dx+cos*dy)
			if mirror {
				bx = -bx
			}
			bx, by = bx+b.place.Foot.X, by+b.place.Foot.Y
			i := y*s.pic.Stride + 4*x
			a := alphaAt(b.mask, bx, by)
			s.alpha[y*w+x] = a
			outside := bx < 0 || by < 0 || bx >= float64(b.pic.Rect.Dx()) || by >= float64(b.pic.Rect.Dy())
			c := sample3(b.pic, bx, by) // beyond its rim the rim goes on
			if outside {
				s.alpha[y*w+x] = 0
			}
			if bg != nil {
				for ch := range 3 {
					c[ch] = a*c[ch] + (1-a)*float32(bg.Pix[y*bg.Stride+4*x+ch])
				}
			}
			for ch := range 3 {
				s.pic.Pix[i+ch] = uint8(c[ch] + 0.5)
			}
			s.pic.Pix[i+3] = 255
		}
	}
	lean := b.place.Lean
	if mirror {
		lean = -lean
	}
	// A turn by t moves the axis: (lean, 1) turned.
	s.place = jarfind.Stance{Foot: foot, Half: half, Lean: (cos*lean - sin) / (sin*lean + cos)}
	m.things(r, s)
	spoil(r, s)
	return s
}

// background is a random one to put behind the jar, nil for the jar's own.
func (m *maker) background(r *rand.Rand, w, h int) *image.RGBA {
	if len(m.pictures) == 0 || r.IntN(5) < 2 {
		return nil
	}
	from := func() *image.RGBA {
		if len(m.textures) > 0 && r.IntN(3) == 0 {
			return pick(r, m.textures)
		}
		return pick(r, m.pictures)
	}
	out := cropTo(r, from(), w, h)
	if r.IntN(2) == 0 { // a table under the jar
		table := cropTo(r, from(), w, h)
		y0 := int(float64(h) * (0.45 + 0.4*r.Float64()))
		copy(out.Pix[y0*out.Stride:], table.Pix[y0*out.Stride:])
	}
	if r.IntN(6) == 0 { // stripes or checks, as of a curtain
		stripes(r, out)
	}
	if r.IntN(3) == 0 {
		gain := 0.4 + 1.2*r.Float64()
		for i, v := range out.Pix {
			out.Pix[i] = uint8(math.Min(255, float64(v)*gain))
		}
	}
	return out
}

func stripes(r *rand.Rand, pic *image.RGBA) {
	width := 5 + r.Float64()*30
	share := 0.3 + 0.4*r.Float64()
	c := [3]float64{255 * r.Float64(), 255 * r.Float64(), 255 * r.Float64()}
	wave, slant := 6*r.Float64(), 0.1*clampNorm(r)
	for y := range pic.Rect.Dy() {
		for x := range pic.Rect.Dx() {
			t := (float64(x) + wave*math.Sin(float64(y)/40) + slant*float64(y)) / width
			if t-math.Floor(t) < share {
				for ch := range 3 {
					i := y*pic.Stride + 4*x + ch
					pic.Pix[i] = uint8(0.3*float64(pic.Pix[i]) + 0.7*c[ch])
				}
			}
		}
	}
}

// cropTo cuts a random part of the wanted shape out of a picture.
func cropTo(r *rand.Rand, pic *image.RGBA, w, h int) *image.RGBA {
	pw, ph := float64(pic.Rect.Dx()), float64(pic.Rect.Dy())
	k := math.Min(pw/float64(w), ph/float64(h)) * (0.4 + 0.6*r.Float64())
	x0, y0 := r.Float64()*(pw-k*float64(w)), r.Float64()*(ph-k*float64(h))
	mirror := r.IntN(2) == 0
	out := image.NewRGBA(image.Rect(0, 0, w, h))
	for y := range h {
		for x := range w {
			bx := (float64(x) + 0.5) * k
			if mirror {
				bx = k*float64(w) - bx
			}
			c := sample3(pic, x0+bx, y0+(float64(y)+0.5)*k)
			i := y*out.Stride + 4*x
			out.Pix[i], out.Pix[i+1], out.Pix[i+2], out.Pix[i+3] = uint8(c[0]), uint8(c[1]), uint8(c[2]), 255
		}
	}
	return out
}

// sample3 blends the four pixels about a place.
func sample3(pic *image.RGBA, x, y float64) (c [3]float32) {
	x, y = x-0.5, y-0.5
	w, h := pic.Rect.Dx(), pic.Rect.Dy()
	x0, y0 := int(math.Floor(x)), int(math.Floor(y))
	fx, fy := float32(x-float64(x0)), float32(y-float64(y0))
	xa, xb := min(max(x0, 0), w-1), min(max(x0+1, 0), w-1)
	ya, yb := min(max(y0, 0), h-1), min(max(y0+1, 0), h-1)
	a, b := pic.Pix[ya*pic.Stride+4*xa:], pic.Pix[ya*pic.Stride+4*xb:]
	d, e := pic.Pix[yb*pic.Stride+4*xa:], pic.Pix[yb*pic.Stride+4*xb:]
	for ch := range c {
		c[ch] = (float32(a[ch])*(1-fx)+float32(b[ch])*fx)*(1-fy) + (float32(d[ch])*(1-fx)+float32(e[ch])*fx)*fy
	}
	return c
}

func alphaAt(m *image.Alpha, x, y float64) float32 {
	xi, yi := int(x), int(y)
	if x < 0 || y < 0 || xi >= m.Rect.Dx() || yi >= m.Rect.Dy() {
		return 0
	}
	return float32(m.Pix[yi*m.Stride+xi]) / 255
}

// clampNorm is a normal number, at most two from zero.
func clampNorm(r *rand.Rand) float64 { return math.Max(-2, math.Min(2, r.NormFloat64())) }

func randomColour(r *rand.Rand) color.RGBA {
	l := 255 * r.Float64()
	mix := r.Float64() * r.Float64()
	ch := func() uint8 { return uint8(math.Max(0, math.Min(255, (1-mix)*l+mix*255*r.Float64()))) }
	return color.RGBA{ch(), ch(), ch(), 255}
}
