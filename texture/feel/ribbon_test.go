package feel

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mudline/texture"
)

// Several ribbons are their mean on the scale of stretch, known by their own scatter and the
// usual one, and shifted by the hand's own way of pressing: the more of them, the surer, but
// never surer than that. What was left out before they were pressed broke them early, by
// about a fifth each, and nobody knows how much exactly.
func TestRibbonsTogether(t *testing.T) {
	of := func(neglected int, mm ...float64) ribbon {
		o := Observation{Hands: Practised, RibbonsMM: mm}
		for i, a := range []*Answer{&o.StonesOut, &o.Moistened, &o.Kneaded} {
			if i < neglected {
				*a = No
			}
		}
		r, ok := o.ribbon()
		require.True(t, ok)
		return r
	}
	one, five := of(0, 30), of(0, 30, 30, 30, 30, 30)
	assert.InDelta(t, math.Log(4), one.mean, 1e-12, "30 mm are four times 10 mm and the first 10")
	assert.InDelta(t, (math.Log(2)+math.Log(3)+math.Log(6))/3, of(0, 10, 20, 50).mean, 1e-12)
	assert.Equal(t, of(0, 10, 20, 50), of(0, 50, 10, 20), "in any order")
	assert.Less(t, five.sd, one.sd)
	assert.Greater(t, five.sd, scales)
	assert.Greater(t, of(0, 10, 20, 30, 40, 80).sd, five.sd, "uneven ones tell less")
	// Scatter as is usual of these hands leaves a mean of n the usual spread by root of n.
	usual := skills[Practised].ribbon
	pair := of(0, 10*math.Expm1(math.Log(4)-usual/math.Sqrt2), 10*math.Expm1(math.Log(4)+usual/math.Sqrt2))
	assert.InDelta(t, math.Hypot(usual/math.Sqrt2, scales), pair.sd, 1e-9)

	broken := of(1, 30)
	assert.InDelta(t, 0.2, 1-math.Exp(one.mean-broken.mean), 0.03, "a fifth")
	assert.InDelta(t, 2*(broken.mean-one.mean), of(2, 30).mean-one.mean, 1e-12)
	for n := range 4 { // as much in doubt as it is long, each for itself
		assert.InDelta(t, one.sd*one.sd+float64(n)*(broken.mean-one.mean)*(broken.mean-one.mean), of(n, 30).sd*of(n, 30).sd, 1e-12)
	}
	_, ok := Observation{}.ribbon()
	assert.False(t, ok)
}

// Whatever the soil, one of the results that a test can have is had: their probabilities add
// up to one, and those of ribbons by the normal law over lengths.
func TestResultsAddUpToOne(t *testing.T) {
	o := Observation{Hands: Beginner, Grit: Some, Smooth: None, Sticky: Strong, Ball: FirmBall, Failure: Cracks, RibbonsMM: []float64{20, 30}}
	tests := o.tests()
	require.Len(t, tests, 6)
	for k, one := range tests {
		for i := 0; i < len(triangle()); i += 37 {
			all := 0.0
			for _, result := range one.results {
				require.GreaterOrEqual(t, result[i], 0.0)
				all += result[i]
			}
			assert.InDelta(t, 1, all, 1e-9, "test %d, soil %v", k, triangle()[i])
		}
		assert.Less(t, one.given, len(one.results))
	}
	r, _ := o.ribbon()
	i := len(triangle()) / 3
	usual := stretch(usualRibbonMM(binding(triangle()[i])))
	for k, result := range r.results()[1 : ribbonBins-1] {
		low, width := longest*float64(k+1)/ribbonBins, longest/ribbonBins
		mid := (low + width/2 - usual) / r.sd
		// The density in the middle of a narrow piece, times its width (Simpson's third of it
		// lies at the ends).
		ends := math.Exp(-sq((low-usual)/r.sd)/2) + math.Exp(-sq((low+width-usual)/r.sd)/2)
		want := width / r.sd / math.Sqrt(2*math.Pi) * (ends + 4*math.Exp(-mid*mid/2)) / 6
		assert.InDelta(t, want, result[i], 1e-4)
	}
}

func sq(x float64) float64 { return x * x }

// Hands and jar that differ by less than five points need no reason.
func TestNoReasonForASmallDifference(t *testing.T) {
	o := Observation{Hands: Practised, Ball: FirmBall, Grit: Some, Smooth: Some, RibbonsMM: []float64{37, 37, 37}}
	hands := ByHand(o, texture.USDA)
	jar := func(lessClay float64) Jar {
		clay := hands.Clay.Value - lessClay
		return Jar{Soils: []texture.Fractions{{Sand: hands.Sand.Value, Silt: 100 - hands.Sand.Value - clay, Clay: clay}}, RulerClay: math.NaN()}
	}
	for less, some := range map[float64]bool{0: false, 4.5: false, -4.5: false, 5.5: true, -5.5: true} {
		assert.Equal(t, some, len(Reasons(o, jar(less))) > 0, "%g points less", less)
	}
}

// What is felt is a probability over the triangle, wherever the soil lies, and so is what is
// felt of any soil: the mean of all.
func TestWhatIsFeltIsAProbability(t *testing.T) {
	for hands, s := range skills {
		all := s.anywhere()
		assert.InDelta(t, 1, sum(all), 1e-9, "%s", hands)
		mean := make([]float64, 3)
		for _, f := range triangle() {
			felt := s.felt(f)
			for i, k := range []int{0, 700, 1599} {
				mean[i] += felt[k] / float64(len(triangle()))
			}
		}
		for i, k := range []int{0, 700, 1599} {
			assert.InDelta(t, mean[i], all[k], 1e-12)
			assert.Positive(t, all[k])
		}
	}
}

// How probable answers as unlikely as those given are: by going through all, two tests of two
// and three results with two soils.
func TestTailByGoingThroughAll(t *testing.T) {
	tests := []test{{results{{0.5, 0.2}, {0.5, 0.8}}, 0}, {results{{0.1, 0.6}, {0.3, 0.3}, {0.6, 0.1}}, 1}}
	byJar, byAny := []float64{0.9, 0.1}, []float64{0.4, 0.6}
	for a, p := range tests[0].results {
		for b, q := range tests[1].results {
			both := func(by []float64, p, q []float64) float64 { return by[0]*p[0]*q[0] + by[1]*p[1]*q[1] }
			given, want := both(byJar, p, q)/both(byAny, p, q), 0.0
			for _, p := range tests[0].results {
				for _, q := range tests[1].results {
					if both(byJar, p, q) <= given*both(byAny, p, q)*(1+1e-9) {
						want += both(byJar, p, q)
					}
				}
			}
			got := tail(tests, byJar, byAny, given)
			assert.InDelta(t, want, got, 1e-12, "%d, %d", a, b)
			assert.Positive(t, got)
			assert.LessOrEqual(t, got, 1+1e-12)
		}
	}
	assert.InDelta(t, 1, tail(tests, byJar, byAny, 1e9), 1e-12, "anything is as unlikely")
}
