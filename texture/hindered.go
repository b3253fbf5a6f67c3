package texture

import "math"

// Exponents of the hindered settling law for grains in Stokes' range.
const (
	// StokesExponent is the classic value for uniform spheres
	// (Richardson & Zaki 1954, Trans. IChemE 32:35).
	StokesExponent = 4.65
	// ReviewExponent is the mean of 15 studies below Peclet number 1e8, the
	// range of silt (Brzinski & Durian 2018, arXiv 1710.09314): 5.6 +/- 0.1.
	ReviewExponent = 5.6
)

// Hindrance returns the factor (1-c)^n by which grains settle more slowly at
// volume fraction c of solids (Richardson & Zaki 1954). Outside 0..1 the
// fraction is taken at the nearer end.
func Hindrance(c, n float64) float64 {
	if c <= 0 {
		return 1
	}
	if c >= 1 {
		return 0
	}
	return math.Exp(n * math.Log1p(-c))
}
