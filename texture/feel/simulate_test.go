package feel

import (
	"math"
	"math/rand/v2"

	"mudline/texture"
)

// person finds what hands would in a handful of soil f, drawn from the
// likelihoods: everything is asked, five ribbons are pressed.
func person(hands Hands, f texture.Fractions, rng *rand.Rand) Observation {
	o := Observation{Hands: hands, StonesOut: Yes, Moistened: Yes, Kneaded: Yes}
	s := o.skill()
	felt := triangle()[draw(s.felt(f), rng)]
	pick := func(q grading) int { p := q.answer(felt, s.blur()); return draw(p[:], rng) }
	degrees := []Degree{None, Some, Strong}
	o.Grit, o.Smooth, o.Sticky = degrees[pick(gritGrading)], degrees[pick(smoothGrading)], degrees[pick(stickyGrading)]
	o.Ball = []Ball{NoBall, WeakBall, FirmBall}[pick(ballGrading)]
	if o.Ball == NoBall {
		return o
	}
	o.Failure = []Failure{FallsApart, Cracks, Deforms}[pick(failureGrading)]
	own := scales * rng.NormFloat64()
	for range 5 {
		y := stretch(usualRibbonMM(binding(felt))) + own + s.ribbon*rng.NormFloat64()
		o.RibbonsMM = append(o.RibbonsMM, math.Max(0, 10*math.Expm1(y)))
	}
	return o
}

func draw(p []float64, rng *rand.Rand) int {
	u := rng.Float64() * sum(p)
	for i, v := range p {
		if u -= v; u <= 0 {
			return i
		}
	}
	return len(p) - 1
}

// byThien names the class by the table of Thien (1979), J. Agron. Educ. 8:54-55,
// with silt as the field guides take it: silt loam of almost no ribbon and no grit.
func byThien(o Observation) string {
	column := 1
	switch {
	case o.Grit == Strong && o.Smooth != Strong:
		column = 0
	case o.Smooth == Strong && o.Grit != Strong:
		column = 2
	}
	mm := 0.0
	for _, v := range o.RibbonsMM {
		mm += v / float64(len(o.RibbonsMM))
	}
	switch {
	case o.Ball == NoBall:
		return "sand"
	case mm < 10 && column == 2 && o.Grit == None:
		return "silt"
	case mm < noRibbonMM:
		return "loamy sand"
	case mm < 25:
		return []string{"sandy loam", "loam", "silt loam"}[column]
	case mm < 50:
		return []string{"sandy clay loam", "clay loam", "silty clay loam"}[column]
	}
	return []string{"sandy clay", "clay", "silty clay"}[column]
}

// noRibbonMM is up to where what was pressed out is no ribbon yet: the
// Australian grades give a loamy sand one of about 5 mm.
const noRibbonMM = 7.5

func logRatio(a, b float64) float64 { return math.Log(a) - math.Log(b) }
