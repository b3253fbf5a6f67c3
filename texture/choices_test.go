package texture

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// TestSettlingTellsLinesApart: a picture that cannot tell the sand's line from a
// false one leaves it to settling, which the deposit's tops have shown.
func TestSettlingTellsLinesApart(t *testing.T) {
	truth := usualTruth()
	obs, setup := exact(truth)
	for i := range obs {
		sand, top := obs[i].SandTop.Share, obs[i].DepositTop.Share
		sd := 0.8 / setup.WaterDepthMM
		obs[i].SandTop, obs[i].SiltTop = nil, nil
		obs[i].Candidates = []Candidate{{Share: sand, SD: sd, SandOdds: 0.4},
			{Share: math.Min(sand+0.5*(top-sand)+4/setup.WaterDepthMM, top), SD: sd, SandOdds: 0.5}}
	}
	r := mustInvert(t, obs, setup)
	found := 0
	for _, p := range r.Placed {
		assert.Equal(t, SandTopLine, p.Line)
		if p.Candidate == 0 {
			found++
		}
	}
	assert.GreaterOrEqual(t, found, 2, "%v", r.Placed)
	assert.InDelta(t, truth.soil.Sand, r.Sand.Value, 6)
}

// usualTruth is a jar of the model itself, sand 40, silt 40, clay 20.
func usualTruth() simJar {
	j, _ := evenJar(0.4, 0.4, 0.2, 0.6, 300)
	times := []float64{60, 7200, 172800}
	j.Settle(times[2] + 1)
	out := simJar{soil: Fractions{40, 40, 20}, depthMM: j.DepthMM, tempC: j.TempC, solidsGL: j.SolidsGL}
	for _, s := range times {
		h := j.At(s)
		out.photos = append(out.photos, simPhoto{s, h.DepositTopMM, h.SandTopMM, h.SiltTopMM, 0.9})
	}
	return out
}

// TestChoicesAreADensity: over all heights below the deposit's top the chances of
// a line's place add up to one.
func TestChoicesAreADensity(t *testing.T) {
	const top, depth = 40.0, 120.0
	o := Observation{ElapsedS: 7200, DepositTop: heightIn(depth, top, 0.5),
		Candidates: []Candidate{{12 / depth, 0.7 / depth, 0.5, 0.1}, {20 / depth, 1.2 / depth, 0.2, 0.6}}}
	for _, line := range []lineKind{sandTop, siltTop} {
		m, ok := choose(0, line, o, Setup{WaterDepthMM: depth}.straighten(), depth)
		require.True(t, ok)
		sum := 0.0
		const step = 0.01
		for z := step / 2; z < top; z += step {
			density, _, _ := m.weighChoices(predicted{at: z})
			sum += density * step
		}
		assert.InDelta(t, 1, sum, 1e-3)
	}
	// However sure the picture is, a line may be at none of its places: far from them it has
	// the chance that is kept for that, and one that may be elsewhere anyhow has no less.
	for odds, nowhere := range map[float64]float64{1: leastNowhere, 0.99: leastNowhere, 0.6: 0.4} {
		o.Candidates = []Candidate{{12 / depth, 0.7 / depth, odds, 0}}
		m, ok := choose(0, sandTop, o, Setup{WaterDepthMM: depth}.straighten(), depth)
		require.True(t, ok)
		density, _, _ := m.weighChoices(predicted{at: 35})
		assert.InDelta(t, nowhere/top, density, 1e-9, "odds of %g", odds)
	}
	_, ok := choose(0, sandTop, Observation{Candidates: []Candidate{{12, 0.7, 0, 1}}}, Setup{WaterDepthMM: depth}.straighten(), depth)
	assert.False(t, ok, "a candidate that cannot be the sand's top")
}

// TestOneLineCountsOnce: the same line in many photos is one line. The model's own
// error does not shrink with their number, so neither may the doubt below it.
func TestOneLineCountsOnce(t *testing.T) {
	shared := func(n int) float64 { // standard deviation of the mean of n photos
		m := newMeasured(0, sandTop, 20, 1, 7200)
		return math.Hypot(m.shared[0].sd, m.scale/math.Sqrt(float64(n)))
	}
	e := modelError[sandTop]
	assert.InDelta(t, math.Sqrt(1+e.mm*e.mm+e.share*e.share*400), shared(1), 1e-9, "alone it is the whole error")
	assert.Greater(t, shared(1000), math.Hypot(e.mm, e.share*20))
	m := newMeasured(0, depositTop, 30, 0.5, 3600)
	top := modelError[depositTop]
	assert.InDelta(t, 0.25+top.mm*top.mm+top.share*top.share*900, m.scale*m.scale+m.shared[0].sd*m.shared[0].sd+m.shared[1].sd*m.shared[1].sd, 1e-9)
}

// TestEarthByHand undoes what a jar shows of a soil: 30/40/30 with 10 % of the clay
// and 5 % of the silt in crumbs, and stones that are 10 % of what lies in the jar.
func TestEarthByHand(t *testing.T) {
	p := defaultPrior()
	p.gravel, p.crumbs, p.organic = logSpread{0.1, 0}, spread{math.Log(0.1 / 0.9), 0}, logSpread{1e-9, 0}
	// of 90 g fine earth: sand 27 + 1.8 silt in crumbs + 10 stones; silt 36 - 1.8 + 2.7; clay 27 - 2.7
	got := p.earth(&unknowns{}, Fractions{38.8, 36.9, 24.3})
	assert.InDelta(t, 30, got.Sand, 1e-6)
	assert.InDelta(t, 40, got.Silt, 1e-6)
	assert.InDelta(t, 30, got.Clay, 1e-6)
}

// TestAThinClayLayerDoesNotRefuse: a deposit's top read a little below the sand's is noise.
func TestAThinClayLayerDoesNotRefuse(t *testing.T) {
	obs := []Observation{{ElapsedS: 60, DepositTop: height(11.6, 0.7), SandTop: height(12, 0.7)}, {ElapsedS: 90000, DepositTop: height(30, 0.7)}}
	mustInvert(t, obs, usualSetup())
	obs[0].DepositTop = height(6, 0.7)
	_, err := Invert(obs, usualSetup())
	assert.ErrorContains(t, err, "lies below")
}

// TestKnowingTheAmountOfSoil: the weight of the soil is what the tops alone lack most.
func TestKnowingTheAmountOfSoil(t *testing.T) {
	var with, without Result
	var widths [2]float64 // of several soils: one by itself tells more of the sampler
	width := func(r Result) float64 {
		return r.Sand.High - r.Sand.Low + r.Silt.High - r.Silt.Low + r.Clay.High - r.Clay.Low
	}
	jars := loadJars(t, simulatedFile)
	for i := 0; i < len(jars); i += 24 {
		obs, setup := exact(jars[i])
		for i := range obs {
			obs[i].SandTop, obs[i].SiltTop = nil, nil
		}
		without = mustInvert(t, obs, setup)
		setup.Known.SolidsGL, setup.Known.SolidsSDGL = jars[i].solidsGL, 0.05*jars[i].solidsGL
		with = mustInvert(t, obs, setup)
		widths[0], widths[1] = widths[0]+width(without), widths[1]+width(with)
		assert.InEpsilon(t, jars[i].solidsGL, with.SolidsGL.Value, 0.1)
	}
	assert.Less(t, widths[1], 0.95*widths[0])
	share := func(r Result) float64 {
		for _, c := range r.Causes {
			if c.Kind == AmountCause {
				return c.Share
			}
		}
		return math.NaN()
	}
	assert.Greater(t, share(without), share(with))
}

func TestMistakesInWhatIsKnown(t *testing.T) {
	bad := -1.0
	for _, k := range []Known{{ShakenMin: -1}, {SolidsGL: 2}, {SolidsGL: 300, SolidsSDGL: 400}, {StonesPercent: &bad}, {OrganicPercent: &bad}} {
		s := usualSetup()
		s.Known = k
		_, err := Invert(threePhotos(), s)
		assert.Error(t, err)
	}
}

// TestMorePhotosAreNeverWorse: with the sand's line in each, many photos of a jar do
// not read it worse than few, and the intervals hold.
func TestMorePhotosAreNeverWorse(t *testing.T) {
	if everyNth > 1 {
		t.Skip("takes too long under the race detector; the plain run has it")
	}
	r := rand.New(rand.NewPCG(8, 15))
	var few, many score
	for range 12 {
		j := modelJar(r)
		obs, setup := withSandLine(j, r)
		m, err := Invert(obs, setup)
		require.NoError(t, err)
		many.add(j.soil, m)
		f, err := Invert([]Observation{obs[0], obs[15], obs[len(obs)-1]}, setup)
		require.NoError(t, err)
		few.add(j.soil, f)
	}
	t.Logf("three: %v", &few)
	t.Logf("thirty-six: %v", &many)
	assert.LessOrEqual(t, many.meanError(), few.meanError()+0.3)
	assert.GreaterOrEqual(t, many.coverage(), 0.85)
}

// modelJar is a jar that the model's own beliefs bring forth, looked at 36 times.
func modelJar(r *rand.Rand) simJar {
	p := defaultPrior()
	c := conditions{depthMM: logSpread{120, 0.01}, tempC: spread{20, 1}, timeSDS: 3}
	var z unknowns
	for k := range z {
		z[k] = r.NormFloat64()
	}
	var j jar
	p.apply(&z, &c, &j)
	j.Settle(172900)
	out := simJar{soil: p.earth(&z, Fractions{j.Sand, j.Silt, j.Clay}), depthMM: j.DepthMM, tempC: j.TempC, solidsGL: j.SolidsGL}
	for k := range 36 {
		t := 40 * math.Pow(172800.0/40, float64(k)/35)
		h := j.At(t)
		out.photos = append(out.photos, simPhoto{t, h.DepositTopMM, h.SandTopMM, h.SiltTopMM, 1 - math.Exp(-p.extinction.at(z[uClarity])*h.SuspendedGL)})
	}
	return out
}
