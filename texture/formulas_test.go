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

// RichardsonZaki returns the exponent n of (1-c)^n for particle Reynolds
// number re, without wall effect (Richardson & Zaki 1954, Trans. IChemE 32:35).
func RichardsonZaki(re float64) float64 {
	switch {
	case re < 0.2:
		return StokesExponent
	case re < 1:
		return 4.35 * math.Pow(re, -0.03)
	case re <= 500:
		return 4.45 * math.Pow(re, -0.1)
	}
	return 2.39
}

// MillerMean returns the mean unit weight after years of deposition, from the
// initial weight w1 and constant k of the mixture, in the units of both:
// W = W1 + 0.4343 K [ (T/(T-1)) ln T - 1 ]. Miller 1953.
func MillerMean(w1, k, years float64) float64 {
	if years <= 1 {
		return w1
	}
	return w1 + 0.4343*k*(years/(years-1)*math.Log(years)-1)
}
