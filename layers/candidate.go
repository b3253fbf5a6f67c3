package layers

// Candidate is a boundary inside the deposit that might be one: what is seen,
// and how likely it is to be what. Package layers hands on all of them, since
// settling may tell which of two is the silt's top where the picture cannot.
type Candidate struct {
	// HeightMM above the inner floor at the front of the jar, its standard
	// deviation with Strip.FrameSDMM in it, and the 10-90 % width of the change.
	HeightMM, SDMM, WidthMM float64
	// Step is the change of L*, a* and b* across it, below minus above.
	Step [3]float64
	// SandOdds and SiltOdds are the probabilities, 0..1, that the sand's top or
	// the silt's top lies there; what is left of 1 is the chance that neither does.
	SandOdds, SiltOdds float64
}

// Shade is what the deposit looks like at one height.
type Shade struct {
	// HeightMM is the middle of the slice.
	HeightMM float64
	// Lab is its L*, a* and b*, as the median over the front of the jar.
	Lab [3]float64
	// Grain is how rough it is, in L*: how much a pixel differs from its
	// neighbours. SD is the standard error of Lab, in CIELAB units for each
	// channel, from how much the slice itself varies.
	Grain, SD float64
}
