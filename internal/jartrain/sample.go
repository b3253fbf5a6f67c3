package main

import (
	"image"
	"math"
	"math/rand/v2"

	lib "github.com/disintegration/imaging"

	"mudline/imaging"
	"mudline/imaging/jarfind"
	"mudline/imaging/jarnet"
)

// sample is a patch with what the network should say of it.
type sample struct {
	patch  *jarnet.Patch
	jar    bool
	off    [3]float64 // of left, right and floor, in half widths
	water  float64    // height of the water's surface over the place's floor, in half widths
	weight float64    // of jar or not
}

// empty is an ordinary picture with what the finder proposes there.
type empty struct {
	pic    *image.RGBA
	places []jarfind.Stance
}

// farOff is how far sides and floor may be off and a place still count as the
// jar's, in half widths.
const farOff = 0.5

// draw makes the samples of one random picture.
func (m *maker) draw(r *rand.Rand) []*sample {
	switch n := r.IntN(10); {
	case n < 3 && len(m.empties) > 0:
		return m.fromEmpty(r)
	case n == 3:
		return m.turned(r)
	}
	return m.fromScene(r)
}

func (m *maker) fromScene(r *rand.Rand) []*sample {
	s := m.scene(r)
	var places []jarfind.Stance
	for _, size := range [...]float64{0.01, 0.02, 0.03, 0.06, 0.06, 0.06, 0.15, 0.15, 0.3} {
		places = append(places, tilted(r, s.place.Moved(size*clampNorm(r), size*clampNorm(r), size*clampNorm(r))))
	}
	places = append(places, wrongPlaces(r, s)...)
	return label(s.pic, places, s)
}

// tilted leans a place a little more or less.
func tilted(r *rand.Rand, p jarfind.Stance) jarfind.Stance {
	p.Lean += 0.012 * clampNorm(r)
	return p
}

// wrongPlaces lists places in a scene that are not the jar's.
func wrongPlaces(r *rand.Rand, s *scene) []jarfind.Stance {
	p := s.place
	one := func() jarfind.Stance {
		switch r.IntN(5) {
		case 0: // a layer or the water line taken for the floor
			return p.Moved(0.03*clampNorm(r), 0.03*clampNorm(r), -(0.6 + 2*r.Float64()))
		case 1: // beside the jar
			d := 2 + 0.5*clampNorm(r)
			if r.IntN(2) == 0 {
				d = -d
			}
			return p.Moved(d+0.1*clampNorm(r), d+0.1*clampNorm(r), 0.4*clampNorm(r))
		case 2: // half of it
			if r.IntN(2) == 0 {
				return p.Moved(0.9+0.1*clampNorm(r), 0.1*clampNorm(r), 0.2*clampNorm(r))
			}
			return p.Moved(0.1*clampNorm(r), -0.9+0.1*clampNorm(r), 0.2*clampNorm(r))
		case 3: // twice as wide
			return p.Moved(-0.8*r.Float64()-0.3, 0.8*r.Float64()+0.3, 0.4*clampNorm(r))
		}
		return anywhere(r, s.pic)
	}
	return []jarfind.Stance{one(), one(), one(), one(), one()}
}

// anywhere is a random place in a picture.
func anywhere(r *rand.Rand, pic *image.RGBA) jarfind.Stance {
	w, h := float64(pic.Rect.Dx()), float64(pic.Rect.Dy())
	half := math.Max(w, h) * (0.07 + 0.2*r.Float64())
	return jarfind.Stance{Foot: imaging.Point{X: w * r.Float64(), Y: h * (0.3 + 0.7*r.Float64())}, Half: half, Lean: 0.02 * clampNorm(r)}
}

// label cuts out places and says what they are beside the true one.
func label(pic *image.RGBA, places []jarfind.Stance, truth *scene) []*sample {
	out := make([]*sample, len(places))
	for i, patch := range jarfind.Patches(pic, places) {
		s := &sample{patch: patch, weight: 1}
		if truth != nil {
			l, rr, f := places[i].Off(truth.place)
			s.off = [3]float64{l, rr, f}
			at := truth.place.At(0, truth.water)
			_, s.water = placeOf(places[i], at.X, at.Y)
			far := math.Max(math.Abs(l), math.Max(math.Abs(rr), math.Abs(f)))
			s.jar = far < farOff
			if !s.jar && far < 1.2*farOff {
				s.weight = 0 // neither
			}
		}
		out[i] = s
	}
	return out
}

// turned is a scene upside down or on its side: no upright jar.
func (m *maker) turned(r *rand.Rand) []*sample {
	s := m.scene(r)
	var pic *image.RGBA
	w, h := float64(s.pic.Rect.Dx()), float64(s.pic.Rect.Dy())
	long := s.top * s.place.Half
	top := s.place.At(0, s.top)
	var p jarfind.Stance
	switch r.IntN(3) {
	case 0:
		pic = rgba(lib.Rotate180(s.pic))
		p = jarfind.Stance{Foot: imaging.Point{X: w - top.X, Y: h - top.Y}, Half: s.place.Half, Lean: s.place.Lean}
	case 1: // to the left: x' = y, y' = w - x
		pic = rgba(lib.Rotate90(s.pic))
		p = jarfind.Stance{Foot: imaging.Point{X: (s.place.Foot.Y + top.Y) / 2, Y: w - (s.place.Foot.X - s.place.Half)}, Half: long / 2}
	default:
		pic = rgba(lib.Rotate270(s.pic))
		p = jarfind.Stance{Foot: imaging.Point{X: h - (s.place.Foot.Y+top.Y)/2, Y: s.place.Foot.X + s.place.Half}, Half: long / 2}
	}
	places := []jarfind.Stance{anywhere(r, pic)}
	for range 4 {
		places = append(places, tilted(r, p.Moved(0.2*clampNorm(r), 0.2*clampNorm(r), 0.3*clampNorm(r))))
	}
	return label(pic, places, nil)
}

func rgba(n *image.NRGBA) *image.RGBA { return &image.RGBA{Pix: n.Pix, Stride: n.Stride, Rect: n.Rect} }

// fromEmpty takes what the finder proposes in a picture without a jar.
func (m *maker) fromEmpty(r *rand.Rand) []*sample {
	e := pick(r, m.empties)
	pic := image.NewRGBA(e.pic.Rect)
	copy(pic.Pix, e.pic.Pix)
	spoilPicture(r, pic)
	var places []jarfind.Stance
	for range 9 {
		p := anywhere(r, pic)
		if len(e.places) > 0 && r.IntN(6) > 0 {
			p = pick(r, e.places)
		}
		places = append(places, tilted(r, p.Moved(0.06*clampNorm(r), 0.06*clampNorm(r), 0.1*clampNorm(r))))
	}
	out := label(pic, places, nil)
	return append(out, label(pic, m.temptations(places, out), nil)...)
}

// temptations are the places to which the network would move those that look most
// like a jar to it: what it will be asked about next.
func (m *maker) temptations(places []jarfind.Stance, seen []*sample) []jarfind.Stance {
	if m.net == nil {
		return nil
	}
	var out []jarfind.Stance
	for i, s := range seen[:min(len(seen), 5)] {
		if v := m.net.Judge(s.patch); v.LogOdds > hopeless {
			if l, r, f := v.Offsets(); r-l > -1.2 {
				out = append(out, places[i].Moved(l, r, f))
			}
		}
	}
	return out
}

// hopeless are log odds below which the finder does not look again.
const hopeless = -4

// emptiesOf looks for proposals in ordinary pictures, whole and cut to portrait.
func emptiesOf(pics []*image.RGBA, each int) []empty {
	var out []empty
	for i, pic := range pics {
		r := rand.New(rand.NewPCG(1, uint64(i)))
		cuts := []*image.RGBA{pic}
		for range each {
			cuts = append(cuts, cropTo(r, pic, 300, 400))
		}
		for _, c := range cuts {
			places := jarfind.Proposals(c, 0)
			out = append(out, empty{c, places[:min(len(places), 12)]})
		}
	}
	return out
}
