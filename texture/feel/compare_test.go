package feel

import (
	"encoding/json"
	"math/rand/v2"
	"os"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/stat"
	"pgregory.net/rapid"

	"mudline/texture"
)

// rendered is a rendered jar with what its reading leaves possible; see
// testdata/README.md.
type rendered struct {
	Jar, Class string
	Truth      [3]float64
	Soils      [][3]float64
}

func renderedJars(t *testing.T) []rendered {
	data, err := os.ReadFile("testdata/clouds.json")
	require.NoError(t, err)
	var out []rendered
	require.NoError(t, json.Unmarshal(data, &out))
	return out
}

func soil(v [3]float64) texture.Fractions {
	return texture.Fractions{Sand: v[0], Silt: v[1], Clay: v[2]}.Normalised()
}

func (r rendered) cloud() []texture.Fractions {
	var out []texture.Fractions
	for _, s := range r.Soils {
		out = append(out, soil(s))
	}
	return out
}

// Of soils that are known exactly, as many observations drawn from the
// likelihoods are called a disagreement, and borderline, as the limits say.
func TestVerdictsComeAtTheirRate(t *testing.T) {
	if testing.Short() {
		t.Skip("long, and nothing runs side by side in it; the plain run has it")
	}
	rng := rand.New(rand.NewPCG(7, 8))
	const draws = 150
	for _, hands := range []Hands{Practised, Beginner} {
		disagree, borderline := 0, 0
		for range draws {
			f := triangle()[rng.IntN(len(triangle()))]
			c, ok := Compare(person(hands, f, rng), []texture.Fractions{f})
			require.True(t, ok)
			switch c.Verdict {
			case Disagree:
				disagree++
			case Borderline:
				borderline++
			}
		}
		t.Logf("%s: %d disagree, %d borderline of %d", hands, disagree, borderline, draws)
		assert.InDelta(t, disagreeBelow, float64(disagree)/draws, 0.09, "%s", hands) // three standard errors
		assert.InDelta(t, borderlineBelow, float64(disagree+borderline)/draws, 0.11, "%s", hands)
	}
}

// Hands that felt one rendered jar's soil, beside the readings of that jar and of
// those whose class is neither the same nor a neighbour, where a jar has several
// photos. Practised hands call nine in ten of these a disagreement; the jar of one
// photo leaves clay from 5 to 79 % possible, which few hands can contradict. Hands as
// good as three surveys found them on average (54 % hits: Salley et al. 2018, Foss et
// al. 1975, Arizona) call six in seven one. Beginners miss the class and its neighbours
// so often that theirs contradict a jar in two swapped pairs of three.
func TestSwappedJars(t *testing.T) {
	if testing.Short() {
		t.Skip("long, and nothing runs side by side in it; the plain run has it")
	}
	usual := skills[Practised]
	defer func() { skills[Practised] = usual }()
	for name, c := range map[string]struct {
		hands        Hands
		skill        skill
		draws        int
		several, all float64 // at least so many swapped pairs are called a disagreement
	}{
		"practised":     {Practised, usual, 2, 0.9, 0.85},
		"three surveys": {Practised, skill{spread: 6, astray: usual.astray, ribbon: usual.ribbon}, 2, 0.83, 0.8},
		"beginner":      {Beginner, skills[Beginner], 1, 0.5, 0.5},
	} {
		if name == "three surveys" && os.Getenv("MUDLINE_LONG") == "" {
			continue // a check of what the limits hang on, as the guide quotes it
		}
		skills[c.hands] = c.skill
		s := swap(t, c.hands, c.draws)
		t.Logf("%s: disagree %g of %g swapped pairs, %g of %g with the jar of one photo, %g of %g own pairs", name, s.called, s.swapped, s.calledOfOne, s.ofOne, s.wronged, s.own)
		assert.GreaterOrEqual(t, s.called/s.swapped, c.several, "%s: jars of several photos", name)
		assert.GreaterOrEqual(t, (s.called+s.calledOfOne)/(s.swapped+s.ofOne), c.all, "%s: all jars", name)
		assert.LessOrEqual(t, s.wronged/s.own, disagreeBelow+0.1, "%s", name)
	}
}

// swaps counts pairs of hands and jar, and which of them are called a disagreement.
type swaps struct{ swapped, called, ofOne, calledOfOne, own, wronged float64 }

func swap(t *testing.T, hands Hands, draws int) (out swaps) {
	const onePhoto = "open-12"
	jars, rng := renderedJars(t), rand.New(rand.NewPCG(9, 10))
	for _, b := range jars {
		neighbours, err := texture.Neighbours(b.Class, texture.USDA)
		require.NoError(t, err)
		for range draws {
			o := person(hands, soil(b.Truth), rng)
			for _, a := range jars {
				if a.Jar != b.Jar && (a.Class == b.Class || slices.Contains(neighbours, a.Class)) {
					continue
				}
				v, ok := Compare(o, a.cloud())
				require.True(t, ok)
				disagree := 0.0
				if v.Verdict == Disagree {
					disagree = 1
				}
				switch {
				case a.Jar == b.Jar:
					out.own, out.wronged = out.own+1, out.wronged+disagree
				case a.Jar == onePhoto:
					out.ofOne, out.calledOfOne = out.ofOne+1, out.calledOfOne+disagree
				default:
					out.swapped, out.called = out.swapped+1, out.called+disagree
				}
			}
		}
	}
	return out
}

func TestCompareSaysNothingOfNothing(t *testing.T) {
	_, ok := Compare(Observation{Smell: Sour}, []texture.Fractions{at(40, 20)})
	assert.False(t, ok)
	_, ok = Compare(Observation{Ball: FirmBall}, nil)
	assert.False(t, ok)
}

// The joint weights are Bayes' rule: as the likelihoods, each soil counting once.
func TestWeightsFollowTheLikelihood(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		o := anyObservation(t)
		o.Ball = FirmBall
		o.RibbonsMM = o.RibbonsMM[:min(len(o.RibbonsMM), 3)]
		jar := []texture.Fractions{anySoil(t), anySoil(t), anySoil(t)}
		c, ok := Compare(o, jar)
		require.True(t, ok)
		require.InDelta(t, 1, sum(c.Weights), 1e-9)
		require.True(t, c.Probability > 0 && c.Probability <= 1, "%v", c.Probability)
		require.True(t, c.Effective >= 1-1e-9 && c.Effective <= 3+1e-9)
		require.InDelta(t, LogLikelihood(o, jar[0])-LogLikelihood(o, jar[1]), logRatio(c.Weights[0], c.Weights[1]), 1e-9)
	})
}

// Hands and jar together narrow the clay, and lie between the two.
func TestJointLiesBetween(t *testing.T) {
	jars := renderedJars(t)
	i := slices.IndexFunc(jars, func(r rendered) bool { return r.Jar == "open-14" }) // clay of 30 to 73 %
	cloud := jars[i].cloud()
	o := Observation{Hands: Practised, Ball: FirmBall, Failure: Deforms, RibbonsMM: []float64{55, 60, 65}} // about 40 %
	c, ok := Compare(o, cloud)
	require.True(t, ok)
	require.NotEqual(t, Disagree, c.Verdict)
	_, _, jar := Weighted(cloud, evenly(len(cloud)))
	_, _, both := Weighted(cloud, c.Weights)
	hands := ByHand(o, texture.USDA).Clay
	assert.True(t, hands.Value < both.Value && both.Value < jar.Value, "%v %v %v", hands, both, jar)
	assert.Less(t, both.High-both.Low, jar.High-jar.Low)
	sandy, silty, clayey := Weighted(cloud, c.Weights)
	assert.InDelta(t, 100, sandy.Value+silty.Value+clayey.Value, 1e-9)
}

// Quantiles beside those of gonum/stat, which take a soil where ours lie between two.
func TestQuantilesAgainstGonum(t *testing.T) {
	rng := rand.New(rand.NewPCG(11, 12))
	var soils []texture.Fractions
	var weights, clays []float64
	for range 2000 {
		clays = append(clays, 100*rng.Float64())
		soils = append(soils, at(0, clays[len(clays)-1]))
		weights = append(weights, rng.Float64())
	}
	e := estimate(soils, weights, clay)
	stat.SortWeighted(clays, weights)
	for q, got := range map[float64]float64{0.05: e.Low, 0.5: e.Value, 0.95: e.High} {
		assert.InDelta(t, stat.Quantile(q, stat.Empirical, clays, weights), got, 0.2, "%g", q)
	}
	four := []texture.Fractions{at(0, 40), at(0, 10), at(0, 30), at(0, 20)}
	assert.InDelta(t, 25, estimate(four, evenly(4), clay).Value, 1e-9, "the median of an even number")
	assert.InDelta(t, 30, estimate(four[:3], evenly(3), clay).Value, 1e-9)
}
