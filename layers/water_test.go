package layers

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// How far a colour lies on the way from one to another; off the way only its part along.
func TestAlong(t *testing.T) {
	from, to := [3]float64{20, 5, 5}, [3]float64{60, 5, -25}
	for f, v := range map[float64][3]float64{0: from, 1: to, 0.5: {40, 5, -10}, 0.25: {30, 45, -2.5}, -0.5: {0, 5, 20}} {
		assert.InDelta(t, f, along(v, from, to), 1e-3*math.Abs(f)+1e-9, "%v", v)
	}
	assert.Zero(t, along([3]float64{1, 2, 3}, from, from), "no way at all")
}

// The top of a cloud is a great change above mud of one colour; or a soft one late, towards
// what is behind the glass. A mirrored horizon is neither (up to 10 units, and sharp), nor is
// what returns to the mud's colour above.
func TestWhatIsTheTopOfACloud(t *testing.T) {
	great := cloudTop{l: line{step: step{size: 9}}, change: 14, uneven: 1, away: 0.9}
	soft := cloudTop{l: line{step: step{size: 2}}, change: 7, uneven: 1, away: 0.9, nearer: 0.2, least: 0.2}
	assert.True(t, great.isOne(0))
	assert.True(t, soft.isOne(3600))
	for name, change := range map[string]func(great, soft *cloudTop){
		"returns to mud":             func(g, s *cloudTop) { g.away, s.away = 0.4, 0.4 },
		"uneven mud":                 func(g, s *cloudTop) { g.uneven, s.uneven = 3.2, 2.3 },
		"a horizon":                  func(g, s *cloudTop) { g.change, s.l.size = 10, 3 },
		"faint":                      func(g, s *cloudTop) { g.change, s.change = 5, 5 },
		"not towards what is behind": func(g, s *cloudTop) { g.change, s.nearer = 10, 0.1 },
		"mud again higher up":        func(g, s *cloudTop) { g.change, s.least = 10, 0.15 },
	} {
		g, s := great, soft
		change(&g, &s)
		assert.False(t, g.isOne(3600), name)
		assert.False(t, s.isOne(3600), name)
	}
	assert.False(t, soft.isOne(600), "nothing clears so little so soon")
}

// Cloud is told between the backdrop's colour and the soil's: none where the water is as
// what stands behind it, all where it has the soil's colour.
func TestCloudByColour(t *testing.T) {
	mix := func(f float64) (lab [3]float64) {
		for ch := range 3 {
			lab[ch] = backdrop[ch] + f*(siltLab[ch]-backdrop[ch])
		}
		return lab
	}
	last := -1.0
	for _, f := range []float64{0, 0.2, 0.4, 0.6, 0.8, 1} {
		s := scene{elapsed: 172800, water: mix(f), layers: []stratum{{30, siltLab, 0}}}.strip()
		p := newPhoto(&s)
		got := p.cloud(30, 30)
		assert.GreaterOrEqual(t, got, last)
		assert.InDelta(t, min(1, max(0, f-0.08)/0.65), got, 0.05, "water %g of the way to the soil's colour", f)
		assert.InDelta(t, min(1, 0.8*max(0, f-0.08)/0.65), p.cloud(30, 35), 0.05, "its far edge is seen")
		last = got
		away := distance(mix(f), backdrop)
		assert.InDelta(t, min(1, away/15), p.cloudWithoutDeposit(), 0.03)
	}
}

// Debris is grainy and dark, foam grainier and light; what is no thicker than the meniscus
// is neither.
func TestFloatingByItsGrain(t *testing.T) {
	for _, mm := range []float64{0.8, 3, 6, 10} {
		s := scene{elapsed: 172800, water: mud, layers: []stratum{{30, siltLab, 0}}, floating: mm}.strip()
		got := newPhoto(&s).floating()
		if mm < 1 {
			assert.Zero(t, got, "%g mm", mm)
		} else {
			assert.InDelta(t, mm, got, 0.8, "%g mm", mm)
		}
	}
}

// The standard error of a slice's colour is that of a median: 1.2533 times the scatter of
// its columns over the root of their number (Kendall & Stuart; here half of what the
// difference of two halves scatters), joined to what mud mottles anyway.
func TestShadeSDIsThatOfAMedian(t *testing.T) {
	s := scene{elapsed: 172800, water: mud, layers: []stratum{{60, siltLab, 0}}}.strip()
	const scatter = 6.0
	p := newPhoto(&s)
	quiet := p.shadeSD(40, 38)
	a, m := p.k.row(40), (p.k.row(40)+p.k.row(38))/2
	first, _ := frontColumns(&s)
	offs := make([]float64, p.k.n)
	for c := range offs { // quantiles of a normal law, columns in some order
		u := (float64((c*7)%p.k.n) + 0.5) / float64(p.k.n)
		offs[c] = scatter * math.Sqrt2 * math.Erfinv(2*u-1)
	}
	for r := a; r < m; r++ { // the upper half of each column is off by a normal amount
		for c := range p.k.n * pooled {
			for ch := range 3 {
				s.Lab[3*(r*s.W+first+c)+ch] += float32(offs[c/pooled])
			}
		}
	}
	got := newPhoto(&s).shadeSD(40, 38)
	want := 1.2533 * scatter / 2 / math.Sqrt(float64(p.k.n))
	assert.InEpsilon(t, math.Hypot(want, quiet), got, 0.1)

	// Thick slices hold several patches of mottling, thin ones one.
	patch := siltPatch * sceneWater
	mottled := math.Sqrt((sq(mottle[0])+sq(mottle[1])+sq(mottle[2]))/3) / 2
	assert.InDelta(t, mottled, quiet, 0.05)
	assert.InDelta(t, mottled/2, newPhoto(&s).shadeSD(30, 30-4*patch), 0.05, "four patches")
}

// A deposit told as one is of another colour than the water and further from what stands
// behind the jar.
func TestStandsOut(t *testing.T) {
	for want, scenes := range map[bool][]scene{
		true: {{elapsed: 172800, water: backdrop, layers: []stratum{{30, siltLab, 0}}}},
		false: {
			{elapsed: 172800, water: [3]float64{38, 8, 14}, layers: []stratum{{30, siltLab, 0}}},  // as the mud above it
			{elapsed: 172800, water: siltLab, layers: []stratum{{30, [3]float64{65, 0, 5}, 0}}},   // nearer to the backdrop
			{elapsed: 172800, water: backdrop, layers: []stratum{{30, [3]float64{66, -2, 3}, 0}}}, // hardly another colour
		},
	} {
		for i, sc := range scenes {
			s := sc.strip()
			p := newPhoto(&s)
			l := line{step: step{d: [3]float64{-20}, size: 20}, z: 30, weight: 3}
			assert.Equal(t, want, p.standsOut(&l), "%t %d", want, i)
		}
	}
}

// A line may belong to the background where the jar is looked down upon, so that a deposit
// would show its far edge, and where the water is clear or several lines stand above it.
func TestSeenThrough(t *testing.T) {
	at := func(water [3]float64, bow float64, above int) bool {
		s := scene{elapsed: 172800, water: water, layers: []stratum{{30, siltLab, 0}}}.strip()
		s.BowFloorMM, s.BowWaterMM = bow, bow
		p := newPhoto(&s)
		p.lines = []line{{z: 30, weight: 2}}
		for i := range above {
			p.lines = append(p.lines, line{z: 50 + 10*float64(i), weight: 1.5})
		}
		return p.seenThrough(&p.lines[0])
	}
	const down, level = 0.05 * sceneWater, 0.02 * sceneWater
	assert.True(t, at(backdrop, down, 0))
	assert.False(t, at(mud, down, 0))
	assert.False(t, at(mud, down, 2))
	assert.True(t, at(mud, down, 3), "bricks")
	assert.False(t, at(backdrop, level, 3), "seen level")
	assert.False(t, at(backdrop, 0, 3), "nobody knows how it is seen")
}

// A line is looked at as the top of a cloud where it lies well above the deposit and below
// the surface, plain and level across the front, with the mud's colour below it.
func TestWhereTheTopOfACloudMayBe(t *testing.T) {
	s := settling(func(s *scene) { s.haze = 90 })[2]
	s.BowFloorMM, s.BowWaterMM = 4, 4
	p := newPhoto(&s)
	back, ok := p.roomColour()
	require.True(t, ok)
	i := p.lineAt(90)
	require.GreaterOrEqual(t, i, 0)
	const lowest = 38.3
	may := func(change func(*line)) bool {
		l := p.lines[i]
		if change != nil {
			change(&l)
		}
		_, ok := p.cloudTop(&l, lowest, back)
		return ok
	}
	assert.True(t, may(nil))
	for why, change := range map[string]func(*line){
		"close to the deposit": func(l *line) { l.z = lowest + 0.045*sceneWater },
		"at the surface":       func(l *line) { l.z = 0.93 * sceneWater },
		"faint":                func(l *line) { l.size = 0.7 },
		"in few columns":       func(l *line) { l.share = 0.6 },
		"a far edge":           func(l *line) { l.curve = 6 },
		"in the clear water":   func(l *line) { l.z = 105 },
	} {
		assert.False(t, may(change), why)
	}
	c, _ := p.cloudTop(&p.lines[i], lowest, back)
	assert.InDelta(t, distance(backdrop, [3]float64{mud[0] + 4, mud[1], mud[2]}), c.change, 2, "the backdrop, 4 darker, over mud")
	assert.Less(t, c.uneven, 1.0)
	assert.InDelta(t, 1, c.away, 0.1)
}

// A photo in which nothing has settled yet is read beside others: its water is told, and no
// line in it.
func TestAPhotoWithoutADeposit(t *testing.T) {
	strips := settling(func(s *scene) {
		if s.elapsed == 60 {
			s.elapsed, s.layers = 5, nil
		}
	})
	got, err := Read(strips)
	require.NoError(t, err)
	assert.Nil(t, got[0].DepositTop)
	assert.Nil(t, got[0].HazeTop)
	assert.Equal(t, 1.0, got[0].Cloud, "mud before a light room")
	assert.True(t, hasNote(got[0], NoteNothingSettled))
	require.NotNil(t, got[2].DepositTop)
	assert.InDelta(t, 38.3, got[2].DepositTop.HeightMM, 0.3)
}
