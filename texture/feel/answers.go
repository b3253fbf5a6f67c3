package feel

import (
	"math"
	"slices"

	"mudline/texture"
)

// A grading sorts a quality of the soil, in points, into three answers in order,
// from little to much. low and high are where the next answer takes over.
type grading struct {
	quality   func(texture.Fractions) float64
	low, high float64
}

// The borders lie where the published tables and the class limits have theirs.
var (
	// Thien 1979: a sand keeps no ball, a loamy sand does. Casts of sandy loam
	// bear careful handling, those of loam free handling (NRCS). The quality is
	// the one by which the Soil Survey Manual parts sand (about 17), loamy sand
	// (to 30) and sandy loam (to about 60; loam from 42).
	ballGrading = grading{func(f texture.Fractions) float64 { return f.Silt + 2*f.Clay }, 18, 50}
	// Dropped, a loamy sand collapses and a sandy loam stays whole (geopedology
	// handbook); clay is very plastic (NRCS); the more clay, the harder to break
	// (common practice).
	failureGrading = grading{binding, 10, 35}
	// Sand is not sticky, clay is sticky when wet (NRCS).
	stickyGrading = grading{binding, 10, 35}
	// Thien 1979 with the class limits: where grit rules, sand is above 52 % in
	// sandy loam and above 45 % in sandy clay loam; silty clay loam has up to 20 %.
	gritGrading = grading{func(f texture.Fractions) float64 { return f.Sand + f.Clay/4 }, 28, 55}
	// Where smoothness rules, silt is above 50 % in silt loam, 47 % in silty clay
	// loam, 40 % in silty clay; below 28 % there is neither loam nor silt loam.
	smoothGrading = grading{func(f texture.Fractions) float64 { return f.Silt + f.Clay/4 }, 33, 54}
)

// answer gives the probabilities of the three answers, which pass into each
// other over some width.
func (g grading) answer(f texture.Fractions, width float64) [3]float64 {
	over := func(border float64) float64 { return 1 / (1 + math.Exp((border-g.quality(f))/width)) }
	low, high := over(g.low), over(g.high)
	return [3]float64{1 - low, low - high, high}
}

// sandyClay is how many points of clay one point does the work of in a sandy
// soil: Thien's ribbons of 1 and 2 inches begin at 20 and 35 % clay there, and
// at 27 and 40 % elsewhere.
const sandyClay = (27.0/20 + 40.0/35) / 2

// binding is clay as it is felt in a ribbon: it tells for more among sand.
func binding(f texture.Fractions) float64 {
	sandy := 1 / (1 + math.Exp((48-f.Sand)/5))
	return f.Clay * (1 + (sandyClay-1)*sandy)
}

// ribbonCurve is the usual ribbon in mm over percent clay, midway between
// Thien's table (25 mm at 27 %, 50 mm at 40 %) and the Australian field grades
// (5 mm at 5 %, 15 at 10, 25 at 20, 40 at 30, 50 at 35, 75 at 40 to 45). Above
// 50 % it is drawn on: only "longer than 75 mm" is published.
var ribbonCurve = [][2]float64{{0, 0}, {5, 4}, {10, 12}, {20, 22}, {27, 29}, {35, 45}, {40, 60}, {50, 85}, {100, 150}}

func usualRibbonMM(clay float64) float64 {
	c := ribbonCurve
	for i := 1; i < len(c); i++ {
		if clay <= c[i][0] || i == len(c)-1 {
			return c[i-1][1] + (clay-c[i-1][0])*(c[i][1]-c[i-1][1])/(c[i][0]-c[i-1][0])
		}
	}
	return 0
}

// stretch is the scale on which ribbons spread alike: by millimetres where they
// are short, by a share of their length where they are long.
func stretch(mm float64) float64 { return math.Log1p(mm / 10) }

const (
	// scales is how far a hand's own way of pressing shifts all its ribbons, in
	// units of stretch: half of what parts the two published tables at 40 %
	// clay (50 and 75 mm).
	scales = 0.15
	// ownSpread is how many ribbons' worth the usual spread counts beside the
	// spread of these ribbons: an assumption.
	ownSpread = 4
	// cut is by how much, in units of stretch, each neglected part of the
	// preparation shortens ribbons, about a fifth, and how far that varies: an
	// assumption. Stones and dry or lumpy soil break a ribbon early.
	cut = 0.2
)

// ribbon is what the lengths say together: their middle and how well it is
// known, in units of stretch.
type ribbon struct{ mean, sd float64 }

// ribbon is false where none was made.
func (o Observation) ribbon() (ribbon, bool) {
	n := float64(len(o.RibbonsMM))
	if n == 0 {
		return ribbon{}, false
	}
	sorted := slices.Sorted(slices.Values(o.RibbonsMM)) // so that their order changes no digit
	mean, squares := 0.0, 0.0
	for _, mm := range sorted {
		mean += stretch(mm) / n
	}
	for _, mm := range sorted {
		squares += (stretch(mm) - mean) * (stretch(mm) - mean)
	}
	usual := o.skill().ribbon
	variance := (ownSpread*usual*usual + squares) / (ownSpread + n - 1)
	neglected := float64(o.neglected())
	return ribbon{mean + cut*neglected, math.Sqrt(variance/n + scales*scales + neglected*cut*cut)}, true
}

// density is the likelihood of the ribbons where f is felt.
func (r ribbon) density(f texture.Fractions) float64 {
	z := (r.mean - stretch(usualRibbonMM(binding(f)))) / r.sd
	return math.Exp(-z*z/2) / (r.sd * math.Sqrt(2*math.Pi))
}

// asked pairs a grading with the answer given: 0, 1 or 2.
type asked struct {
	grading
	given int
}

// asked lists the questions that were answered.
func (o Observation) asked() []asked {
	var out []asked
	add := func(q grading, given int) {
		if given >= 0 {
			out = append(out, asked{q, given})
		}
	}
	add(ballGrading, slices.Index([]Ball{NoBall, WeakBall, FirmBall}, o.Ball))
	if o.Ball != NoBall { // what keeps no ball has none to press
		add(failureGrading, slices.Index([]Failure{FallsApart, Cracks, Deforms}, o.Failure))
	}
	degrees := []Degree{None, Some, Strong}
	add(gritGrading, slices.Index(degrees, o.Grit))
	add(smoothGrading, slices.Index(degrees, o.Smooth))
	add(stickyGrading, slices.Index(degrees, o.Sticky))
	return out
}
