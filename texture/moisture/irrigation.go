package moisture

import "math"

// Depletion is the part of the total available water, 0..1, that plants take
// before they suffer, on days that use so much: FAO-56 table 22 gives it for
// 5 mm a day, and its footnote, kept within 0.1 to 0.8, for other days (from
// memory). That part of the total is the readily available water, eq. 83.
func Depletion(tabulated, dailyUseMM float64) float64 {
	return math.Min(math.Max(tabulated+0.04*(tabulatedUseMM-dailyUseMM), 0.1), 0.8)
}

const tabulatedUseMM = 5.0
