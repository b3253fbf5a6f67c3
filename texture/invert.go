package texture

import (
	"math"
	"slices"
)

// Height is a measured height above the inner floor and its standard deviation,
// both as shares of the water depth, 0..1: a photo tells no more of a jar whose depth is
// not known.
type Height struct{ Share, SD float64 }

// unknownScaleMM is how deep a jar of unknown depth is drawn to be reckoned with.
const unknownScaleMM = 100.0

// scaleMM is how deep the jar is drawn for reckoning: heights within a problem are
// millimetres at that depth, which are the jar's own where the depth is known.
func (s Setup) scaleMM() float64 {
	if s.WaterDepthMM == 0 {
		return unknownScaleMM
	}
	return s.WaterDepthMM
}

// leastSDMM is the least standard deviation that a height is reckoned with.
const leastSDMM = 0.1

// LeastSD is the least standard deviation that a height in this jar is reckoned with, as a
// share of the depth: a tenth of a millimetre, or of a percent where the depth is unknown.
func (s Setup) LeastSD() float64 { return leastSDMM / s.scaleMM() }

// straighten turns heights and their standard deviations, shares of the depth, into
// millimetres of the straight jar that is reckoned with.
func (s Setup) straighten() func(share, sd float64) (mm, sdMM float64) {
	scale, straight := s.scaleMM(), s.Walls.straighten(s.WaterDepthMM)
	return func(share, sd float64) (float64, float64) {
		mm, stretch := straight(share * scale)
		return mm, math.Max(sd*scale, leastSDMM) * stretch
	}
}

// Observation is what one photo shows. A nil height was not seen, which says
// little or nothing (see ClearView).
type Observation struct {
	ElapsedS   float64 // since the jar was set down
	ElapsedSDS float64 // standard deviation; 0 means a few seconds
	DepositTop *Height
	SandTop    *Height  // sand below, silt above
	SiltTop    *Height  // silt below, clay above
	Cloud      *float64 // opacity of the water half way up: 0 clear .. 1 opaque
	Floating   float64  // thickness of floating matter, a share of the depth; kept out of the sum

	// Candidates are boundaries that may be the sand's top or the silt's. They
	// count for a line that is not given.
	Candidates []Candidate

	// Shades are the deposit's colours by height, lowest first. Only those of the
	// latest photo count, since late photos show the same layers.
	Shades []Shade

	// ClearView says that a boundary between thick layers could hardly have been
	// missed here, so that a nil SiltTop speaks for a soil without a silt layer.
	ClearView bool
}

// Setup is what is known of the jar. The zero value is usable: depth and
// temperature unknown, USDA, straight walls.
type Setup struct {
	WaterDepthMM   float64  // floor to water surface; 0 unknown
	WaterDepthSDMM float64  // 0 means 1 % of the depth and 1 mm
	TempC          *float64 // nil unknown
	TempSDC        float64  // 0 means 1.5 C
	System         System
	Walls          Profile // empty: straight walls
	Known          Known   // of how the soil was prepared
	Quick          bool    // fewer starts and draws: rougher, in a third of the time
	From           *Result // of nearly the same jar, to start from: quick, and steady while a line is dragged
	Steady         bool    // more starts: steadier, in three times the time
}

// Estimate is a value with the ends of its 90 % interval.
type Estimate struct{ Value, Low, High float64 }

// Result is a reading with its doubt.
type Result struct {
	System           System
	Sand, Silt, Clay Estimate           // percent by mass of the mineral soil
	Classes          []ClassProbability // most probable first; nil where the system names none

	ByThickness *Fractions // what a ruler says of the latest layers; nil without them
	ByPacking   *Fractions // the same with published unit weights

	Causes []Cause // what the spread is made of, largest first
	Reason Reason  // why the reading differs from the ruler's
	Next   *Next   // the photo that would narrow it most; nil where none is worth it, or when Quick

	// Soils are equally likely soils, the cloud behind the estimates; SoilsAt50UM
	// are the same with silt up to 50 um, whatever the system.
	Soils, SoilsAt50UM []Fractions
	Expected           []Expected // the fitted model over time

	Curve []CurvePoint // cumulative grain curve, fine to coarse
	// Resolved are the sizes that the deposit's growth tells apart; nil below eight tops.
	Resolved *Resolved
	Tangent  []CurvePoint // the same by Oden's tangents, when five or more photos show the deposit top

	SuspendedPercent Estimate   // of the soil, still in the water at the last photo
	SolidsGL         Estimate   // soil per litre of the column
	WaterDepthMM     Estimate   // as believed after the reading
	Placed           []Placed   // which candidates the lines were found to be
	Surprises        []Surprise // lines the physics could not follow, worst first
	Misfit           float64    // by how much the lines scatter more than their errors allow, 1 or more
	EffectiveDraws   float64    // of the sampling; below 30 the intervals are rough

	basis *basis // for a reading that starts from this one
}

// Fractions returns the middle values of the three fractions.
func (r Result) Fractions() Fractions {
	return Fractions{r.Sand.Value, r.Silt.Value, r.Clay.Value}
}

// Line names a measured boundary. Elsewhere lines are named by package layers, which
// this one knows nothing of.
type Line string

// The lines an observation may hold.
const (
	DepositTopLine Line = "deposit top"
	SandTopLine    Line = "sand top"
	SiltTopLine    Line = "silt top"
)

// lineOf names the kinds of measured numbers that are lines.
var lineOf = map[lineKind]Line{depositTop: DepositTopLine, sandTop: SandTopLine, siltTop: SiltTopLine}

// Surprise is a measured height that lies far from where every plausible soil
// would put it: a line to look at again.
type Surprise struct {
	Photo           int // index of the observation
	Line            Line
	Share, Expected float64 // as measured and as expected, in a straight jar; shares of the water depth
	Sigmas          float64 // distance in standard deviations, the model's included
}

// Invert finds the soils that explain all observations together. It samples
// deterministically: the same input gives the same result. Errors name the
// value and the allowed range.
func Invert(obs []Observation, s Setup) (Result, error) {
	if err := validate(obs, s); err != nil {
		return Result{}, err
	}
	pr := newProblem(obs, s)
	var draws []sample
	if s.From != nil && s.From.basis != nil {
		draws = pr.again(s.From.basis)
	} else {
		draws = pr.posterior()
	}
	draws, odd, misfit := pr.reconciled(draws)
	r := pr.summarise(draws, obs, s)
	r.Surprises, r.Misfit = odd, misfit
	return r, nil
}

// newProblem puts validated input into the sampler's form.
func newProblem(obs []Observation, s Setup) *problem {
	pr := &problem{prior: defaultPrior(), siltLimit: s.System.SiltLimitUM(), effort: thorough}
	switch {
	case s.Quick || s.From != nil:
		pr.effort = quick
	case s.Steady:
		pr.effort = steady
	}
	pr.cond = stated(obs, s)
	s.Known.believe(&pr.prior)
	pr.depthKnown, pr.scaleMM = s.WaterDepthMM > 0, s.scaleMM()
	straight := s.straighten()
	for i, o := range obs {
		pr.times = append(pr.times, o.ElapsedS)
		pr.last = math.Max(pr.last, o.ElapsedS)
		for line, h := range []*Height{o.DepositTop, o.SandTop, o.SiltTop} {
			if h == nil {
				continue
			}
			mm, sd := straight(h.Share, h.SD)
			pr.data = append(pr.data, newMeasured(i, lineKind(line), mm, sd, o.ElapsedS))
		}
		for k, h := range []*Height{o.SandTop, o.SiltTop} {
			if m, ok := choose(i, sandTop+lineKind(k), o, straight, pr.cond.depthMM.mid); ok && h == nil {
				pr.data = append(pr.data, m)
			}
		}
		if o.Cloud != nil {
			pr.data = append(pr.data, measured{photo: i, line: cloudiness, value: *o.Cloud, scale: cloudError})
		}
	}
	if last := len(obs) - 1; siltTopUnseen(obs) {
		pr.data = append(pr.data, measured{photo: last, line: siltUnseen, scale: 1})
		pr.missed = missedThick
		if obs[last].ClearView {
			pr.missed = missedClear
		}
	}
	pr.shading = newShading(obs, straight)
	together(pr.data)
	thin(pr.data)
	pr.heights, pr.asked = make([]heights, len(obs)), make([][siltUnseen + 1]bool, len(obs))
	for _, m := range pr.data {
		asked := &pr.asked[m.photo]
		asked[m.line] = true
		// a silt top is at the sand's at least, and both are looked at where it is unseen
		asked[sandTop] = asked[sandTop] || m.line == siltTop || m.line == siltUnseen
		asked[siltTop] = asked[siltTop] || m.line == siltUnseen
	}
	pr.pred = make([]predicted, len(pr.data))
	pr.slope = make([]unknowns, len(pr.data))
	return pr
}

// siltTopUnseen reports whether the last photo shows the deposit top and the
// sand top but neither it nor any other photo shows a silt top.
func siltTopUnseen(obs []Observation) bool {
	for _, o := range obs {
		if o.SiltTop != nil || slices.ContainsFunc(o.Candidates, func(c Candidate) bool { return c.SiltOdds > 0 }) {
			return false
		}
	}
	last := obs[len(obs)-1]
	return last.DepositTop != nil && last.SandTop != nil
}

// densityAsTempC is the spread of soil grains' density, 30 kg/m3 about 2650
// (mineral grains 2600 to 2750), as the temperature that changes settling as
// much: 1.8 % of the excess weight at 2.4 % of viscosity per C.
const densityAsTempC = 0.75

// stated turns what the person knows into priors.
func stated(obs []Observation, s Setup) conditions {
	c := conditions{
		depthMM: logSpread{UsualDepthMM, 0.22}, // jars hold 80 to 180 mm of water [common practice]
		tempC:   spread{RoomTempC, 5},          // rooms, sheds and gardens, 10 to 30 C
		timeSDS: 3,
	}
	if s.WaterDepthMM > 0 {
		sd := s.WaterDepthSDMM
		if sd == 0 {
			sd = 1 + 0.01*s.WaterDepthMM
		}
		_, stretch := s.Walls.straighten(s.WaterDepthMM)(s.WaterDepthMM)
		depth, _ := s.Walls.straighten(s.WaterDepthMM)(s.WaterDepthMM)
		c.depthMM = logSpread{depth, sd * stretch / depth}
	}
	if s.TempC != nil {
		c.tempC = spread{*s.TempC, s.TempSDC}
		if s.TempSDC == 0 {
			c.tempC.sd = 1.5
		}
	}
	density := densityAsTempC * densityAsTempC
	c.densityPart = density / (density + c.tempC.sd*c.tempC.sd)
	c.tempC.sd = math.Sqrt(density + c.tempC.sd*c.tempC.sd)
	first := math.Inf(1)
	for _, o := range obs {
		if o.ElapsedS < first {
			first = o.ElapsedS
			c.timeSDS = math.Hypot(3, o.ElapsedSDS)
		}
	}
	return c
}
