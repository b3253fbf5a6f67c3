package texture

import "math"

// organicAsClay is how much more clay the room that sunken organic matter takes
// up would hold: flocs of it lie at about 300 kg/m3 (a guess), clay at 430.
const organicAsClay = 1.4

// earth turns what settles as sand, silt and clay into what an analysis of the
// fine earth would find. Stones lie with the sand; crumbs of clay fall like silt,
// those of silt (half as large a share) like sand; sunken organic matter lies as
// loosely as clay. No height tells them apart, so they are as doubtful after the
// reading as before, unless the person knows.
func (p *prior) earth(z *unknowns, seen Fractions) Fractions {
	sum := seen.Sum()
	crumbs := logistic(p.crumbs.at(z[uCrumbs]))
	silty := crumbs / 2
	gravel := math.Min(p.gravel.at(z[uGravel]), 0.6)
	organic := math.Min(p.organic.at(z[uOrganic]), 0.5)
	least := func(v, of float64) float64 { return math.Max(v, 0.1*of) }
	clay := least(seen.Clay-organicAsClay*organic*sum, seen.Clay) / (1 - crumbs)
	silt := least(seen.Silt-crumbs*clay, seen.Silt) / (1 - silty)
	sand := least(seen.Sand-gravel*sum-silty*silt, seen.Sand)
	return Fractions{sand, silt, clay}.Normalised()
}
