package texture

import (
	"math"
	"slices"
)

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

// filmFirstS and filmLastS are the first and the last moment of a film, s.
const filmFirstS, filmLastS = 30.0, 172800.0

// FilmMoments are n moments at which a camera that stays photographs a jar, in
// seconds since it was set down, evenly spread in the logarithm of time, since that is
// how settling goes on; told in whole seconds, minutes or quarters of an hour.
func FilmMoments(n int) []float64 {
	var out []float64
	for i := range n {
		t := filmFirstS * math.Pow(filmLastS/filmFirstS, float64(i)/math.Max(float64(n-1), 1))
		for _, round := range [...]struct{ from, to float64 }{{4 * 3600, 900}, {600, 60}, {0, 1}} {
			if t >= round.from {
				t = math.Round(t/round.to) * round.to
				break
			}
		}
		if len(out) == 0 || t > out[len(out)-1] {
			out = append(out, t)
		}
	}
	return out
}
