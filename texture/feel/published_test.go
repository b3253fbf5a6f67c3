package feel

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mudline/texture"
)

// probability is how probable the hands alone make it that a soil is so.
func probability(o Observation, so func(texture.Fractions) bool) float64 {
	p := 0.0
	for i, w := range o.posterior() {
		if so(triangle()[i]) {
			p += w
		}
	}
	return p
}

func classProbability(o Observation, names ...string) float64 {
	p := 0.0
	for _, c := range ByHand(o, texture.USDA).Classes {
		if slices.Contains(names, c.Name) {
			p += c.Probability
		}
	}
	return p
}

// shares are the classes' percent of the triangle's area, by counting a 0.5 %
// grid of 20 301 points.
var shares = map[string]float64{"clay": 29.83, "silt loam": 16.33, "sandy loam": 11.22, "sandy clay loam": 7.68, "loam": 6.94, "clay loam": 6.40,
	"silty clay loam": 5.25, "silty clay": 4.24, "sandy clay": 4.04, "silt": 3.49, "loamy sand": 3.00, "sand": 1.58}

var felt = map[string][2]Degree{"gritty": {Strong, None}, "neither": {Some, Some}, "smooth": {None, Strong}}

// thien is the table of the flow chart, Thien (1979), J. Agron. Educ. 8:54-55 (from
// memory; ribbon bands and names read in the Oregon State forage guide): ball, ribbon and
// which feeling rules give the class. Ribbons are the middle of a band. Loamy sand and
// sandy loam are parted by dropping the ball (geopedology handbook): one collapses, the
// other stays whole.
var thien = []struct {
	ball    Ball
	failure Failure
	ribbon  float64 // mm; -1 where there is no ball to press
	class   map[string]string
}{
	{NoBall, "", -1, map[string]string{"gritty": "sand"}},
	{WeakBall, FallsApart, 0, map[string]string{"gritty": "loamy sand"}},
	{WeakBall, Cracks, 15, map[string]string{"gritty": "sandy loam"}},
	{FirmBall, "", 15, map[string]string{"neither": "loam", "smooth": "silt loam"}},
	{FirmBall, "", 37, map[string]string{"gritty": "sandy clay loam", "neither": "clay loam", "smooth": "silty clay loam"}},
	{FirmBall, "", 70, map[string]string{"gritty": "sandy clay", "neither": "clay", "smooth": "silty clay"}},
}

// eachOfThien gives what hands would find for each class of the table.
func eachOfThien(of func(class string, o Observation)) {
	for _, row := range thien {
		for rules, class := range row.class {
			o := Observation{Hands: Practised, Ball: row.ball, Failure: row.failure, Grit: felt[rules][0], Smooth: felt[rules][1]}
			if row.ribbon >= 0 {
				o.RibbonsMM = slices.Repeat([]float64{row.ribbon}, 3)
			}
			of(class, o)
		}
	}
}

// TestThiensTable: the class that the program makes most probable is the table's, or the
// table's is as good as: a sandy loam of hardly any clay, of which the triangle holds more
// than of loamy sand, gives no ribbon either.
func TestThiensTable(t *testing.T) {
	if testing.Short() {
		t.Skip("long, and nothing runs side by side in it; the plain run has it")
	}
	eachOfThien(func(class string, o Observation) {
		assert.Empty(t, Check(o), class)
		classes := ByHand(o, texture.USDA).Classes
		i := slices.IndexFunc(classes, func(c texture.ClassProbability) bool { return c.Name == class })
		if assert.GreaterOrEqual(t, i, 0, class) && class == "loamy sand" {
			assert.Greater(t, classes[i].Probability, 0.9*classes[0].Probability, "%s: %v", class, classes[:3])
		} else {
			assert.Zero(t, i, "%s: %v", class, classes[:3])
		}
	})
}

// The simulated people of TestHitRates name classes by the same table.
func TestSimulatedPeopleKnowThiensTable(t *testing.T) {
	eachOfThien(func(class string, o Observation) { assert.Equal(t, class, byThien(o)) })
	assert.Equal(t, "silt", byThien(Observation{Ball: FirmBall, Grit: None, Smooth: Strong, RibbonsMM: []float64{3, 4, 5}}))
}

// Thien's table again, by the clay of its classes in the triangle (from memory):
// the clay that the hands make most likely lies in the band of the row. The last
// row is silt, for which the chart has no leaf: no grit and almost no ribbon
// (common practice).
func TestThiensClay(t *testing.T) {
	if testing.Short() {
		t.Skip("long, and nothing runs side by side in it; the plain run has it")
	}
	type band [2]float64
	for _, row := range []struct {
		ball                    Ball
		ribbon                  float64
		gritty, neither, smooth band
	}{
		{WeakBall, 0, band{0, 15}, band{0, 15}, band{0, 15}},
		{FirmBall, 15, band{0, 20}, band{0, 27}, band{0, 27}},
		{FirmBall, 37, band{20, 35}, band{27, 40}, band{27, 40}},
		{FirmBall, 70, band{35, 100}, band{40, 100}, band{40, 100}},
	} {
		for rules, clay := range map[string]band{"gritty": row.gritty, "neither": row.neither, "smooth": row.smooth} {
			a := ByHand(Observation{Hands: Practised, Ball: row.ball, Grit: felt[rules][0], Smooth: felt[rules][1], RibbonsMM: slices.Repeat([]float64{row.ribbon}, 3)}, texture.USDA)
			assert.True(t, clay[0] <= a.Clay.Value && a.Clay.Value <= clay[1], "%s, ribbon %g mm: %v for %v", rules, row.ribbon, a.Clay, clay)
		}
	}
	assert.Less(t, ByHand(Observation{Hands: Practised, Ball: NoBall, Grit: Strong}, texture.USDA).Clay.Value, 10.0, "no ball")
	silt := Observation{Hands: Practised, Ball: FirmBall, Grit: None, Smooth: Strong, RibbonsMM: []float64{3, 4, 5}}
	assert.Greater(t, classProbability(silt, "silt", "silt loam"), 0.9)
	assert.Greater(t, classProbability(silt, "silt"), 5*shares["silt"]/100, "silt has come to the fore")
}

// Thien's chart calls all that keeps no ball sand, once it is neither too dry nor
// too wet. Sand is gritty: no ball of a soil that is not is asked about, not named.
func TestNoBallIsGritty(t *testing.T) {
	for _, o := range []Observation{{Grit: Some}, {Grit: None}, {Smooth: Strong}, {Grit: Some, Smooth: Some}} {
		o.Ball = NoBall
		q := Check(o)
		require.Len(t, q, 1, "%+v", o)
		assert.Contains(t, q[0].String(), "moist soil that keeps no ball is sand")
	}
	assert.Empty(t, Check(Observation{Ball: NoBall, Grit: Strong, Smooth: Some}))
	assert.Empty(t, Check(Observation{Ball: NoBall}))
}

// Australian field texture grades (clay column read at a field-grade laboratory
// page; ribbons of McDonald et al. 1990 and Northcote 1979 from memory, of sandy
// loam, clay loam and the clays read in the MLA manual after NSW Agriculture):
// the clay that the hands leave possible holds the middle of the grade's range.
func TestAustralianGrades(t *testing.T) {
	if testing.Short() {
		t.Skip("long, and nothing runs side by side in it; the plain run has it")
	}
	for _, g := range []struct {
		grade              string
		fromMM, toMM       float64
		clayFrom, clayUpTo float64
	}{
		{"sand", 0, 0, 0, 5},
		{"loamy sand", 5, 5, 5, 5},
		{"clayey sand", 5, 15, 5, 10},
		{"sandy loam", 15, 25, 10, 20},
		{"loam", 25, 25, 25, 25},
		{"silty loam", 25, 25, 25, 25},
		{"loam, six classes of the MLA manual", 25, 40, 25, 30},
		{"sandy clay loam", 25, 40, 20, 30},
		{"clay loam", 40, 50, 30, 35},
		{"clay loam, sandy; silty clay loam", 40, 50, 30, 35},
		{"light clay", 50, 75, 35, 40},
		{"light to medium clay, six classes", 50, 75, 35, 45},
		{"light medium clay", 75, 75, 40, 45},
		{"medium clay", 75, 90, 45, 55},
		{"medium to heavy clay, over 75 mm and over 45 %", 75, 100, 45, 60},
		{"medium heavy and heavy clay, over 75 mm and over 50 %", 75, 110, 50, 65},
	} {
		mid := (g.fromMM + g.toMM) / 2
		a := ByHand(Observation{Hands: Practised, RibbonsMM: []float64{mid, g.fromMM, g.toMM}}, texture.USDA)
		clay := (g.clayFrom + g.clayUpTo) / 2
		assert.True(t, a.Clay.Low <= clay && clay <= a.Clay.High, "%s, about %g %% clay: %+v", g.grade, clay, a.Clay)
		assert.InDelta(t, clay, a.Clay.Value, 9, "%s", g.grade)
	}
	// Silty loam has 25 % silt or more (Agriculture Victoria), up to 20 um: as much or
	// more by the limit of 50 um here.
	silty := Observation{Hands: Practised, RibbonsMM: []float64{25, 25, 25}, Smooth: Strong}
	assert.Greater(t, probability(silty, func(f texture.Fractions) bool { return f.Silt >= 25 }), 0.9)
}

// Rules of thumb, common practice.
func TestRulesOfThumb(t *testing.T) {
	assert.GreaterOrEqual(t, probability(Observation{RibbonsMM: []float64{50.8, 50.8, 50.8}, Hands: Practised},
		func(f texture.Fractions) bool { return f.Clay > 20 }), 0.9, "a ribbon of two inches means over 20 % clay")
	half := Observation{RibbonsMM: []float64{9, 10, 11}, Hands: Practised}
	sandy := classProbability(half, "sand", "loamy sand", "sandy loam")
	assert.Greater(t, sandy, 2*classProbability(Observation{}, "sand", "loamy sand", "sandy loam"), "a ribbon under half an inch is sandy")
	assert.Less(t, probability(half, func(f texture.Fractions) bool { return f.Clay >= 27 }), 0.05, "nor does it leave clays and clay loams")
	assert.Greater(t, ballGrading.answer(at(100, 0), skills[Practised].blur())[0], 0.95, "pure sand keeps no ball")
	assert.Greater(t, classProbability(Observation{Ball: NoBall, Hands: Practised}, "sand", "loamy sand"),
		0.75*(1-skills[Practised].astray), "what keeps no ball is sand")
	assert.GreaterOrEqual(t, usualRibbonMM(50), 3*25.4, "50 % clay ribbons several inches")
	apart := ByHand(Observation{Ball: FirmBall, Failure: FallsApart}, texture.USDA).Clay.Value
	cracks := ByHand(Observation{Ball: FirmBall, Failure: Cracks}, texture.USDA).Clay.Value
	deforms := ByHand(Observation{Ball: FirmBall, Failure: Deforms}, texture.USDA).Clay.Value
	assert.True(t, apart < cracks && cracks < deforms, "the harder the ball is to break, the more clay: %g %g %g", apart, cracks, deforms)
}
