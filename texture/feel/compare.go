package feel

import (
	"math"

	"mudline/texture"
)

// Verdict is how hands and jar stand to each other.
type Verdict string

// The verdicts, by the probability of a Comparison.
const (
	Agree      Verdict = "agree"      // from borderlineBelow up
	Borderline Verdict = "borderline" // from disagreeBelow up
	Disagree   Verdict = "disagree"
)

// Of sound jars and hands, at most one pair in five is called a disagreement,
// and a few more borderline. That is a choice, for both then stand and nothing is
// lost but time: with a stricter limit too many exchanged jars would pass, since
// a jar's intervals are wide. TestSwappedJars shows what it costs and brings.
const (
	disagreeBelow   = 0.20
	borderlineBelow = 0.35
)

// Comparison is an observation beside the soils a jar leaves possible.
type Comparison struct {
	Verdict Verdict
	// Probability, in 0..1, is how often a soil as the jar describes it would
	// give answers that speak against the jar as much as these, or more.
	Probability float64
	// Weights are those of the jar's soils once the hands are heard; they add up
	// to 1.
	Weights []float64
	// Effective is how many equally weighted soils tell as much (Kish 1965).
	Effective float64
}

// Compare puts an observation beside the jar's equally likely soils, by the
// USDA size limits. It is false where one of them says nothing.
//
// What is compared is how much better the answers are explained by the jar's
// soils than by any soil of the triangle: by Neyman and Pearson the sharpest
// way to tell the two apart. The probability is that of a ratio as low or lower
// among all answers that the same questions can get, each as probable as the
// jar's soils make it. All answers are gone through: nothing is drawn by lot.
func Compare(o Observation, jar []texture.Fractions) (Comparison, bool) {
	tests := o.tests()
	if len(jar) == 0 || len(tests) == 0 {
		return Comparison{}, false
	}
	s, evidence := o.skill(), o.evidence()
	byJar := make([]float64, len(triangle()))
	c := Comparison{Weights: make([]float64, len(jar))}
	for i, f := range jar {
		felt := s.felt(f)
		for k, p := range felt {
			byJar[k] += p / float64(len(jar))
		}
		c.Weights[i] = dot(felt, evidence)
	}
	scale(c.Weights, 1/sum(c.Weights))
	c.Effective = 1 / dot(c.Weights, c.Weights)
	byAny := s.anywhere()
	ownJar, ownAny := byJar, byAny
	for _, t := range tests {
		ownJar, ownAny = times(ownJar, t.results[t.given]), times(ownAny, t.results[t.given])
	}
	c.Probability = math.Min(tail(tests, byJar, byAny, sum(ownJar)/sum(ownAny)), 1)
	c.Verdict = verdictOf(c.Probability)
	return c, true
}

// test is all results that a test could have had, and the one it had.
type test struct {
	results
	given int
}

// tests are those that were made.
func (o Observation) tests() []test {
	var out []test
	for _, a := range o.asked() {
		out = append(out, test{a.results(o.skill().blur()), a.given})
	}
	if r, pressed := o.ribbon(); pressed {
		out = append(out, test{r.results(), min(int(r.mean/longest*ribbonBins), ribbonBins-1)})
	}
	return out
}

func verdictOf(p float64) Verdict {
	switch {
	case p < disagreeBelow:
		return Disagree
	case p < borderlineBelow:
		return Borderline
	}
	return Agree
}

// results are all results that one test can have: for each, its probability for
// every soil of the triangle.
type results [][]float64

func (g grading) results(width float64) results {
	grid := triangle()
	out := results{make([]float64, len(grid)), make([]float64, len(grid)), make([]float64, len(grid))}
	for i, f := range grid {
		for k, p := range g.answer(f, width) {
			out[k][i] = p
		}
	}
	return out
}

// longest and ribbonBins cut the lengths of ribbons, in units of stretch, to
// pieces that are shorter than what a ribbon can tell.
const (
	longest    = 3.0
	ribbonBins = 24
)

// results of as many ribbons as were made, as well known as they are.
func (r ribbon) results() results {
	grid := triangle()
	out := make(results, ribbonBins)
	for k := range out {
		out[k] = make([]float64, len(grid))
	}
	for i, f := range grid {
		usual, below := stretch(usualRibbonMM(binding(f))), 0.0
		for k := range out {
			upTo := 1.0
			if k < ribbonBins-1 {
				edge := longest * float64(k+1) / ribbonBins
				upTo = 0.5 * math.Erfc((usual-edge)/(r.sd*math.Sqrt2))
			}
			out[k][i] = upTo - below
			below = upTo
		}
	}
	return out
}

// tail adds up the probability, by the jar, of all results of the tests for
// which the jar's soils speak no more, against any soil, than given.
func tail(tests []test, byJar, byAny []float64, given float64) float64 {
	out := 0.0
	for _, p := range tests[0].results {
		if len(tests) > 1 {
			out += tail(tests[1:], times(byJar, p), times(byAny, p), given)
			continue
		}
		jar, any := 0.0, 0.0
		for i, v := range p {
			jar += byJar[i] * v
			any += byAny[i] * v
		}
		if jar <= given*any*(1+1e-9) {
			out += jar
		}
	}
	return out
}
