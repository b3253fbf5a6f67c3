package texture

import "math"

// CutDiameterUM returns the diameter in micrometres of the smallest grain that
// has fallen the whole of fallMM millimetres in timeS seconds by Stokes' law:
// d = sqrt(18 mu H / ((rs-rw) g t)).
func (f Fluid) CutDiameterUM(fallMM, timeS float64) float64 {
	v := fallMM * 1e-3 / timeS
	return 1e6 * math.Sqrt(18*f.KinematicM2S*v/(f.Excess*GravityMS2))
}

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

// CoarserByTangent returns Oden's share coarser than the cut diameter at time
// t, W = P - t dP/dt: the intercept at zero time of the tangent to the curve of
// settled share P(t). Oden 1916; Krumbein & Pettijohn 1938.
func CoarserByTangent(settled, timeS, slopePerS float64) float64 {
	return settled - timeS*slopePerS
}
