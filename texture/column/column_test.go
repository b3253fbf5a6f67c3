package column

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// logUniform spreads share evenly over log diameter, lo to hi um, n classes.
func logUniform(lo, hi, share float64, n, kind int) []Component {
	return lognormal(lo, hi, math.Sqrt(lo*hi), 1e6, n, kind, share)
}

// loam is 40/40/20 with log-uniform classes: the soil of the checks below.
func loam(solidsGL float64) Soil {
	s := Soil{DepthMM: 150, TempC: 20, SolidsGL: solidsGL, GrainDensity: 2650, Exponent: 4.65,
		Weights: [3]float64{1554, 1121, 416}, SqueezeS: 1}
	s.Parts = logUniform(50, 2000, 0.4, 16, 0)
	s.Parts = append(s.Parts, logUniform(2, 50, 0.4, 24, 1)...)
	s.Parts = append(s.Parts, logUniform(0.2, 2, 0.2, 12, 2)...)
	return s
}

// TestRecipesOfSettledMass checks what plain recipes read in a dilute jar, by
// layers of settled mass: worked out from Oden's theory apart from this code,
// for soil 40/40/20, 15 cm, 20 C.
func TestRecipesOfSettledMass(t *testing.T) {
	for _, c := range []struct {
		times [3]float64
		want  [3]float64
	}{
		{[3]float64{60, 7200, 172800}, [3]float64{50.4, 32.6, 17.0}},
		{[3]float64{60, 21600, 86400}, [3]float64{52.1, 40.8, 7.2}},
		{[3]float64{120, 7200, 172800}, [3]float64{55.2, 27.8, 17.0}},
	} {
		s := loam(0.5)
		st, err := s.Settle(c.times[:])
		require.NoError(t, err)
		a, b, all := st[0].DepositMass, st[1].DepositMass, st[2].DepositMass
		for k, got := range []float64{a, b - a, all - b} {
			assert.InDelta(t, c.want[k], 100*got/all, 0.8, "times %v, layer %d", c.times, k)
		}
	}
}

func TestMassIsConserved(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 5))
	for range 2 {
		s := Random(r)
		st, err := s.Settle([]float64{30, 600, 20000})
		require.NoError(t, err)
		total := s.SolidsGL * s.DepthMM / 1000
		for _, x := range st {
			assert.InEpsilon(t, total, x.DepositMass+x.SuspendedGL*s.DepthMM/1000, 1e-6, "at %v s", x.TimeS)
		}
	}
}

func TestCrowdingSlows(t *testing.T) {
	free, crowded := loam(300), loam(300)
	free.Exponent = 0
	a, err := free.Settle([]float64{60})
	require.NoError(t, err)
	b, err := crowded.Settle([]float64{60})
	require.NoError(t, err)
	assert.Less(t, b[0].DepositMass, 0.97*a[0].DepositMass)
}

func TestNothingToSettle(t *testing.T) {
	_, err := (&Soil{}).Settle([]float64{1})
	assert.Error(t, err)
}
