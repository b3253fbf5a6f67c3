package feel

import (
	"math"
	"sync"

	"mudline/texture"
)

// steps is how often a side of the triangle is cut: into 1600 small triangles
// of equal area, each standing for the soil at its middle.
const steps = 40

// triangle holds the middles. Being of equal area, they are a flat prior.
var triangle = sync.OnceValue(func() []texture.Fractions {
	const side = 100.0 / steps
	var out []texture.Fractions
	for i := range steps {
		for j := range steps - i {
			sand, clay := float64(i), float64(j)
			out = append(out, at(side*(sand+1.0/3), side*(clay+1.0/3)))
			if i+j < steps-1 { // the one that stands on its tip
				out = append(out, at(side*(sand+2.0/3), side*(clay+2.0/3)))
			}
		}
	}
	return out
})

func at(sand, clay float64) texture.Fractions {
	return texture.Fractions{Sand: sand, Silt: 100 - sand - clay, Clay: clay}
}

// skill is how well a pair of hands feels.
type skill struct {
	// spread is the standard deviation, along each axis of the triangle of side
	// 100, of the soil that is felt around the soil that is there. It is one
	// error for all that is felt in a handful: it does not average out.
	spread float64
	// astray is how often what is felt has nothing to do with the soil.
	astray float64
	// ribbon is the spread of single ribbons, in units of stretch.
	ribbon float64
}

// skills are set so that people who name the class by Thien's table from what
// they feel, soils from all over the triangle, do so as well as is published.
//
// Practised people are those who have often checked themselves against a laboratory:
// as scientists of the US soil survey do, who hit the class in 66 % and it or a
// neighbour in 91 % (Salley et al. 2018). Beginners are as its seasonal staff, 38 and
// 71 %, and their clay goes with the laboratory's by a correlation of 0.74 to 0.79, as
// students' does (Arizona). TestHitRates holds them to it. Other surveys of practised
// people found less, 50 and 46 %: TestOtherHitRates sets them beside it. The spread of
// single ribbons, about a fifth and a third of a length, is an assumption.
var skills = map[Hands]skill{
	Practised: {spread: 2.5, astray: 0.05, ribbon: 0.15},
	Beginner:  {spread: 13, astray: 0.13, ribbon: 0.25},
}

// poorly is by how much each neglected part of the preparation widens the
// spread: an assumption. That it matters is common practice and published
// (NRCS Wyoming: a ribbon weak in drier soil forms readily in moist soil).
const poorly = 1.25

func (o Observation) skill() skill {
	s, known := skills[o.Hands]
	if !known {
		s = skills[Beginner]
	}
	s.spread *= math.Pow(poorly, float64(o.neglected()))
	return s
}

// neglected counts the parts of the preparation that were left out.
func (o Observation) neglected() int {
	n := 0
	for _, a := range []Answer{o.StonesOut, o.Moistened, o.Kneaded} {
		if a == No {
			n++
		}
	}
	return n
}

// blur is the width over which one answer passes into the next: half the
// spread, an assumption.
func (s skill) blur() float64 { return s.spread / 2 }

// felt is how probable each soil of the triangle is to be felt where f is
// there; it adds up to 1.
func (s skill) felt(f texture.Fractions) []float64 {
	grid := triangle()
	out := make([]float64, len(grid))
	sum := 0.0
	for i, g := range grid {
		d := texture.Distance(f, g) / s.spread
		out[i] = math.Exp(-d * d / 2)
		sum += out[i]
	}
	for i := range out {
		out[i] = (1-s.astray)*out[i]/sum + s.astray/float64(len(grid))
	}
	return out
}

// anywheres holds what anywhere has worked out: there are few skills.
var anywheres sync.Map

// anywhere is what is felt where any soil of the triangle may be there.
func (s skill) anywhere() []float64 {
	if known, ok := anywheres.Load(s); ok {
		return known.([]float64)
	}
	out := make([]float64, len(triangle()))
	for _, f := range triangle() {
		for k, p := range s.felt(f) {
			out[k] += p / float64(len(out))
		}
	}
	anywheres.Store(s, out)
	return out
}
