package layers

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// readUpTo is the reading of strips up to where boundaries inside the deposit are sought.
func readUpTo(t *testing.T, strips []Strip) (ps []*photo, c choice, out []Reading) {
	for i := range strips {
		ps = append(ps, newPhoto(&strips[i]))
	}
	c = choose(ps)
	out = make([]Reading, len(ps))
	for i, p := range ps {
		p.readTop(&out[i], c.top[i], c.rival[i])
		require.NotNil(t, out[i].DepositTop)
	}
	return ps, c, out
}

// The conditional logit by its formula, the odds of lying above the sand among the terms.
func TestSiltOdds(t *testing.T) {
	s := slope{lo: 2, step: 0.5, traits: make([][siltTraits]float64, 2), below: []float64{0.2, 0.9}}
	s.traits[0][0], s.traits[1][2] = 2, 1
	w := [siltTraits]float64{0.5, 0, -1, 0}
	p, nowhere := siltOdds(&s, &w, 0.25)
	terms := []float64{math.Exp(1) * 0.201 / 2, math.Exp(-1) * 0.901 / 2, math.Exp(0.25)}
	all := terms[0] + terms[1] + terms[2]
	assert.InDelta(t, terms[0]/all, p[0], 1e-12)
	assert.InDelta(t, terms[1]/all, p[1], 1e-12)
	assert.InDelta(t, terms[2]/all, nowhere, 1e-12)
}

// The slope is looked at from above the foot up to just below the top, in even steps; the
// odds that the sand ends below a height only grow upwards, to one.
func TestSlopeRunsFromFootToTop(t *testing.T) {
	ps, c, out := readUpTo(t, settling(nil))
	in := lookInside(ps, c, out)
	s := &in.slope
	require.NotEmpty(t, s.traits)
	top := out[len(out)-1].DepositTop.HeightMM - 0.004*sceneWater
	last := s.z(len(s.traits) - 1)
	assert.InDelta(t, 0.02*sceneWater, s.z(0), 1e-9)
	assert.Less(t, last, top)
	assert.Greater(t, last+s.step, top-1e-9)
	for i := 1; i < len(s.below); i++ {
		assert.GreaterOrEqual(t, s.below[i], s.below[i-1])
	}
	assert.InDelta(t, 1, s.below[len(s.below)-1], 1e-9)
}

// A photo shown twice makes surer, but not twice as sure: the mud's mottling is the same
// in both.
func TestPhotosOfOneJarAreNotIndependent(t *testing.T) {
	contrast := func(times int) float64 {
		faint := settling(func(s *scene) {
			if len(s.layers) == 3 { // a fifth of the usual difference
				for ch := range 3 {
					s.layers[2].lab[ch] = siltLab[ch] + 0.2*(clayLab[ch]-siltLab[ch])
				}
			}
		})[2]
		all := []Strip{}
		for range times {
			all = append(all, faint)
		}
		ps, _, out := readUpTo(t, all)
		const step = siltBlock * sceneWater
		logp, _ := gradesOf(ps, out, 14.15, 0.02*sceneWater, step)
		at := func(z float64) float64 { return logp[int(math.Round((z-0.02*sceneWater)/step))] }
		assert.InDelta(t, 0, math.Log(meanExp(logp)), 1e-6, "on the average as likely as anywhere")
		return at(26.7) - at(19)
	}
	once, twice := contrast(1), contrast(2)
	assert.Greater(t, once, 1.0)
	assert.Greater(t, twice, 1.02*once)
	assert.Less(t, twice, 1.6*once)
}

func meanExp(logp []float64) float64 {
	sum := 0.0
	for _, l := range logp {
		sum += math.Exp(l) / float64(len(logp))
	}
	return sum
}

// A straight rise: the sums are those of its values.
func TestRamp(t *testing.T) {
	f := make([]float64, 9)
	sum, squares := ramp(f, 3, 7)
	assert.InDeltaSlice(t, []float64{0, 0, 0, 0.125, 0.375, 0.625, 0.875, 1, 1}, f, 1e-12)
	assert.InDelta(t, 4, sum, 1e-12)
	assert.InDelta(t, 0.125*0.125+0.375*0.375+0.625*0.625+0.875*0.875+2, squares, 1e-12)
	sum, _ = ramp(f, 4, 4)
	assert.InDelta(t, 5, sum, 1e-12, "a step")
}

// The scatter of mud is that of its colours with its mottling in every patch.
func TestSpreadOfMud(t *testing.T) {
	total, mean := spread([][3]float64{{1, 10, 0}, {3, 10, 0}, {8, 16, 0}})
	assert.InDeltaSlice(t, []float64{4, 12, 0}, mean[:], 1e-12)
	for ch, squares := range []float64{9 + 1 + 16, 4 + 4 + 16, 0} {
		assert.InDelta(t, squares+3*sq(mottle[ch]), total[ch], 1e-12)
	}
	assert.InDelta(t, 1, cosine([3]float64{1, 2, 2}, [3]float64{2, 4, 4}), 1e-6)
	assert.InDelta(t, -1, cosine([3]float64{1, 2, 2}, [3]float64{-1, -2, -2}), 1e-6)
	assert.InDelta(t, 4.0/9, cosine([3]float64{1, 2, 2}, [3]float64{2, 2, -1}), 1e-6)
}

// What settling allows for the silt's top is a probability density over the deposit, and
// where a photo was taken when the silt was just down, the silt's top is not above that
// photo's.
func TestSiltPriorIsADensity(t *testing.T) {
	for _, early := range []bool{false, true} {
		strips := settling(nil)
		if !early {
			strips = strips[2:]
		}
		ps, _, out := readUpTo(t, strips)
		last := out[len(out)-1].DepositTop.HeightMM
		density := siltPrior(ps, out, 14, last)
		mass, above := 0.0, 0.0
		const dz = 0.01
		for z := 14.0; z < last; z += dz {
			mass += density(z) * dz
			if z > 28.5 { // a millimetre above the top after two hours
				above += density(z) * dz
			}
		}
		assert.Greater(t, mass, 0.6)
		assert.Less(t, mass, 1.1)
		if early {
			assert.Less(t, above, 0.05*mass)
			assert.Greater(t, density(25), 2*density(17), "a little below the early top more than far below")
		} else {
			assert.InDelta(t, (last-28.5)/(last-14), above, 0.01, "nothing known")
		}
	}
}

// Colour blurred by a bell: a single peak becomes that bell, and its area is kept in the
// ratios.
func TestBlur(t *testing.T) {
	logp := make([]float64, 41)
	for i := range logp {
		logp[i] = math.Inf(-1)
	}
	logp[20] = 3
	got := blur(logp, 2.5)
	for i := range got {
		assert.InDelta(t, 3-0.5*sq(float64(i-20)/2.5), got[i], 1e-9)
	}
}

// Where mud changes gradually between two heights, the evidence peaks where the clay's
// and the silt's colour count alike: siltPoint of the way down.
func TestGradingFindsTheChange(t *testing.T) {
	const hi, lo, from, to = 60.0, 15.0, 42.0, 34.0
	s := scene{elapsed: 172800, water: mud, layers: []stratum{{lo, sandLab, 2}}}
	for z := lo; z < hi; z += 0.25 {
		f := min(1, max(0, (from-z)/(from-to)))
		var lab [3]float64
		for ch := range 3 {
			lab[ch] = clayLab[ch] + f*(siltLab[ch]-clayLab[ch])
		}
		s.layers = append(s.layers, stratum{z + 0.25, lab, 0})
	}
	strip := s.strip()
	g := newPhoto(&strip).grading(lo, hi, [3]float64{})
	best := 0
	for i := range g.gain {
		if g.gain[i] > g.gain[best] {
			best = i
		}
	}
	assert.InDelta(t, from-siltPoint*(from-to), g.z[best], 1.2)
	assert.InDelta(t, g.gain[best], g.at(g.z[best]), 1e-9)
	assert.InDelta(t, (g.gain[best]+g.gain[best+1])/2, g.at((g.z[best]+g.z[best+1])/2), 1e-9, "between two blocks")
	assert.Zero(t, g.at(hi))
	assert.Zero(t, g.at(lo))
	assert.Greater(t, g.gain[best], 5.0)
	assert.Empty(t, newPhoto(&strip).grading(20, 24, [3]float64{}).z, "too thin to tell")
}

// Clear lines with something lighter below speak for silt under clay at their height, by a
// bell of 0.6 % of the depth, and all together.
func TestLighterBelow(t *testing.T) {
	at := func(z, lightness, weight float64) line {
		return line{step: step{d: [3]float64{lightness}, size: 4}, z: z, weight: weight}
	}
	p := &photo{s: &Strip{Water: Depth{MM: 100}}, lines: []line{at(40, 4, 1.7), at(30, -4, 1.7), at(20, 4, 0.7), at(10, 1.9, 1.7)}}
	assert.InDelta(t, 1, p.lighterBelow(40), 1e-9)
	assert.InDelta(t, math.Exp(-0.5), p.lighterBelow(40.6), 1e-9)
	assert.InDelta(t, math.Exp(-2), p.lighterBelow(38.8), 1e-9)
	for _, z := range []float64{30, 20, 10} {
		assert.InDelta(t, 0, p.lighterBelow(z), 1e-9, "darker, faint, or of another colour")
	}
	p.lines = append(p.lines, at(40, 4, 1.2))
	assert.InDelta(t, 1.5, p.lighterBelow(40), 1e-9)
}

// The colours about a height are those of photos late enough to show the last one's layers,
// and whose deposit reaches above it.
func TestAroundTakesLatePhotosAlone(t *testing.T) {
	strips := settling(func(s *scene) {
		if s.elapsed == 7200 { // two hours in, what lies upon the sand is of another colour
			s.layers[1].lab = [3]float64{20, 2, 4}
		}
	})
	ps, _, out := readUpTo(t, strips)
	d := around(14.15, ps, out)
	for ch := range 3 {
		assert.InDelta(t, sandLab[ch]-siltLab[ch], d[ch], 0.6)
	}
	assert.Equal(t, [3]float64{}, around(38, ps, out), "too close to the top")
	out[2].DepositTop = nil
	assert.Equal(t, [3]float64{}, around(14.15, ps, out), "the late photo shows none")
}
