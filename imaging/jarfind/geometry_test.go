package jarfind

import (
	"image"
	"image/color"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"mudline/imaging"
)

// Places on a stance and their pixels are one another's, and a stance moved is off by just
// so much (to the second order in its lean).
func TestStancesComeBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := func(name string, lo, hi float64) float64 { return rapid.Float64Range(lo, hi).Draw(t, name) }
		s := Stance{Foot: imaging.Point{X: f("x", 100, 500), Y: f("y", 300, 700)}, Half: f("half", 40, 160), Lean: f("lean", -0.06, 0.06)}
		u, v := f("u", -1.5, 1.5), f("v", -0.5, 5)
		gu, gv := s.placeOf(s.At(u, v))
		assert.InDelta(t, u, gu, 1e-9)
		assert.InDelta(t, v, gv, 1e-9)
		// Upright, u half widths to the right is that, and v above is higher in the picture.
		level := s
		level.Lean = 0
		p := level.At(u, v)
		assert.InDelta(t, s.Foot.X+u*s.Half, p.X, 1e-9)
		assert.InDelta(t, s.Foot.Y-v*s.Half, p.Y, 1e-9)

		l, r, d := f("left", -0.2, 0.2), f("right", -0.2, 0.2), f("floor", -0.3, 0.3)
		ml, mr, md := level.Off(level.Moved(l, r, d))
		assert.InDelta(t, l, ml, 1e-9)
		assert.InDelta(t, r, mr, 1e-9)
		assert.InDelta(t, d, md, 1e-9)
		ml, mr, _ = s.Off(s.Moved(l, r, d))
		assert.InDelta(t, l, ml, 0.03)
		assert.InDelta(t, r, mr, 0.03)
		l, r, d = s.Off(s)
		assert.InDelta(t, 0, l, 1e-9)
		assert.InDelta(t, 0, r, 1e-9)
		assert.InDelta(t, 0, d, 1e-9)
	})
}

// Sides that were traced without convergence get that of the pinhole camera.
func TestSidesConvergeAsAPinholeShowsThem(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := anyPinhole(t)
		s := c.stand()
		v := spot{stand: s}
		v.left.Slope, v.right.Slope = 0, 0
		v.converge()
		assert.InDelta(t, s.left.Slope, v.left.Slope, 0.004+0.16*math.Abs(s.left.Slope))
		assert.InDelta(t, s.right.Slope, v.right.Slope, 0.004+0.16*math.Abs(s.right.Slope))
		v = spot{stand: s}
		v.left.Slope += 0.02
		v.right.Slope += 0.02
		v.converge()
		assert.InDelta(t, 0.02, (v.left.Slope+v.right.Slope)/2, 1e-9, "a lean stays")
	})
}

// The eye level by the bow of the floor comes back from a bow that was made by one, drawn
// to the usual one by their variances: 25 to 121 of a mean of both.
func TestEyeLevel(t *testing.T) {
	const height = 1600.0
	s := stand{left: sideLine{X: 500, Y: 1200}, right: sideLine{X: 700, Y: 1200}, focal: 1500, middle: 800, floor: floorLine{Y: 1200}}
	for _, horizon := range []float64{300, 0.45 * height, 1000} {
		s.horizon = horizon
		s.floor.Bow = s.bow(1200)
		assert.InDelta(t, (121*horizon+25*0.45*height)/146, eyeLevel(s, height), 1e-6)
	}
}

// The top of a parabola, exactly; none in a valley, and never further than half a step.
func TestParabolaPeak(t *testing.T) {
	for _, at := range []float64{-0.5, -0.2, 0, 0.35} {
		v := func(x float64) float64 { return 7 - 2*(x-at)*(x-at) }
		assert.InDelta(t, at, parabolaPeak(v(-1), v(0), v(1)), 1e-12)
	}
	assert.Zero(t, parabolaPeak(1, 0, 2))
	assert.Zero(t, parabolaPeak(1, 1, 1))
	assert.Equal(t, 0.5, parabolaPeak(0, 3, 5.9))
	assert.Equal(t, []int{5, 1, 7}, peaks([]float64{0, 4, 1, 1.5, 2, 9, 0, 3, 0}))
	assert.Equal(t, []int{1}, peaks([]float64{0, 10, 0, 1, 0}), "too weak beside the strongest")
}

// The mean of the weaker half and three more, without the two weakest, by sorting.
func TestWeakHalf(t *testing.T) {
	sum := 0
	for k := 2; k < 15; k++ {
		sum += 10 * k
	}
	for _, by := range []int{1, 2, 3, 7, 9, 11, 13, 18, 24} {
		v := make([]uint8, 25)
		for i := range v {
			v[i] = uint8((i*by + by) % 25 * 10) // 0, 10 ... 240 in some order
		}
		assert.InDelta(t, float64(sum)/(255*13), weakHalf(v), 1e-12, "%d", by)
	}
}

// Where no row of a body is in the picture, nothing speaks for it.
func TestBodyOutsideThePicture(t *testing.T) {
	th := newThumb(grain(40, 40), 1, 300)
	c := candidate{xl: 10, xr: 30, top: 5, bottom: 30}
	for _, foot := range []float64{-5, 90} {
		side, uneven := bodyEvidence(th, sideEdges(th), c, foot)
		assert.Zero(t, side)
		assert.Equal(t, 1.0, uneven)
	}
}

// Means of boxes with fractions of pixels are those of the areas that they cover.
func TestBoxMeansByArea(t *testing.T) {
	th := newThumb(grain(37, 29), 1, 300)
	want := func(k int, x0, y0, x1, y1 float64) float64 {
		sum, area := 0.0, 0.0
		for y := range th.h {
			for x := range th.w {
				a := max(0, min(x1, float64(x+1))-max(x0, float64(x))) * max(0, min(y1, float64(y+1))-max(y0, float64(y)))
				sum, area = sum+a*float64(th.lab[k][y*th.w+x]), area+a
			}
		}
		return sum / area
	}
	for _, b := range [][4]float64{{3, 4, 9, 11}, {0.3, 0.6, 5.5, 7.25}, {10.2, 3.1, 12.9, 4.3}, {30, 20, 50, 40}, {-4, -3, 2.5, 1.5}} {
		got := th.box(b[0], b[1], b[2], b[3])
		for k := range 3 {
			assert.InDelta(t, want(k, b[0], b[1], b[2], b[3]), got[k], 1e-2, "%v", b)
		}
	}
	small := th.box(5.2, 6.4, 5.4, 6.5) // less than a pixel: a pixel's worth about its middle
	for k := range 3 {
		assert.InDelta(t, want(k, 4.8, 5.95, 5.8, 6.95), small[k], 1e-2)
	}
	whole := th.mean(3, 4, 9, 11)
	for k := range 3 {
		assert.InDelta(t, want(k, 3, 4, 9, 11), whole[k], 1e-2)
	}
}

// drawn is a grey picture by the place of the middle of each pixel.
func drawn(w, h int, of func(x, y float64) float64) *image.RGBA {
	pic := image.NewRGBA(image.Rect(0, 0, w, h))
	for y := range h {
		for x := range w {
			v := uint8(math.Round(of(float64(x)+0.5, float64(y)+0.5)))
			pic.SetRGBA(x, y, color.RGBA{v, v, v, 255})
		}
	}
	return pic
}

// glass is a dark jar before a light wall: sides that lean, a foot that hangs by bow below
// its ends, straight up to the top of the picture.
func glass(cx, half, lean, footY, bow float64) *image.RGBA {
	return drawn(400, 560, func(x, y float64) float64 {
		u := (x - cx - lean*(y-footY)) / half
		if math.Abs(u) > 1 || y > footY-bow*(1-math.Sqrt(1-u*u))-lean*u*half {
			return 200
		}
		return 120
	})
}

// The sides and the foot of a drawn glass are traced where they were drawn.
func TestTracedWhereDrawn(t *testing.T) {
	for _, c := range []struct{ cx, half, lean, footY, bow float64 }{{200, 90, 0, 450, 25}, {210, 110, 0.02, 470, 40}, {180, 80, -0.015, 430, 20}} {
		rf := newRelief(glass(c.cx, c.half, c.lean, c.footY, c.bow), 1)
		at := func(sign float64) sideLine {
			found := fitSides(rf, sideLine{X: c.cx + sign*c.half + 4, Y: 350}, 250, 420, 12)
			require.NotEmpty(t, found)
			l := found[0]
			assert.InDelta(t, c.cx+sign*c.half+c.lean*(335-c.footY), l.at(335), 1, "%+v", c)
			assert.InDelta(t, c.lean, l.Slope, 0.009, "%+v", c)
			assert.Greater(t, l.strength, 0.5)
			return l
		}
		l, r := at(-1), at(1)
		foot := settleArc(rf, l, r, seekArc(rf, l, r, c.footY-12, c.footY+12))
		assert.InDelta(t, c.footY, foot.Y, 2, "%+v", c)
		assert.InDelta(t, c.bow, foot.Bow, 4, "%+v", c)
		assert.Greater(t, foot.strength, 0.6)

		// What speaks for this outline against others of the same picture.
		o := outline{left: l, right: r, foot: foot}
		th := newThumb(glass(c.cx, c.half, c.lean, c.footY, c.bow), 1, thumbSide)
		here := traitsOf(rf, th, o, 600)
		layer := o
		layer.foot.Y -= 60
		layer.foot.strength = arcStrength(rf, l, r, layer.foot.Y, layer.foot.Bow)
		higher := traitsOf(rf, th, layer, 600)
		assert.Greater(t, here[traitFoot], higher[traitFoot]+1)
		assert.Greater(t, here[traitFootMean], higher[traitFootMean]+1)
		assert.Less(t, here[traitBelow], 0.4)
		assert.Greater(t, higher[traitBelow], 0.8, "sides that go on under it")
		inner := o
		inner.left.X, inner.left.strength = inner.left.X+30, 0.05
		narrow := traitsOf(rf, th, inner, 600)
		assert.Less(t, narrow[traitSides], here[traitSides])
		assert.Less(t, narrow[traitWeakSide], here[traitWeakSide]-1)
		assert.Less(t, narrow[traitOutside], here[traitOutside]-0.2)
		assert.Less(t, narrow[traitWidth], here[traitWidth])
		assert.Zero(t, here[traitOffCentre])
		assert.Zero(t, here[traitNarrow])
		assert.Zero(t, here[traitFlat], "seen from above")
		slim := o
		slim.right.X = slim.left.X + 0.12*560
		assert.InDelta(t, 0.10, traitsOf(rf, th, slim, 600)[traitNarrow], 0.02, "0.12 of the picture's longer side, beside 0.22")
		aside := o
		aside.left.X, aside.right.X = aside.left.X-100, aside.right.X-100
		assert.InDelta(t, math.Abs((c.cx-100)/400-0.5)-0.12, traitsOf(rf, th, aside, 600)[traitOffCentre], 0.02)
		flat := o
		flat.foot.Bow = 0
		assert.InDelta(t, 0.17, traitsOf(rf, th, flat, 600)[traitFlat], 1e-9)
	}
}

// The width of a drawn glass against its frame, height by height, and its taper.
func TestSilhouetteOfADrawnGlass(t *testing.T) {
	for _, taper := range []float64{0, 0.1, -0.15} {
		f := imaging.Frame{Floor: imaging.Point{X: 200, Y: 500}, Water: imaging.Point{X: 200, Y: 100}, HalfWidthFloor: 100, HalfWidthWater: 100}
		pic := drawn(400, 560, func(x, y float64) float64 {
			if math.Abs(x-200) < 100*(1+taper*((500-y)/400-0.5)) {
				return 110
			}
			return 190
		})
		s := Silhouette(pic, f)
		for i, h := range SilhouetteHeights {
			assert.InDelta(t, 1+taper*(h-0.5), s[i], 0.012, "taper %g at %g", taper, h)
		}
		s[3] = math.NaN()
		s[7] += 0.1 // something beside the glass
		got, ok := Taper([][]float64{s})
		require.True(t, ok)
		assert.InDelta(t, taper, got, 0.02)
	}
	for _, v := range Silhouette(drawn(400, 560, func(_, _ float64) float64 { return 150 }), imaging.Frame{Floor: imaging.Point{X: 200, Y: 500}, Water: imaging.Point{X: 200, Y: 100}, HalfWidthFloor: 100, HalfWidthWater: 100}) {
		assert.True(t, math.IsNaN(v), "nothing shows")
	}
	_, ok := Taper([][]float64{{1, math.NaN(), math.NaN(), 1, 1, math.NaN()}})
	assert.False(t, ok)
}

// Lines drawn round a glass at known heights are found at their rows, to half a row, and no
// other line is; a line across half the width is none.
func TestLinesRoundADrawnGlass(t *testing.T) {
	s := stand{left: sideLine{X: 100, Y: 450}, right: sideLine{X: 300, Y: 450}, floor: floorLine{Y: 450, Bow: 20}, focal: 600, horizon: 150, middle: 280}
	rows := []float64{340.5, 250.25, 180.75}
	paint := func(half bool) *relief {
		return newRelief(drawn(400, 560, func(x, y float64) float64 {
			u := (x - 200) / 100
			if math.Abs(u) > 1 {
				return 200
			}
			v := 90.0
			for _, row := range append(rows, 354) { // the last is just lower than water may stand
				if y < row-s.bow(row)*(1-math.Sqrt(1-u*u)) && !(half && u > 0) {
					v += 30
				}
			}
			return v
		}), 1)
	}
	marks := waterMarks(paint(false), s)
	require.Len(t, marks, len(rows))
	for _, row := range rows {
		best := math.Inf(1)
		for _, m := range marks {
			best = min(best, math.Abs(m.Y-row))
			assert.InDelta(t, s.ratio(m.Y), m.Ratio, 1e-9)
			assert.Greater(t, m.strength, 0.4)
		}
		assert.LessOrEqual(t, best, 0.75, "row %g", row)
	}
	assert.Empty(t, waterMarks(paint(true), s))
	high := s
	high.floor.Y = 20
	assert.Empty(t, waterMarks(paint(false), high), "above the picture")
}

// Places are looked at once: one is as another where both sides and the floor are within a
// little of it.
func TestPlacesAlike(t *testing.T) {
	p := Stance{Foot: imaging.Point{X: 200, Y: 400}, Half: 100}
	for _, c := range []struct {
		l, r, f float64
		near    bool
	}{{0, 0, 0, true}, {0.9, 0, 0, true}, {0, -0.9, 0, true}, {0, 0, 1.9, true}, {1.1, 0, 0, false}, {0, 1.1, 0, false}, {0, 0, 2.1, false}, {-1.1, -1.1, 0, false}} {
		o := p.Moved(c.l*sameSides, c.r*sameSides, c.f*sameSides)
		assert.Equal(t, c.near, nearAny(o, []Stance{{Foot: imaging.Point{X: 900, Y: 400}, Half: 100}, p}), "%+v", c)
	}
	assert.False(t, nearAny(p, nil))
}
