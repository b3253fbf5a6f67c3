package texture

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/stat"

	"mudline/texture/column"
)

// TestNextKeepsItsPromise settles soils in a slow column, reads them from some
// photos, takes the photo that the reading asks for, and reads them again: on
// average the widest interval is as wide as was foretold.
func TestNextKeepsItsPromise(t *testing.T) {
	all := Moments(MostMoments)
	const soils = 10
	var settled [soils]column.Soil
	var seen [soils][]column.State
	for i := range soils {
		settled[i] = column.Random(rand.New(rand.NewPCG(uint64(i), 77)))
		var err error
		seen[i], err = settled[i].Settle(all)
		require.NoError(t, err)
	}
	for name, first := range map[string][]float64{"the usual three": {60, 7200, 172800}, "a first day": {60, 7200}} {
		foretold, found, now, asked := 0.0, 0.0, 0.0, 0
		for i, soil := range settled {
			read := func(times []float64) Result {
				var obs []Observation
				for k, s := range seen[i] {
					if slices.Contains(times, all[k]) {
						obs = append(obs, asSeen(s, soil.DepthMM, rand.New(rand.NewPCG(uint64(i), uint64(k)))))
					}
				}
				return mustInvert(t, obs, Setup{WaterDepthMM: soil.DepthMM, TempC: &soil.TempC, TempSDC: 1})
			}
			before := read(first)
			if before.Next == nil {
				continue
			}
			n := before.Next
			require.Contains(t, all, n.ElapsedS)
			require.NotContains(t, first, n.ElapsedS)
			require.Equal(t, n.ElapsedS < slices.Max(first), n.Again)
			after := read(append(slices.Clone(first), n.ElapsedS))
			asked++
			now, foretold, found = now+n.WidthNow, foretold+n.WidthThen, found+widest90(after)
		}
		k := float64(asked)
		t.Logf("%s: asked %d of %d, widest interval now %.1f, foretold %.1f, found %.1f", name, asked, soils, now/k, foretold/k, found/k)
		require.Greater(t, asked, 2)
		assert.InEpsilon(t, foretold, found, 0.25, name)
		assert.Less(t, found, now, name)
	}
}

func widest90(r Result) float64 {
	return math.Max(r.Sand.High-r.Sand.Low, math.Max(r.Silt.High-r.Silt.Low, r.Clay.High-r.Clay.Low))
}

// asSeen is a state of the column as a photo shows it: lines with the errors, and
// as often seen, as the plan expects.
func asSeen(s column.State, depthMM float64, r *rand.Rand) Observation {
	seen := func(kind lineKind, v float64) *Height {
		e := expectedLine[kind]
		mm, shown := v+e.sd*r.NormFloat64(), r.Float64() < e.seen
		if math.IsNaN(v) || !shown || mm < 0.5 {
			return nil
		}
		return heightIn(depthMM, mm, e.sd)
	}
	o := Observation{ElapsedS: s.TimeS, ElapsedSDS: 1, DepositTop: seen(depositTop, s.DepositTopMM), SandTop: seen(sandTop, s.SandTopMM), SiltTop: seen(siltTop, s.SiltTopMM)}
	order(&o)
	return o
}

func TestNextNamesNoPhotoThatIsThere(t *testing.T) {
	r := mustInvert(t, threePhotos(), usualSetup())
	if r.Next != nil {
		for _, o := range threePhotos() {
			assert.Greater(t, math.Abs(math.Log(o.ElapsedS/r.Next.ElapsedS)), math.Log(nextApart))
		}
		assert.LessOrEqual(t, r.Next.WidthThen, nextWorth*r.Next.WidthNow)
	}
	quick := usualSetup()
	quick.Quick = true
	assert.Nil(t, mustInvert(t, threePhotos(), quick).Next)
}

func TestShrink(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 1))
	var soils, lines [][3]float64
	for range 20000 {
		a, b := r.NormFloat64(), r.NormFloat64()
		soils = append(soils, [3]float64{10 * a, 10 * b, 0})
		lines = append(lines, [3]float64{3 * a, 0, 0})
	}
	// One line of 3 mm spread, read with a variance of v, leaves v/(9+v) of it.
	e, m := expectedLine[depositTop], modelError[depositTop]
	v := (e.sd*e.sd + m.mm*m.mm) / e.seen
	got := shrink(soils, lines)
	assert.InDelta(t, math.Sqrt(v/(9+v)), got[0], 0.02)
	assert.InDelta(t, 1, got[1], 0.01)
	assert.Equal(t, 1.0, got[2])
	// Three lines, each of one of three parts of a soil: what is left of each part adds up.
	soils, lines = nil, nil
	for range 20000 {
		a, b, c := r.NormFloat64(), r.NormFloat64(), r.NormFloat64()
		soils = append(soils, [3]float64{a + b + c, a, c})
		lines = append(lines, [3]float64{3 * a, 2 * b, 5 * c})
	}
	part := func(line lineKind, spread float64) float64 {
		e, m := expectedLine[line], modelError[line]
		v := (e.sd*e.sd + m.mm*m.mm) / e.seen
		return v / (spread*spread + v)
	}
	got = shrink(soils, lines)
	assert.InDelta(t, math.Sqrt((part(depositTop, 3)+part(sandTop, 2)+part(siltTop, 5))/3), got[0], 0.02)
	assert.InDelta(t, math.Sqrt(part(depositTop, 3)), got[1], 0.02)
	assert.InDelta(t, math.Sqrt(part(siltTop, 5)), got[2], 0.02)
}

func BenchmarkNext(b *testing.B) {
	pr := newProblem(threePhotos(), usualSetup())
	s := pr.posterior()
	for b.Loop() {
		pr.worth(s)
	}
}

// The covariance of what is expected, by gonum.
func TestCovarianceAgainstGonum(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 6))
	var a, b [][3]float64
	for range 40 {
		x := [3]float64{10 * rng.NormFloat64(), rng.NormFloat64(), 3 + rng.NormFloat64()}
		a = append(a, x)
		b = append(b, [3]float64{x[0] + rng.NormFloat64(), x[1] - 2*x[2], 50 + 7*rng.NormFloat64()})
	}
	column := func(v [][3]float64, q int) (out []float64) {
		for _, x := range v {
			out = append(out, x[q])
		}
		return out
	}
	both, own := covariance(a, b), covariance(a, a)
	for p := range 3 {
		for q := range 3 {
			assert.InDelta(t, stat.Covariance(column(a, p), column(b, q), nil), both[p][q], 1e-9)
			assert.InDelta(t, stat.Covariance(column(a, p), column(a, q), nil), own[p][q], 1e-9)
		}
	}
}
