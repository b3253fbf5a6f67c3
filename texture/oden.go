package texture

import "math"

// CutDiameterUM returns the diameter in micrometres of the smallest grain that
// has fallen the whole of fallMM millimetres in timeS seconds by Stokes' law:
// d = sqrt(18 mu H / ((rs-rw) g t)).
func (f Fluid) CutDiameterUM(fallMM, timeS float64) float64 {
	v := fallMM * 1e-3 / timeS
	return 1e6 * math.Sqrt(18*f.KinematicM2S*v/(f.Excess*GravityMS2))
}

// CoarserByTangent returns Oden's share coarser than the cut diameter at time
// t, W = P - t dP/dt: the intercept at zero time of the tangent to the curve of
// settled share P(t). Oden 1916; Krumbein & Pettijohn 1938.
func CoarserByTangent(settled, timeS, slopePerS float64) float64 {
	return settled - timeS*slopePerS
}
