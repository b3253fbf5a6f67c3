package texture

import "math"

// Published formulas that no reading needs, against which the program's own are held.

// SettledShare returns the part of grains of one settling velocity that lies
// on the floor of a jar of depth fallMM after timeS seconds, from a uniform
// start: all of it when v t >= H, else v t / H. Oden 1916.
func SettledShare(velocityMMS, fallMM, timeS float64) float64 {
	return math.Min(1, math.Max(0, velocityMMS*timeS/fallMM))
}

// LogUniformSettled returns the settled part of a class spread evenly in log
// diameter from loUM to hiUM when the cut diameter is cutUM, in Stokes' range:
// the closed form of Oden's integral.
func LogUniformSettled(loUM, hiUM, cutUM float64) float64 {
	span := math.Log(hiUM / loUM)
	switch {
	case cutUM <= loUM:
		return 1
	case cutUM >= hiUM:
		return (hiUM*hiUM - loUM*loUM) / (2 * cutUM * cutUM * span)
	}
	r := loUM / cutUM
	return (math.Log(hiUM/cutUM) + 0.5*(1-r*r)) / span
}
