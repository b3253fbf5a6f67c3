package layers

// Weights of the traits, in their order, and the log odds of showing nowhere.
// Fitted by penalised maximum likelihood (half the sum of their squares) to 34
// rendered jars as they are, in other light with noise and half the rows, with
// shaken frames, in frames as found, and with only the late or the last photo.
// Held out by threes, of the lines named by them one sand top in ninety and one
// silt top in ten had no true boundary within 3 % of the water
// depth. Fit them anew when a trait changes; never move one by hand.
var (
	sandWeights = [sandTraits]float64{1.25, 0.53, 0.79, 0.71, -0.46, 0.59, -1.52, 0.85, 0.34, 0.32}
	siltWeights = [siltTraits]float64{0.98, 0.72, 1.08, 1.52}
)

const sandNone, siltNone = -0.34, -0.27

// From these odds on a line is named, and from rivalOdds on another that might
// be it is spoken of.
const (
	sandNamed = 0.35
	siltNamed = 0.60
	rivalOdds = 0.25
)
