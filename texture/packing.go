package texture

import "math"

// UnitWeights are dry masses of solids per volume of deposit, kg/m3.
type UnitWeights struct{ Sand, Silt, Clay float64 }

// Published initial unit weights, kg/m3.
var (
	// SubmergedUSBR: reservoirs always or nearly submerged, Lara & Pemberton
	// 1963, as in Strand & Pemberton 1982 (97, 70, 26 lb/ft3).
	SubmergedUSBR = UnitWeights{Sand: 1554, Silt: 1121, Clay: 416}
	// SubmergedLaneKoelzer: the same, Lane & Koelzer 1943 (93, 65, 30 lb/ft3).
	SubmergedLaneKoelzer = UnitWeights{Sand: 1490, Silt: 1041, Clay: 481}
)

// Mixed returns the unit weight of a deposit of the given composition by the
// mass-weighted mean of the class weights, as the USBR rule does
// (W = Wc pc + Wm pm + Ws ps, Strand & Pemberton 1982).
func (w UnitWeights) Mixed(f Fractions) float64 {
	return (w.Sand*f.Sand + w.Silt*f.Silt + w.Clay*f.Clay) / f.Sum()
}

// Layered returns the unit weight of the same composition if every class took
// its own volume, as clean layers do: one over the mean of the volumes.
func (w UnitWeights) Layered(f Fractions) float64 {
	return f.Sum() / (f.Sand/w.Sand + f.Silt/w.Silt + f.Clay/w.Clay)
}

// Filled returns the unit weight of a mixture in which fines fill pores: the
// volumes of Layered, less fill times what the pores of the sand take up of
// silt and clay, and the pores of the silt of clay. Grains far apart in size
// share room up to the smaller of pore volume p and fines volume v (the limits
// of Westman & Hugill 1930, from memory); p v / sqrt(p^2+v^2) rounds the corner.
// grainDensity is in kg/m3, fill 0..1.
func (w UnitWeights) Filled(f Fractions, grainDensity, fill float64) float64 {
	sand, silt, clay := f.Sand/w.Sand, f.Silt/w.Silt, f.Clay/w.Clay
	sandPores := sand - f.Sand/grainDensity
	siltPores := silt - f.Silt/grainDensity
	saved := shared(sandPores, silt+clay) + shared(siltPores, clay)
	return f.Sum() / (sand + silt + clay - fill*saved)
}

func shared(pores, fines float64) float64 {
	if pores <= 0 || fines <= 0 {
		return 0
	}
	return pores * fines / math.Sqrt(pores*pores+fines*fines)
}

// Consolidated returns the factor by which fresh mud has become denser after
// ageS seconds when it gains rate (a share of its first weight) per decade of
// time beyond the first hour: the logarithmic law of Lane & Koelzer 1943,
// moved from years to the hours of a jar.
func Consolidated(rate, ageS float64) float64 {
	if ageS <= 0 {
		return 1
	}
	return 1 + rate/math.Ln10*math.Log1p(ageS/3600)
}
