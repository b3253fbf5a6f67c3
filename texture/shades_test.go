package texture

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// shadesOf paints a settled jar: silt grey, sand and clay so much lighter or darker.
func shadesOf(j *jar, timeS, sandL, clayL float64) []Shade {
	var at []float64
	for x := 0.02; x < 0.97; x += 0.04 {
		at = append(at, x)
	}
	sand, clay := j.composition(timeS, at)
	top := j.At(timeS).DepositTopMM
	var out []Shade
	for i, x := range at {
		out = append(out, Shade{Share: x * top / j.DepthMM, Lab: [3]float64{50 + sandL*sand[i] + clayL*clay[i], 2, 10}})
	}
	return out
}

// TestCompositionAddsUp: what lies in the deposit by composition and thickness is
// what fell, once nothing floats.
func TestCompositionAddsUp(t *testing.T) {
	j, _ := evenJar(0.3, 0.5, 0.2, 0.9, 250)
	const late = 60 * 86400.0
	j.Settle(late)
	require.Less(t, j.At(late-1).SuspendedShare, 0.03)
	sum, all := [2]float64{}, 0.0
	for k := range j.layerCount {
		l := &j.layers[k]
		at := []float64{}
		below := 0.0
		for m := range k {
			below += j.layers[m].thickness(late-1, 0)
		}
		top := j.At(late - 1).DepositTopMM
		at = append(at, (below+l.thickness(late-1, 0)/2)/top)
		sand, clay := j.composition(late-1, at)
		mass := l.thickness(late-1, 0) * l.weight
		sum[0], sum[1], all = sum[0]+sand[0]*mass, sum[1]+clay[0]*mass, all+mass
	}
	assert.InDelta(t, 0.3, sum[0]/all, 0.01)
	assert.InDelta(t, 0.2, sum[1]/all, 0.02)
}

// TestColoursKnowTheirSoil: the colours of a deposit speak for the soil that laid it
// down, whether clay is lighter than silt or darker, and alike.
func TestColoursKnowTheirSoil(t *testing.T) {
	const late = 172800.0
	truth, _ := evenJar(0.2, 0.5, 0.3, 0.6, 300)
	truth.Settle(late + 1)
	top := truth.At(late).DepositTopMM
	given := func(clayL float64) *shading {
		return newShading([]Observation{{ElapsedS: late, DepositTop: heightIn(truth.DepthMM, top, 0.5), Shades: shadesOf(&truth, late, 8, clayL)}}, Setup{WaterDepthMM: truth.DepthMM}.straighten())
	}
	darker := given(-10)
	require.NotNil(t, darker)
	other, _ := evenJar(0.2, 0.2, 0.6, 0.6, 300)
	other.Settle(late + 1)
	assert.Greater(t, darker.logLikelihood(&truth), darker.logLikelihood(&other)+1)

	lighter, mirrored := given(-10), given(-10)
	for i := range lighter.lab[0] { // the picture as a negative
		mirrored.lab[0][i] = -lighter.lab[0][i]
	}
	assert.InDelta(t, lighter.logLikelihood(&truth), mirrored.logLikelihood(&truth), 1e-9)
}

// TestEvenColoursSayLittle: a deposit of one colour tells soils apart far less than
// one whose layers differ.
func TestEvenColoursSayLittle(t *testing.T) {
	const late = 172800.0
	a, _ := evenJar(0.2, 0.5, 0.3, 0.6, 300)
	b, _ := evenJar(0.2, 0.2, 0.6, 0.6, 300)
	a.Settle(late + 1)
	b.Settle(late + 1)
	top := a.At(late).DepositTopMM
	apart := func(sandL, clayL float64) float64 {
		c := newShading([]Observation{{ElapsedS: late, DepositTop: heightIn(a.DepthMM, top, 0.5), Shades: shadesOf(&a, late, sandL, clayL)}}, Setup{WaterDepthMM: a.DepthMM}.straighten())
		return math.Abs(c.logLikelihood(&a) - c.logLikelihood(&b))
	}
	assert.Less(t, 4*apart(0, 0), apart(10, -12))
}

// TestWhichColoursCount: those of the latest photo that shows a deposit; none where
// the silt's top is given there, or too few slices are seen.
func TestWhichColoursCount(t *testing.T) {
	j, _ := evenJar(0.2, 0.5, 0.3, 0.6, 300)
	j.Settle(10000)
	shades := shadesOf(&j, 7200, 5, -5)
	straight := Setup{WaterDepthMM: j.DepthMM}.straighten()
	top := heightIn(j.DepthMM, j.At(7200).DepositTopMM, 0.5)
	early := Observation{ElapsedS: 7200, DepositTop: top, Shades: shades}
	late := Observation{ElapsedS: 9000, DepositTop: top, Shades: shades[:3]}
	got := newShading([]Observation{early, late}, straight)
	require.NotNil(t, got)
	assert.Equal(t, 7200.0, got.timeS)
	early.SiltTop = heightIn(j.DepthMM, 20, 1)
	assert.Nil(t, newShading([]Observation{early, late}, straight))
	assert.Nil(t, newShading([]Observation{late}, straight))
	spoilt := late
	spoilt.Shades = append([]Shade{{Share: math.NaN()}}, shades...)
	assert.Len(t, newShading([]Observation{spoilt}, straight).share, len(got.share))
}

// TestColoursTellSiltFromClay: with tops and the sand's line alone a silty soil is
// read too clayey; the colours of its deposit bring it nearer.
func TestColoursTellSiltFromClay(t *testing.T) {
	j, _ := evenJar(0.1, 0.8, 0.1, 0.6, 330)
	times := []float64{60, 7200, 172800}
	j.Settle(times[2] + 1)
	var obs []Observation
	for _, s := range times {
		h := j.At(s)
		obs = append(obs, Observation{ElapsedS: s, ElapsedSDS: 1, DepositTop: heightIn(j.DepthMM, h.DepositTopMM, 0.7), SandTop: heightIn(j.DepthMM, h.SandTopMM, 1)})
	}
	temp := 20.0
	setup := Setup{WaterDepthMM: j.DepthMM, TempC: &temp, TempSDC: 1}
	without := mustInvert(t, obs, setup)
	obs[2].Shades = shadesOf(&j, times[2], 8, 12)
	with := mustInvert(t, obs, setup)
	assert.Less(t, math.Abs(with.Clay.Value-10), math.Abs(without.Clay.Value-10)-2)
	assert.LessOrEqual(t, with.Clay.Low, 10.0)
}
