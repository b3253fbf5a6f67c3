package sheetmark

import "math"

// Vessel is an upright glass cylinder as a picture shows it before a sheet: the ends of
// two of its circles, at the inner floor and at the water line, and the front of both.
type Vessel struct {
	Floor, Water Rim
}

// Rim is a circle of the glass: where its left and right ends and its front are seen.
type Rim struct{ Left, Right, Front Point }

// Measured is a length in millimetres with its standard deviation.
type Measured struct{ MM, SD float64 }

// Size is what a sheet tells of a vessel that stands before it and touches it.
type Size struct {
	// Diameter is that of the glass, Depth how far the water line is above the floor,
	// both on the front of the inner wall.
	Diameter, Depth Measured
	// LeanDeg is how far the sheet leans back from the vessel's axis.
	LeanDeg float64
}

// What is taken for granted of sheet and vessel.
const (
	// A sheet leant against a book or a wall leans back by some degrees. What the
	// sides of the glass show of it counts beside that.
	usualLean, leanSD = 4.0 * math.Pi / 180, 3.0 * math.Pi / 180
	mostLean          = 25 * math.Pi / 180
	// wallMM is the glass's thickness, through which its inner face is seen nearer by
	// a third (refractive index 1.5).
	wallMM, wallSD, glassIndex = 2.5, 0.8, 1.5
	// The glass touches the sheet a little above the inner floor, where its foot is no
	// longer round, or at its top, this much of the water's depth above the floor, if
	// the sheet leans over it.
	touchMM  = 2.0
	topShare = 1.3
	// gapSD is how far the glass may stand from the sheet that it should touch.
	gapSD = 1.5
	// widthSD is of the breadth of the glass at one height, as a natural logarithm.
	widthSD = 0.012
)

// Measure gives the size of a vessel that touches the sheet; ok is false where there is
// no such vessel.
func (s *Stand) Measure(v Vessel) (size Size, ok bool) {
	sights := [2]sight{s.sightOf(v.Floor), s.sightOf(v.Water)}
	var sum, sumR, sumD, sumL, sumLL, sumDD, sumRR float64
	const step = 0.25 * math.Pi / 180
	for lean := -mostLean; lean <= mostLean; lean += step {
		r, d, unlike, solved := s.touching(sights, lean, 0)
		if !solved {
			continue
		}
		z, u := (lean-usualLean)/leanSD, unlike/(math.Sqrt2*widthSD)
		w := math.Exp(-(z*z + u*u) / 2)
		sum += w
		sumR, sumRR = sumR+w*r, sumRR+w*r*r
		sumD, sumDD = sumD+w*d, sumDD+w*d*d
		sumL, sumLL = sumL+w*lean, sumLL+w*lean*lean
	}
	if !(sum > 1e-9) {
		return size, false
	}
	r, d, lean := sumR/sum, sumD/sum, sumL/sum
	// The rest moves the answer by what a shift of the glass by gapSD does, by the
	// breadth and the focal length.
	r1, d1, _, solved := s.touching(sights, lean, gapSD)
	if !solved {
		return size, false
	}
	rf, df := s.byLongerLens(v, lean, r, d)
	varR := sumRR/sum - r*r + (r1-r)*(r1-r) + (rf-r)*(rf-r) + r*r*widthSD*widthSD/2
	varD := sumDD/sum - d*d + (d1-d)*(d1-d) + (df-d)*(df-d) + d*d*(0.003*0.003+math.Pow(wallSD/300, 2))
	size.Diameter = Measured{2 * r, 2 * math.Sqrt(math.Max(varR, 0))}
	size.Depth = Measured{d, math.Sqrt(math.Max(varD, 0))}
	size.LeanDeg = lean * 180 / math.Pi
	return size, true
}

// byLongerLens is the size if the focal length is longer by its spread and the sheet so
// much farther away that it looks the same; r and d again where there is none.
func (s *Stand) byLongerLens(v Vessel, lean, r, d float64) (rf, df float64) {
	longer := *s
	k := math.Exp(s.FocalSD)
	longer.Focal, longer.K1, longer.Foot.Z = k*s.Focal, k*k*s.K1, k*s.Foot.Z
	rf, df, _, ok := longer.touching([2]sight{longer.sightOf(v.Floor), longer.sightOf(v.Water)}, lean, 0)
	if !ok {
		return r, d
	}
	return rf, df
}

// sight is a rim as directions from the camera.
type sight struct{ left, right, front Vector }

func (s *Stand) sightOf(r Rim) sight {
	return sight{s.Ray(r.Left), s.Ray(r.Right), s.Ray(r.Front)}
}

// touching is the radius of the vessel, and how far its second rim is above its first,
// if the sheet leans back from it by lean and the glass stands gap millimetres before
// it. unlike is how much broader the glass looks at the first rim, for its distance,
// than at the second, as a logarithm: 0 for a true cylinder and the right lean.
func (s *Stand) touching(sights [2]sight, lean, gap float64) (r, depth, unlike float64, ok bool) {
	sin, cos := math.Sincos(lean)
	axis := s.Up.Times(cos).Plus(s.Out.Times(sin))
	var sines [2]float64
	var ahead Vector
	for i, g := range sights {
		l, m := level(g.left, axis), level(g.right, axis)
		between := math.Acos(math.Max(-1, math.Min(1, l.Dot(m))))
		sines[i] = math.Sin(between / 2)
		if !(sines[i] > 0.01) {
			return 0, 0, 0, false
		}
		ahead = ahead.Plus(l.Plus(m))
	}
	ahead = ahead.Unit()
	sine := math.Sqrt(sines[0] * sines[1])
	unlike = math.Log(sines[0] / sines[1])
	// above is how high the front of a rim is over the camera, along the axis.
	above := func(g sight, r float64) float64 {
		inner := r/sine - r + wallMM/glassIndex
		return inner * g.front.Dot(axis) / level0(g.front, axis).Dot(ahead)
	}
	// apart is how far the glass is before the sheet where it is nearest to it.
	apart := func(r float64) float64 {
		at := above(sights[0], r) + touchMM
		if lean < 0 {
			at += topShare * (above(sights[1], r) - above(sights[0], r))
		}
		p := ahead.Times(r / sine).Plus(axis.Times(at))
		return s.Out.Dot(p.Minus(s.Foot)) - r*cos - gap
	}
	low, high := 5.0, 150.0
	if !(apart(low) > 0 && apart(high) < 0) {
		return 0, 0, 0, false
	}
	for range 50 {
		if r = (low + high) / 2; apart(r) > 0 {
			low = r
		} else {
			high = r
		}
	}
	return r, above(sights[1], r) - above(sights[0], r), unlike, true
}

// level0 is what of a direction is across the axis, level the same with length 1.
func level0(d, axis Vector) Vector { return d.Minus(axis.Times(d.Dot(axis))) }

func level(d, axis Vector) Vector { return level0(d, axis).Unit() }
