package main

import (
	"image"
	"math"
	"math/rand/v2"
)

// things draws upright objects behind, beside and before the jar: rulers, tape,
// labels, poles, books, cups.
func (m *maker) things(r *rand.Rand, s *scene) {
	if r.IntN(3) == 0 {
		return
	}
	for range 1 + r.IntN(3) {
		front := r.IntN(2) == 0
		width := math.Exp(math.Log(0.06) + r.Float64()*math.Log(10))
		u := clampNorm(r) * 1.2
		if r.IntN(2) == 0 { // near an edge of the glass
			u = 1 + 0.35*r.NormFloat64()
			if r.IntN(2) == 0 {
				u = -u
			}
		}
		low, high := -0.2+0.4*r.NormFloat64(), 0.6+4*r.Float64()
		if front {
			if math.Abs(u)-width/2 < 0.4 && width > 0.5 {
				width = 0.5 // it must not hide the jar
			}
			if r.IntN(2) == 0 { // a label or tape: short
				low = 3 * r.Float64()
				high = low + 0.2 + r.Float64()
			}
		}
		drawBar(r, s, u-width/2, u+width/2, low, high, front)
	}
}

// drawBar draws an upright bar in the jar's coordinates, before or behind it.
func drawBar(r *rand.Rand, s *scene, u0, u1, v0, v1 float64, front bool) {
	c := randomColour(r)
	base := [3]float64{float64(c.R), float64(c.G), float64(c.B)}
	round := 0.0
	if r.IntN(2) == 0 {
		round = 0.6 * r.Float64()
	}
	ticks, dark := 0.0, 0.3+0.5*r.Float64()
	if r.IntN(3) == 0 {
		ticks = 0.05 + 0.2*r.Float64()
	}
	slant := 0.03 * r.NormFloat64()
	see := 1.0
	if r.IntN(4) == 0 {
		see = 0.3 + 0.6*r.Float64()
	}
	w, h := s.pic.Rect.Dx(), s.pic.Rect.Dy()
	for y := range h {
		for x := range w {
			u, v := placeOf(s.place, float64(x)+0.5, float64(y)+0.5)
			u -= slant * v
			if u < u0 || u > u1 || v < v0 || v > v1 {
				continue
			}
			t := (u - u0) / (u1 - u0)
			shade := 1 - round*math.Abs(2*t-1)
			if ticks > 0 && t < 0.4 && math.Mod(v+9, ticks) < 0.25*ticks {
				shade *= dark
			}
			a := see
			if !front {
				a *= float64(1 - s.alpha[y*w+x])
			}
			i := y*s.pic.Stride + 4*x
			for ch := range 3 {
				p := float64(s.pic.Pix[i+ch])
				s.pic.Pix[i+ch] = uint8(math.Max(0, math.Min(255, p+a*(base[ch]*shade-p))))
			}
		}
	}
}

// spoil changes light, colour, sharpness and noise of a scene.
func spoil(r *rand.Rand, s *scene) {
	w := s.pic.Rect.Dx()
	if r.IntN(2) == 0 { // soils of other colours
		tint := [3]float64{}
		for ch := range tint {
			tint[ch] = math.Exp(0.25 * clampNorm(r))
		}
		for i, a := range s.alpha {
			for ch := range 3 {
				p := &s.pic.Pix[i/w*s.pic.Stride+i%w*4+ch]
				*p = uint8(math.Min(255, float64(*p)*(1+float64(a)*(tint[ch]-1))))
			}
		}
	}
	if r.IntN(4) == 0 {
		shadow(r, s)
	}
	spoilPicture(r, s.pic)
}

// shadow darkens one side of a slanting line.
func shadow(r *rand.Rand, s *scene) {
	w, h := float64(s.pic.Rect.Dx()), float64(s.pic.Rect.Dy())
	sin, cos := math.Sincos(2 * math.Pi * r.Float64())
	x0, y0 := w*r.Float64(), h*r.Float64()
	dark, soft := 0.3+0.5*r.Float64(), 1+15*r.Float64()*r.Float64()
	for y := range int(h) {
		for x := range int(w) {
			d := (cos*(float64(x)-x0) + sin*(float64(y)-y0)) / soft
			f := dark + (1-dark)/(1+math.Exp(-d))
			i := y*s.pic.Stride + 4*x
			for ch := range 3 {
				s.pic.Pix[i+ch] = uint8(float64(s.pic.Pix[i+ch]) * f)
			}
		}
	}
}

// spoilPicture changes light, contrast, colour, sharpness and noise.
func spoilPicture(r *rand.Rand, pic *image.RGBA) {
	for range r.IntN(3) {
		blur(pic)
	}
	var table [3][256]uint8
	gain, gamma, lift := math.Exp(0.3*clampNorm(r)), math.Exp(0.2*clampNorm(r)), 20*math.Max(0, clampNorm(r)-0.8)
	for ch := range table {
		g := gain * math.Exp(0.08*clampNorm(r))
		for i := range table[ch] {
			v := 255*math.Pow(float64(i)/255, gamma)*g*(1-lift/255) + lift
			table[ch][i] = uint8(math.Max(0, math.Min(255, v)))
		}
	}
	grey := math.Max(0, math.Min(1, 0.3*clampNorm(r)))
	noise := 0.0
	if r.IntN(2) == 0 {
		noise = 8 * r.Float64()
	}
	for i := 0; i+3 < len(pic.Pix); i += 4 {
		p := pic.Pix[i : i+3]
		mean := (float64(p[0]) + float64(p[1]) + float64(p[2])) / 3
		for ch := range p {
			v := float64(p[ch]) + grey*(mean-float64(p[ch]))
			v = float64(table[ch][uint8(v)])
			if noise > 0 {
				v += noise * (r.Float64() + r.Float64() + r.Float64() - 1.5) * 2
			}
			p[ch] = uint8(math.Max(0, math.Min(255, v)))
		}
	}
}

// blur averages a picture over three pixels each way.
func blur(pic *image.RGBA) {
	w, h := pic.Rect.Dx(), pic.Rect.Dy()
	out := make([]uint8, len(pic.Pix))
	copy(out, pic.Pix)
	for y := 1; y < h-1; y++ {
		for x := 1; x < w-1; x++ {
			for ch := range 3 {
				i := y*pic.Stride + 4*x + ch
				sum := 0
				for _, d := range [...]int{-pic.Stride, 0, pic.Stride} {
					sum += int(pic.Pix[i+d-4]) + int(pic.Pix[i+d]) + int(pic.Pix[i+d+4])
				}
				out[i] = uint8((sum + 4) / 9)
			}
		}
	}
	copy(pic.Pix, out)
}
