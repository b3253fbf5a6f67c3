package texture

import "math"

// Known is what a person can say of how the jar was prepared. The zero value
// says nothing.
type Known struct {
	Dispersant     *bool    // whether something was added that parts clay, such as dishwasher powder
	ShakenMin      float64  // minutes of shaking; 0 unknown
	SolidsGL       float64  // dry soil per litre of soil and water, g; 0 unknown
	SolidsSDGL     float64  // its standard deviation; 0 means 7 %
	StonesPercent  *float64 // of the soil's mass coarser than 2 mm left in the jar; 0: all picked out
	OrganicPercent *float64 // organic matter of the soil by mass
}

func (k Known) validate() error {
	if k.SolidsGL != 0 {
		if err := checkRange(quantity("dry soil per litre"), k.SolidsGL, MinSolidsGL, MaxSolidsGL, " g/L"); err != nil {
			return err
		}
		if err := checkRange(quantity("dry soil per litre's standard deviation"), k.SolidsSDGL, 0, k.SolidsGL, " g/L"); err != nil {
			return err
		}
	}
	if err := checkRange(quantity("shaking"), k.ShakenMin, 0, MaxShakenMin, " min"); err != nil {
		return err
	}
	for _, p := range []struct {
		what string
		v    *float64
		most float64
	}{{"stones", k.StonesPercent, 90}, {"organic matter", k.OrganicPercent, 100}} {
		if p.v != nil {
			if err := checkRange(quantity(p.what), *p.v, 0, p.most, " %"); err != nil {
				return err
			}
		}
	}
	return nil
}

// MinSolidsGL and MaxSolidsGL bound how much dry soil a litre of the column may hold, g.
const MinSolidsGL, MaxSolidsGL = 5.0, 700.0

// MaxShakenMin is the longest shaking that is taken for one: two days, as on a
// laboratory's shaker.
const MaxShakenMin = 2880.0

// believe changes the prior to what is known. Only the amount of soil is a
// measurement; how much clumping a dispersant and shaking spare is a guess on the
// mild side (5.3 of any guide to particle size: without them aggregates settle as
// silt or sand, and the water clears early).
func (k Known) believe(p *prior) {
	if k.Dispersant != nil {
		if *k.Dispersant {
			p.flocShare = spread{-0.4, 1.5}
			p.crumbs.mid -= 0.5
		} else {
			p.flocShare = spread{1, 1.4}
			p.crumbs = spread{-1.9, 1.3}
		}
	}
	switch {
	case k.ShakenMin == 0:
	case k.ShakenMin < 3:
		p.crumbs.mid += 0.8
	case k.ShakenMin >= 10:
		p.crumbs.mid -= 0.4
	}
	if k.SolidsGL > 0 {
		sd := k.SolidsSDGL / k.SolidsGL
		if sd == 0 {
			sd = 0.07
		}
		p.solidsGL = logSpread{k.SolidsGL, sd}
	}
	if k.StonesPercent != nil {
		p.gravel = logSpread{math.Max(*k.StonesPercent/100, 0.001), 0.4}
	}
	if k.OrganicPercent != nil {
		const sinks = 0.5 // of it; the rest floats
		p.organic = logSpread{math.Max(sinks**k.OrganicPercent/100, 0.001), 0.6}
	}
}
