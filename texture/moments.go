package texture

import "slices"

// moments are when anybody is asked to photograph a jar, in seconds, the most
// telling first: few and the same for all, so that no two places say different
// ones. The first three are what most instructions for a jar say (common
// practice). The order of the others is by the expected error over jars 80 to
// 200 mm deep, at 8 to 30 C (TestMoments).
var moments = [...]float64{60, 7200, 172800, 1200, 28800, 86400}

// MostMoments is how many moments there are to choose from.
const MostMoments = len(moments)

// Moments are the n moments that tell most of a jar, in order of time, seconds
// since it was set down; n is cut to what there is.
func Moments(n int) []float64 {
	out := slices.Clone(moments[:min(max(n, 0), len(moments))])
	slices.Sort(out)
	return out
}
