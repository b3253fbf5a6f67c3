package layers

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The vertex of a parabola is found exactly from three of its points (Simpson's parabola,
// any numerical analysis); what has no vertex, or no neighbour, stays in its row.
func TestVertex(t *testing.T) {
	k := &columns{}
	steps := func(sizes ...float64) (out []step) {
		for _, s := range sizes {
			out = append(out, step{size: s})
		}
		return out
	}
	for _, top := range []float64{2.6, 3, 3.3, 3.49} {
		var sizes []float64
		for x := 0.0; x < 7; x++ {
			sizes = append(sizes, 9-0.4*sq(x-top))
		}
		assert.InDelta(t, top, k.vertex(steps(sizes...), 3), 1e-9)
	}
	rising := steps(1, 2, 3)
	assert.Equal(t, 0.0, k.vertex(rising, 0), "no row above")
	assert.Equal(t, 2.0, k.vertex(rising, 2), "no row below")
	assert.Equal(t, 1.0, k.vertex(steps(2, 2, 2), 1), "level")
	assert.Equal(t, 1.0, k.vertex(steps(3, 1, 0), 1), "a valley")
	assert.Equal(t, 1.5, k.vertex(steps(0, 4, 4), 1), "between two rows alike")
}

// A line of one height is one line; curved ones cross at several heights.
func TestNear(t *testing.T) {
	known := []line{{z: 40}}
	assert.True(t, near(known, line{z: 40.5}, 100))
	assert.True(t, near(known, line{z: 39.5}, 100))
	assert.False(t, near(known, line{z: 40.7}, 100))
	assert.True(t, near(known, line{z: 41.9, curve: 3.1}, 100), "one that curves")
	assert.False(t, near(known, line{z: 42.1, curve: 3.1}, 100))
	assert.False(t, near([]line{{z: 4}}, line{z: 5.5, curve: 3.1}, 100), "close to the floor nothing is taken for it")
}

// clearAndArc is a photo with one line and the far edge of a surface above it, in water
// 100 mm deep with a bow of the glass of 10 mm throughout.
func clearAndArc(near, far line) *photo {
	s := &Strip{W: 96, H: 480, USpan: 0.9, TopMM: 112, BottomMM: -8, Water: Depth{MM: 100}, BowFloorMM: 10, BowWaterMM: 10}
	return &photo{s: s, lines: []line{far, near}}
}

// The far edge of the deposit's surface stands where the optics say, or is another thing:
// two points for what fits, down to two against it from two standard deviations on.
func TestArcFits(t *testing.T) {
	far := line{step: step{size: 8}, z: 30 + 10*arcPerBow, curve: 12}
	sd := math.Hypot(10*arcPerBowSD, 1.2)
	for off, want := range map[float64]float64{0: 2, 1: 1, -1: 1, 2: -2, -3: -2} {
		near := line{step: step{size: 1}, z: 30 + off*sd}
		assert.InDelta(t, want, clearAndArc(near, far).arcFits(0, &near), 1e-9, "%g standard deviations off", off)
	}
	// What the near edge itself still curves is an error of the bow, half of it.
	bent := line{z: 30 + 10*arcPerBow - 9*arcPerBow, curve: 2}
	assert.InDelta(t, 2, clearAndArc(bent, far).arcFits(0, &bent), 1e-9)

	// Where the bow is not known a surface seen at usual angles is as high as it is bent.
	for z, want := range map[float64]float64{far.z - 12: 1, far.z - 7: 1, far.z - 18: 1, far.z - 5: 0, far.z - 20: 0} {
		near := line{z: z}
		p := clearAndArc(near, far)
		p.s.BowFloorMM, p.s.BowWaterMM = 0, 0
		assert.Equal(t, want, p.arcFits(0, &near), "%.1f mm below", far.z-z)
	}
}

// Two statements on one height are joined by their precisions (the product of two normal
// densities), and the joint one is surer than either. A clear line needs no help, and one
// that the far edge does not belong to gets none.
func TestLeanOnArc(t *testing.T) {
	far := line{step: step{size: 8}, z: 31 + 10*arcPerBow, curve: 12}
	lean := func(top line, change func(*photo)) *Boundary {
		p := clearAndArc(top, far)
		if change != nil {
			change(p)
		}
		b := &Boundary{HeightMM: top.z, SDMM: 0.5}
		p.leanOnArc(b, &top, 0)
		return b
	}
	faint := line{step: step{size: 1}, z: 30, weight: 0.5}
	b := lean(faint, nil)
	seen, told := sq(0.5)+sq(0.6), sq(2)+sq(0.8) // mm, its own and 0.6 and 0.8 % of the depth
	assert.InDelta(t, 30+seen/(seen+told), b.HeightMM, 1e-9)
	assert.InDelta(t, math.Sqrt(seen*told/(seen+told)), b.SDMM, 1e-9)

	unmoved := Boundary{HeightMM: 30, SDMM: 0.5}
	clear := faint
	clear.weight = 0.9
	assert.Equal(t, unmoved, *lean(clear, nil), "clear")
	assert.Equal(t, unmoved, *lean(faint, func(p *photo) { p.s.BowFloorMM, p.s.BowWaterMM = 0, 0 }), "bow unknown")
	assert.Equal(t, unmoved, *lean(faint, func(p *photo) { p.lines[0].z += 6 }), "another line's")
}

// The bow of the glass runs evenly from floor to water.
func TestBow(t *testing.T) {
	s := &Strip{Water: Depth{MM: 80}, BowFloorMM: 12, BowWaterMM: -4}
	for z, want := range map[float64]float64{0: 12, 80: -4, 40: 4, 20: 8} {
		mm, known := s.bowAt(z)
		assert.True(t, known)
		assert.InDelta(t, want, mm, 1e-12)
	}
	_, known := (&Strip{Water: Depth{MM: 80}}).bowAt(10)
	assert.False(t, known)
}

// Which side of a line is the darker takes more than half of the change.
func TestDarker(t *testing.T) {
	for want, d := range map[bool][]float64{true: {-6, -5.1}, false: {-4.9, 0, 5, 10}} {
		for _, l := range d {
			assert.Equal(t, want, (&line{step: step{d: [3]float64{l}, size: 10}}).darker(), "%g of 10", l)
		}
	}
}

// What rivals leave open: scores are log odds by doubtScale, so of two tops the worse by s
// has the probability 1/(1+exp(3 s)), and adds its distance in that measure. A second line
// at the same height is no rival, and no top at all is one without a height.
func TestDoubtByRivals(t *testing.T) {
	p := &photo{s: &Strip{Water: Depth{MM: 100}}, lines: []line{{z: 30}, {z: 40}, {z: 30.9}}}
	p.tops = []int{0, 1}
	for _, s := range []float64{0, 0.3, 1} {
		other := 1 / (1 + math.Exp(3*s))
		wrong, sd := p.doubt([]float64{7, 7 - s}, 0)
		assert.InDelta(t, other, wrong, 1e-12)
		assert.InDelta(t, 10*math.Sqrt(other), sd, 1e-12)
	}
	p.tops = []int{0, 2}
	wrong, sd := p.doubt([]float64{7, 7}, 0)
	assert.Zero(t, wrong)
	assert.Zero(t, sd)
	p.tops = []int{0, unseen}
	wrong, _ = p.doubt([]float64{7, 7}, 0)
	assert.Zero(t, wrong, "not seeing it is not seeing it elsewhere")
	wrong, sd = p.doubt([]float64{7, 7}, unseen)
	assert.Zero(t, wrong)
	assert.Zero(t, sd)
}

// A change spread evenly over so many millimetres has 10 to 90 % of it within four fifths
// of them; a sharp one is as wide as the window that finds it allows.
func TestWidthOfAGradualChange(t *testing.T) {
	const low, high = 36.0, 39.0
	s := scene{elapsed: 172800, water: mud, layers: []stratum{{low, siltLab, 0}}}
	steps := 24
	for i := range steps { // mud from the silt's colour to the water's
		f := (float64(i) + 0.5) / float64(steps)
		var lab [3]float64
		for ch := range 3 {
			lab[ch] = sandLab[ch] + f*(mud[ch]-sandLab[ch])
		}
		s.layers = append(s.layers, stratum{low + (high-low)*float64(i+1)/float64(steps), lab, 0})
	}
	s.layers[0].lab = sandLab
	widths := map[string]float64{}
	for name, sc := range map[string]scene{"gradual": s, "sharp": {elapsed: 172800, water: mud, layers: []stratum{{37.5, sandLab, 0}}}} {
		strip := sc.strip()
		p := newPhoto(&strip)
		i := p.lineAt(37.5)
		require.GreaterOrEqual(t, i, 0, name)
		widths[name] = p.width(&p.lines[i])
	}
	assert.InDelta(t, 0.8*(high-low), widths["gradual"], 0.5)
	assert.LessOrEqual(t, widths["sharp"], fineWindow*sceneWater+0.05)
}

// Rivals close by make the sand's top as unsure as they lie apart, by their odds: two alike
// 2 mm apart, by the root of half the square. Those further off are other boundaries.
func TestSandDoubt(t *testing.T) {
	in := inside{marks: []mark{{z: 20, odds: 0.4}, {z: 22, odds: 0.4}, {z: 27, odds: 0.2}}}
	assert.InDelta(t, math.Sqrt(2), in.sandDoubt(100), 1e-9)
	assert.InDelta(t, math.Sqrt((0.4*4+0.2*49)/1), in.sandDoubt(300), 1e-9)
	in.marks = in.marks[:1]
	assert.Zero(t, in.sandDoubt(100))
}

// A change spread over 4 mm, which no sharp line tells, is found by the wide window, within
// two of the standard deviations it is given; it counts by what it is, and even mud has none.
func TestGradualChangesAreFound(t *testing.T) {
	const spread = 4.0
	for _, mid := range []float64{22, 26.3, 31.7} {
		s := scene{elapsed: 172800, water: mud, layers: []stratum{{mid - spread/2, siltLab, 0}}}
		for i := range 16 {
			f := (float64(i) + 0.5) / 16
			var lab [3]float64
			for ch := range 3 {
				lab[ch] = siltLab[ch] + f*(clayLab[ch]-siltLab[ch])
			}
			s.layers = append(s.layers, stratum{mid - spread/2 + spread*float64(i+1)/16, lab, 0})
		}
		s.layers = append(s.layers, stratum{45, clayLab, 0})
		strip := s.strip()
		p := newPhoto(&strip)
		found := p.broad(0.06*sceneWater, 42)
		require.Len(t, found, 1)
		l := found[0]
		assert.InDelta(t, mid, l.z, 2*l.sd)
		assert.Less(t, l.sd, spread/2)
		for ch := range 3 {
			assert.InDelta(t, siltLab[ch]-clayLab[ch], l.d[ch], 1)
		}
		assert.Greater(t, l.weight, 0.5)
		assert.Less(t, l.weight, math.Log1p(l.size))
	}
	even := scene{elapsed: 172800, water: mud, layers: []stratum{{45, siltLab, 0}}}.strip()
	assert.Empty(t, newPhoto(&even).broad(0.06*sceneWater, 42))
}

// What may be a boundary inside the deposit: level lines from above the dark foot to below
// the top; the top itself only where bare sand may have made it.
func TestLinesInsideTheDeposit(t *testing.T) {
	at := func(z, lightness float64) line {
		return line{step: step{d: [3]float64{lightness}, size: 8, share: 1}, z: z, weight: 2}
	}
	far := at(20, 8)
	far.curve = 9
	inside := func(elapsedS float64, top line) (heights []float64) {
		s := scene{elapsed: elapsedS, water: siltLab, layers: []stratum{{40, siltLab, 0}}}.strip() // even throughout
		p := newPhoto(&s)
		p.lines = []line{at(60, 8), top, at(25, 8), far, at(15, -8), at(1.2, -8), at(1.2, 8), at(0.3, 8)}
		for _, l := range p.inner(1, top.z) {
			heights = append(heights, l.z)
		}
		return heights
	}
	late := []float64{25, 15, 1.2}
	assert.Equal(t, late, inside(172800, at(40, -8)))
	assert.Equal(t, late, inside(172800, at(40, 8)))
	assert.Equal(t, late, inside(60, at(40, -8)), "a dark top")
	assert.Equal(t, []float64{40, 25, 15, 1.2}, inside(60, at(40, 8)), "bare sand")
}
