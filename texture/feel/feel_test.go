package feel

import (
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"mudline/texture"
)

// anyObservation draws answers, some left out, that may contradict each other.
func anyObservation(t *rapid.T) Observation {
	degree := rapid.SampledFrom([]Degree{"", None, Some, Strong})
	answer := rapid.SampledFrom([]Answer{"", Yes, No})
	return Observation{
		Hands:     rapid.SampledFrom([]Hands{"", Beginner, Practised}).Draw(t, "hands"),
		StonesOut: answer.Draw(t, "stones"), Moistened: answer.Draw(t, "moistened"), Kneaded: answer.Draw(t, "kneaded"),
		Grit: degree.Draw(t, "grit"), Smooth: degree.Draw(t, "smooth"), Sticky: degree.Draw(t, "sticky"),
		Ball:      rapid.SampledFrom([]Ball{"", NoBall, WeakBall, FirmBall}).Draw(t, "ball"),
		Failure:   rapid.SampledFrom([]Failure{"", FallsApart, Cracks, Deforms}).Draw(t, "failure"),
		RibbonsMM: rapid.SliceOfN(rapid.Float64Range(0, longestMM), 0, 50).Draw(t, "ribbons"),
	}
}

func anySoil(t *rapid.T) texture.Fractions {
	sand := rapid.Float64Range(0, 100).Draw(t, "sand")
	return at(sand, rapid.Float64Range(0, 100-sand).Draw(t, "clay"))
}

func TestLikelihoodIsFinite(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := LogLikelihood(anyObservation(t), anySoil(t))
		require.False(t, math.IsNaN(l) || math.IsInf(l, 0), "%v", l)
	})
}

func TestOrderOfRibbonsChangesNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		o, f := anyObservation(t), anySoil(t)
		mixed := o
		mixed.RibbonsMM = rapid.Permutation(o.RibbonsMM).Draw(t, "mixed")
		require.Equal(t, LogLikelihood(o, f), LogLikelihood(mixed, f))
	})
}

func TestMoreRibbonsSayMore(t *testing.T) {
	if testing.Short() {
		t.Skip("long, and nothing runs side by side in it; the plain run has it")
	}
	for _, hands := range []Hands{Beginner, Practised} {
		for _, mm := range []float64{12, 30, 60} {
			last := math.Inf(1)
			for _, n := range []int{1, 3, 5} {
				c := ByHand(Observation{Hands: hands, RibbonsMM: slices.Repeat([]float64{mm}, n)}, texture.USDA).Clay
				assert.Less(t, c.High-c.Low, last, "%s: %d ribbons of %g mm", hands, n, mm)
				last = c.High - c.Low
			}
		}
	}
}

// The hand's own error does not average out: a hundred ribbons say hardly more
// than twenty.
func TestRibbonsNeverMakeCertain(t *testing.T) {
	width := func(hands Hands, n int) float64 {
		c := ByHand(Observation{Hands: hands, RibbonsMM: slices.Repeat([]float64{40}, n)}, texture.USDA).Clay
		return c.High - c.Low
	}
	for _, hands := range []Hands{Beginner, Practised} {
		assert.Greater(t, width(hands, 100), 0.95*width(hands, 20), "%s", hands)
	}
	assert.Greater(t, width(Beginner, 5), 1.5*width(Practised, 5), "a beginner's hands say less")
	even, uneven := Observation{Hands: Practised, RibbonsMM: []float64{39, 40, 41}}, Observation{Hands: Practised, RibbonsMM: []float64{20, 40, 68}}
	a, b := ByHand(even, texture.USDA).Clay, ByHand(uneven, texture.USDA).Clay
	assert.Less(t, a.High-a.Low, b.High-b.Low, "ribbons that differ say less")
}

// What was neglected makes the same ribbon stand for more clay, less surely: sandy
// clay loam to silt loam gives a weak ribbon at half to three quarters of its available
// water, and ribbons easily above (NRCS Wyoming, feel and appearance of soils).
func TestPreparation(t *testing.T) {
	well := Observation{Hands: Practised, StonesOut: Yes, Moistened: Yes, Kneaded: Yes, RibbonsMM: []float64{25, 27, 29}}
	good := ByHand(well, texture.USDA).Clay
	for _, neglect := range []func(*Observation){func(o *Observation) { o.StonesOut = No }, func(o *Observation) { o.Moistened = No }, func(o *Observation) { o.Kneaded = No }} {
		o := well
		neglect(&o)
		c := ByHand(o, texture.USDA).Clay
		assert.Greater(t, c.Value, good.Value)
		assert.Greater(t, c.High-c.Low, good.High-good.Low)
	}
}

func TestNothingSaidLeavesTheTriangle(t *testing.T) {
	for _, hands := range []Hands{"", Beginner, Practised} {
		a := ByHand(Observation{Hands: hands, Smell: Earthy, ColourDry: "brown"}, texture.USDA)
		require.Len(t, a.Classes, len(shares))
		for _, c := range a.Classes {
			assert.InDelta(t, shares[c.Name], 100*c.Probability, 0.7, "%s", c.Name)
		}
		// The clay of a soil taken at random: 1-(1-c)^2 lies below c.
		assert.InDelta(t, 100*(1-math.Sqrt(0.5)), a.Clay.Value, 1)
		assert.InDelta(t, 100*(1-math.Sqrt(0.95)), a.Clay.Low, 1)
		assert.InDelta(t, 100*(1-math.Sqrt(0.05)), a.Clay.High, 1)
	}
	assert.False(t, Telling(Observation{Smell: Earthy, ColourDry: "brown", StonesOut: Yes}))
	assert.True(t, Telling(Observation{RibbonsMM: []float64{0}}))
}

func TestSystems(t *testing.T) {
	o := Observation{Hands: Practised, RibbonsMM: []float64{100, 110, 120}}
	assert.Nil(t, ByHand(o, texture.International).Classes, "the international system has no classes")
	assert.True(t, slices.ContainsFunc(ByHand(o, texture.Canadian).Classes, func(c texture.ClassProbability) bool { return c.Name == "heavy clay" }))
}

func TestCheck(t *testing.T) {
	for name, c := range map[string]struct {
		o     Observation
		names []string // what the question must name
	}{
		"ribbon without a ball":     {Observation{Ball: NoBall, RibbonsMM: []float64{40}}, []string{"no ball", "40 mm", "1.57 in", "again"}},
		"900 mm":                    {Observation{Ball: FirmBall, RibbonsMM: []float64{30, 900}}, []string{"900 mm", "unit", "fresh"}},
		"negative":                  {Observation{RibbonsMM: []float64{-3}}, []string{"-3 mm", "below 0"}},
		"not a number":              {Observation{RibbonsMM: []float64{math.NaN()}}, []string{"no number"}},
		"infinite":                  {Observation{RibbonsMM: []float64{math.Inf(1)}}, []string{"no number"}},
		"no ball deforms":           {Observation{Ball: NoBall, Failure: Deforms}, []string{"no ball", "deforms", "again"}},
		"no ball clings":            {Observation{Ball: NoBall, Sticky: Strong}, []string{"no ball", "clings", "again"}},
		"no ball of dry soil":       {Observation{Ball: NoBall, Moistened: No}, []string{"no ball", "not wetted", "again"}},
		"no ball of what is smooth": {Observation{Ball: NoBall, Grit: None, Smooth: Strong}, []string{"no ball", "gritty above all", "again"}},
		"both above all":            {Observation{Grit: Strong, Smooth: Strong}, []string{"grit above all", "smooth above all", "again"}},
		"nothing at all":            {Observation{Grit: None, Smooth: None, Sticky: None}, []string{"no grit", "not smooth", "not sticky", "again"}},
		"putty without a ribbon":    {Observation{Failure: Deforms, RibbonsMM: []float64{0, 0}}, []string{"changes shape", "no ribbon", "again"}},
		"tough and falls apart":     {Observation{Failure: FallsApart, RibbonsMM: []float64{60}}, []string{"falls apart", "60 mm", "again"}},
		"clay that does not stick":  {Observation{Sticky: None, RibbonsMM: []float64{80}}, []string{"does not stick", "80 mm"}},
		"ribbons of different soil": {Observation{RibbonsMM: []float64{5, 90}}, []string{"5 mm", "90 mm"}},
	} {
		q := Check(c.o)
		require.Len(t, q, 1, "%s", name)
		for _, word := range c.names {
			assert.Contains(t, q[0].String(), word, "%s", name)
		}
		assert.Contains(t, q[0].String(), "?", "%s", name)
		// Put again are just the questions whose answers do not go together.
		for _, key := range Conflicts(c.o)[0].Keys {
			require.NoError(t, Set(&c.o, key, ""), "%s", name)
		}
		assert.Empty(t, Check(c.o), "%s", name)
	}
	for name, o := range map[string]Observation{
		"nothing":            {},
		"sand":               {Ball: NoBall, Grit: Strong, Smooth: None, Sticky: None},
		"sand, no ribbon":    {Ball: NoBall, Failure: FallsApart, RibbonsMM: []float64{0}},
		"loamy sand":         {Ball: WeakBall, Failure: FallsApart, Grit: Strong, RibbonsMM: []float64{5, 6}},
		"silt":               {Ball: WeakBall, Smooth: Strong, Grit: None, Sticky: None, RibbonsMM: []float64{6, 8}},
		"heavy clay":         {Ball: FirmBall, Failure: Deforms, Sticky: Strong, Grit: None, Smooth: Some, RibbonsMM: []float64{120, 90}},
		"a long fair spread": {Ball: FirmBall, RibbonsMM: []float64{25, 40, 60}},
	} {
		assert.Empty(t, Check(o), "%s", name)
	}
}

// Hands that answer as the likelihoods have it are seldom asked back.
func TestCheckRarelyAsksHonestHands(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 6))
	for _, hands := range []Hands{Practised, Beginner} {
		asked := 0
		for range 2000 {
			if len(Check(person(hands, triangle()[rng.IntN(len(triangle()))], rng))) > 0 {
				asked++
			}
		}
		t.Logf("%s: asked back %d of 2000", hands, asked)
		assert.Less(t, asked, 200, "%s", hands)
	}
}

func TestDark(t *testing.T) {
	for colour, want := range map[string]bool{"10YR 2/1": true, "10YR 3/3": true, "10YR 4/2": false, "2.5YR 3/6": false, "N 2.5/": true, "": false,
		"very dark brown": true, "black": true, "Dark grey": true, "light brown": false, "dark red": false, "pale": false} {
		assert.Equal(t, want, Dark(colour, ""), "moist %q", colour)
	}
	assert.True(t, Dark("", "10YR 5/2"))
	assert.False(t, Dark("10YR 5/2", ""))
}

func codes(rs []Reason) string {
	var out []string
	for _, r := range rs {
		out = append(out, r.Code)
	}
	return strings.Join(out, " ")
}

func TestReasonsFollowTheDirection(t *testing.T) {
	sandyJar := Jar{Soils: []texture.Fractions{at(60, 10), at(64, 12), at(62, 8)}, RulerClay: math.NaN()}
	clayJar := Jar{Soils: []texture.Fractions{at(20, 50), at(24, 54), at(16, 46)}, RulerClay: 70}
	long := Observation{Hands: Practised, Ball: FirmBall, RibbonsMM: []float64{70, 75, 80}}
	short := Observation{Hands: Practised, Ball: FirmBall, Grit: Some, RibbonsMM: []float64{20, 22, 24}}
	with := func(o Observation, change func(*Observation)) Observation { change(&o); return o }
	cloudy := sandyJar
	cloudy.Cloudy = true
	first := func(o Observation, j Jar) string { return Reasons(o, j)[0].Code }

	assert.Equal(t, "clay_clumped", first(long, sandyJar), "clay counted with the silt")
	assert.Equal(t, "organic_matter", first(with(long, func(o *Observation) { o.ColourMoist = "10YR 2/1" }), sandyJar), "dark soil")
	assert.Equal(t, "still_settling", first(long, cloudy), "not waited long enough")
	assert.Equal(t, "too_wet", first(with(long, func(o *Observation) { o.Sticky = Strong }), sandyJar))
	assert.NotContains(t, codes(Reasons(long, sandyJar)), "thickness", "the hands feel more clay, not less")
	assert.NotContains(t, codes(Reasons(long, sandyJar)), "too_dry")

	crumbles := Observation{Hands: Practised, Ball: NoBall, Grit: Strong}
	assert.Equal(t, "too_dry", first(crumbles, clayJar), "Thien's first question where no ball holds")
	assert.NotEqual(t, "too_dry", first(with(crumbles, func(o *Observation) { o.Moistened = Yes }), clayJar))
	assert.Equal(t, "stones", first(with(short, func(o *Observation) { o.StonesOut = No }), clayJar))
	assert.Equal(t, "too_dry", first(with(short, func(o *Observation) { o.Moistened = No }), clayJar))
	assert.Equal(t, "not_kneaded", first(with(short, func(o *Observation) { o.Kneaded = No }), clayJar))
	assert.Contains(t, codes(Reasons(short, clayJar)), "thickness")
	clayJar.RulerClay = math.NaN()
	assert.NotContains(t, codes(Reasons(short, clayJar)), "thickness")
	assert.NotContains(t, codes(Reasons(short, clayJar)), "organic_matter")

	for _, r := range append(Reasons(long, cloudy), Reasons(short, clayJar)...) {
		assert.Regexp(t, `\.$`, r.Text)
		assert.Regexp(t, `\.$`, r.Remedy, "what would settle it")
	}
	assert.Empty(t, Reasons(long, Jar{}))
}
