package layers

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The places of the traits among those of a mark.
const (
	traitShare = 1 + iota
	traitChosen
	traitEarly
	traitAbove
	traitGrainy
	traitBare
	traitLighter
	traitLessRed
)

// What speaks for a mark as the sand's top, each by its own rule. The sand's top of the
// made-up jar is at 14.15 mm, where its grain ends, its silt's top at 26.7 mm.
func TestTraitsOfAMark(t *testing.T) {
	ps, c, out := readUpTo(t, settling(nil))
	f := factsOf(ps, c, out)
	require.Greater(t, f.grain, 0.0)
	assert.InDelta(t, 14.15, f.early, 0.7, "the top after a minute")
	assert.InDelta(t, 27.3, f.down, 0.3, "after two hours")
	assert.InDelta(t, 38.3, f.last, 0.3)
	at := func(z float64, change func(*jarFacts)) [sandTraits]float64 {
		g := f
		if change != nil {
			change(&g)
		}
		m := mark{z: z, weight: 1, seen: make([]*line, len(ps))}
		m.measure(ps, out, g)
		return m.traits
	}
	grain := func(z float64) float64 { return at(z, nil)[traitGrainy] }
	usual := f.grain * math.Exp(grainToSand)
	assert.InDelta(t, 1, grain(usual), 1e-9, "as high above the grain as is usual")
	for _, sd := range []float64{-1, 1} {
		assert.InDelta(t, 0, grain(usual*math.Exp(sd*grainToSandSD)), 1e-9)
	}
	assert.InDelta(t, -3, grain(usual*math.Exp(3*grainToSandSD)), 1e-9, "bounded")
	none := func(g *jarFacts) { g.grain = 0 }
	assert.Zero(t, at(usual, none)[traitGrainy])
	assert.InDelta(t, 1, at(0.04*sceneWater, none)[traitBare], 1e-9)
	assert.InDelta(t, 3, at(0.5*sceneWater, none)[traitBare], 1e-9, "bounded")
	assert.Zero(t, at(usual, nil)[traitBare])

	// The top of the first minutes is a little above the sand's; a sand that ends above
	// it cannot be, unless more was to come.
	early := func(z float64, soon bool) (float64, float64) {
		x := at(z, func(g *jarFacts) { g.early, g.soon = 20, soon })
		return x[traitEarly], x[traitAbove]
	}
	best := 20 - 0.006*sceneWater
	fits, above := early(best, false)
	assert.InDelta(t, 1, fits, 1e-9)
	assert.Zero(t, above)
	fits, _ = early(best-0.015*sceneWater, false)
	assert.InDelta(t, 0, fits, 1e-9, "more silt below the sand's line than comes down with it")
	fits, above = early(20+0.016*sceneWater, false)
	assert.Less(t, fits, 0.0)
	assert.InDelta(t, 1, above, 1e-9)
	_, above = early(30, false)
	assert.InDelta(t, 2, above, 1e-9, "bounded")
	later, above := early(20+0.016*sceneWater, true)
	assert.Greater(t, later, 0.5)
	assert.Zero(t, above, "more sand was to come")

	chosen := at(f.sand, nil)[traitChosen]
	assert.InDelta(t, 1, chosen, 1e-9)
	assert.InDelta(t, math.Exp(-0.5), at(f.sand+0.006*sceneWater, nil)[traitChosen], 1e-9)
	assert.Zero(t, at(14.15, func(g *jarFacts) { g.sand = 0 })[traitChosen])

	// Washed sand is lighter and less red than the silt above it, by what it was drawn.
	x := at(14.15, nil)
	assert.InDelta(t, 1.5, x[traitLighter], 1e-9, "14 of L*, bounded")
	assert.InDelta(t, 1.5, x[traitLessRed], 1e-9, "3 of a*, bounded")
	x = at(26.7, nil)
	assert.InDelta(t, 1.5, x[traitLighter], 0.05, "5 of L* below 26.7 mm")
	x = at(20.5, nil)
	assert.InDelta(t, 0, x[traitLighter], 0.1, "even silt")
}

// Seen in so many of the photos whose deposit reaches well above.
func TestShareOfPhotosThatShowAMark(t *testing.T) {
	ps, _, out := readUpTo(t, settling(nil))
	seen, faint := &line{weight: 1}, &line{weight: 0.2}
	for _, c := range []struct {
		z    float64
		seen []*line
		want float64
	}{
		{10, []*line{seen, seen, seen}, 1}, {10, []*line{nil, seen, seen}, 2.0 / 3}, {10, []*line{nil, faint, seen}, 1.0 / 3},
		{20, []*line{seen, seen, nil}, 0.5},      // of the two later photos
		{26.4, []*line{nil, seen, seen}, 1},      // the second's top is too close to tell
		{26.4, []*line{seen, seen, nil}, 0},      // and what it shows there does not count
		{50, []*line{seen, seen, seen}, 0},       // above all
		{12.4, []*line{seen, nil, nil}, 1.0 / 3}, // just below the first top, 14.15 mm and more
	} {
		m := mark{z: c.z, seen: c.seen}
		assert.InDelta(t, c.want, m.share(ps, out), 1e-9, "%+v", c)
	}
}

// What settling says of two tops: a deposit grows, and may sink a little once the clay is
// down; it neither shrinks early nor doubles late.
func TestGrowth(t *testing.T) {
	photoAt := func(elapsedS, z float64) *photo {
		return &photo{s: &Strip{Water: Depth{MM: 100}, ElapsedS: elapsedS, FrameSDMM: 0.3}, lines: []line{{z: z}}}
	}
	says := func(t1, z1, t2, z2 float64) float64 {
		score, _ := growth(photoAt(t1, z1), photoAt(t2, z2), 0, 0)
		return score
	}
	for _, c := range []struct {
		t1, z1, t2, z2 float64
		fine           bool
	}{
		{60, 10, 7200, 30, true}, {60, 10, 600, 10, true}, {60, 10, 600, 9.5, true}, // within the frames' errors, 1.6 mm
		{60, 30, 600, 27, false},        // shrinks while mud still falls
		{86400, 30, 172800, 27.5, true}, // clay settles down under its own weight
		{86400, 30, 172800, 24, false},  // but not by a fifth
		{86400, 20, 172800, 29, true},   // the last clay comes down
		{86400, 20, 172800, 45, false},  // there is not so much left of it
		{60, 3, 172800, 30, true},       // sand first, then all the rest
	} {
		got := says(c.t1, c.z1, c.t2, c.z2)
		if c.fine {
			assert.Zero(t, got, "%+v", c)
		} else {
			assert.Less(t, got, -0.2, "%+v", c)
		}
	}
	assert.InDelta(t, says(60, 40, 600, 10), says(60, 40, 600, 5), 1e-9, "bounded")
	assert.InDelta(t, says(86400, 5, 172800, 60), says(86400, 3, 172800, 60), 1e-9, "bounded")
	a, b := photoAt(60, 10), photoAt(600, 5)
	assert.Equal(t, move{measure: 7}, judged(measure{}, 0, b, 0, 7), "nothing was seen before it")
	assert.Equal(t, move{measure: 3}, judged(measure{a, 0}, 3, b, unseen, 7), "nothing is seen")
	assert.Equal(t, 3, judged(measure{a, 0}, 3, b, 0, 7).measure, "what does not fit is no measure")
	assert.Equal(t, 7, judged(measure{a, 0}, 3, photoAt(600, 12), 0, 7).measure)
}

// What settling says of where the sand ends: in the first minutes a little below the
// deposit's top, later well below it; by its grain, from where that ends up to some three
// times so high.
func TestWhereTheSandMayEnd(t *testing.T) {
	at := func(elapsedS float64) *photo { return &photo{s: &Strip{Water: Depth{MM: 100}, ElapsedS: elapsedS}} }
	soon := func(top float64) float64 { return sandPrior(at(120), top, 20) }
	assert.Greater(t, soon(20.8), 1.0)
	for _, off := range []float64{1, 2} {
		assert.InDelta(t, soon(20.8+off), soon(20.8-off), 1e-9)
		assert.Less(t, soon(20.8+off), soon(20.8+off-1))
	}
	assert.Greater(t, soon(23), 0.0, "up to 3 % of the depth of silt comes down with the sand")
	assert.Less(t, soon(26), 0.0)
	assert.Less(t, soon(17), 0.0)
	assert.InDelta(t, soon(40), soon(60), 1e-9, "bounded")
	assert.Zero(t, sandPrior(at(7200), 22, 20))
	assert.Less(t, sandPrior(at(7200), 20.5, 20), -1.0, "nothing came down on it")
	assert.Zero(t, sandPrior(at(120), 40, 0), "no sand in question")

	grainy := func(mm ...float64) (ps []*photo) {
		for _, g := range mm {
			p := at(7200)
			p.grain = g
			ps = append(ps, p)
		}
		return ps
	}
	usual := 8 * math.Exp(grainToSand)
	best := grainPrior(grainy(8), usual)
	assert.Greater(t, best, 0.5)
	assert.InDelta(t, best, grainPrior(grainy(0, 8, 30), usual), 1e-9, "the middle of the photos")
	for _, sd := range []float64{0.5, 1} { // a normal law in the logarithm
		assert.InDelta(t, best-sd*sd/2, grainPrior(grainy(8), usual*math.Exp(sd*grainToSandSD)), 1e-9)
		assert.InDelta(t, best-sd*sd/2, grainPrior(grainy(8), usual*math.Exp(-sd*grainToSandSD)), 1e-9)
	}
	assert.InDelta(t, grainPrior(grainy(8), 90), grainPrior(grainy(8), 60), 1e-9, "bounded")
	assert.Greater(t, grainPrior(grainy(8), 8), 0.0, "where the grain ends")
	assert.Greater(t, grainPrior(grainy(8), 24), 0.0, "three times as high")
	assert.Zero(t, grainPrior(grainy(8), 0))
	assert.Zero(t, grainPrior(grainy(0), 4), "so little sand may show none")
	assert.Less(t, grainPrior(grainy(0), 9), -0.5)
	assert.InDelta(t, grainPrior(grainy(0), 40), grainPrior(grainy(0), 60), 1e-9, "bounded")
	assert.Greater(t, grainPrior(grainy(0), 90), -4.0)
}
