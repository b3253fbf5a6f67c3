// Package feel is what hands say of a soil: what was observed when a moist
// handful was rubbed, rolled and pressed, how probable that is for a soil of
// given fractions, and whether it agrees with what a jar says.
package feel

// Hands is whose hands they are; empty counts as Beginner.
type Hands string

// The hands told apart.
const (
	Beginner  Hands = "beginner"
	Practised Hands = "practised"
)

// Answer is yes or no; empty where nothing was said.
type Answer string

// The answers.
const (
	Yes Answer = "yes"
	No  Answer = "no"
)

// Degree is how strongly something is felt; empty where nothing was said.
type Degree string

// The degrees.
const (
	None   Degree = "none"
	Some   Degree = "some"
	Strong Degree = "strong"
)

// Ball is whether a moist handful, squeezed, keeps together; empty where it was
// not tried.
type Ball string

// The balls told apart.
const (
	NoBall   Ball = "none" // crumbles as the hand opens
	WeakBall Ball = "weak" // holds, but breaks unless handled with care
	FirmBall Ball = "firm" // bears being handled freely
)

// Failure is how a ball gives way when it is pressed or dropped from half a
// metre; empty where it was not tried.
type Failure string

// The failures told apart.
const (
	FallsApart Failure = "falls apart"
	Cracks     Failure = "cracks"
	Deforms    Failure = "deforms"
)

// Smell of the moist soil; empty where nothing was said.
type Smell string

// The smells told apart.
const (
	NoSmell   Smell = "none"
	Earthy    Smell = "earthy"
	Sour      Smell = "sour"
	RottenEgg Smell = "rotten egg"
	Fuel      Smell = "fuel"
)

// Observation is what one pair of hands found. What was not tried is empty.
type Observation struct {
	Hands Hands
	// StonesOut, Moistened and Kneaded say how the handful was prepared: stones
	// and roots picked out, water added bit by bit, worked until even.
	StonesOut, Moistened, Kneaded Answer
	Smell                         Smell
	// ColourDry and ColourMoist are plain words or a Munsell notation (10YR 4/3).
	ColourDry, ColourMoist string
	Grit, Smooth, Sticky   Degree
	Ball                   Ball
	Failure                Failure
	// RibbonsMM are the lengths at which ribbons pressed out between thumb and
	// finger broke, in mm; a 0 is a ribbon that would not form at all.
	RibbonsMM []float64
}
