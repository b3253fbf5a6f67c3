// Package layers finds the boundaries in a settling jar from straightened
// strips of its front: the top of the deposit in every photo, and the
// boundaries inside the deposit. It knows heights and colours only: no files,
// no cameras.
//
// The way from strips to readings: columns pool the strip (columns.go), a step
// is what the columns agree has changed from one level to another (profile.go),
// lines are the places where it changes most (candidates.go), followed across
// the glass (trace.go); arcs are lines that do not lie on the front (arc.go).
// Then one explanation is chosen for all photos together (choose.go, sequence.go), with what
// is known of settling (prior.go), and the tops are turned into boundaries
// (read.go, onset.go). Inside the deposit, lines at one height in all photos are
// marks (marks.go); what speaks for each (traits.go, grade.go, silt.go) becomes
// odds (odds.go, weights.go), by which the tops of sand and silt are named and
// the candidates handed on (boundaries.go, shades.go). Last comes what is known
// of the water (haze.go, cloudtop.go, floating.go).
package layers

import "mudline/internal/words"

// Depth is how deep the water is, from the jar's inner floor to its level surface, which
// all heights are measured by.
type Depth struct {
	MM float64
	// Supposed says that nobody knows: MM is that of a usual jar. Heights are then right
	// as shares of it alone, and are told as such.
	Supposed bool
}

// Share is a height or another length up the jar as a share of the depth.
func (d Depth) Share(mm float64) float64 { return mm / d.MM }

// Tell is a height in a message: in millimetres where the depth is known, in percent of
// it where it is not.
func (d Depth) Tell(name string, mm float64, decimals int) words.Arg {
	if d.Supposed {
		return words.Told(name, words.Say("layer.percent-of-depth", words.Decimal("percent", 100*d.Share(mm), decimals)))
	}
	return words.MM(name, mm, decimals)
}

// tellRange is a range of heights in a message.
func (d Depth) tellRange(name string, lowMM, highMM float64) words.Arg {
	if d.Supposed {
		return words.Told(name, words.Say("layer.percent-range", words.Decimal("low", 100*d.Share(lowMM), 1), words.Decimal("high", 100*d.Share(highMM), 1)))
	}
	return words.Arg{Name: name, Value: words.Length{MM: lowMM, HighMM: highMM, Decimals: 1}}
}

// Strip is the front of the jar in one photo. Row 0 is highest; Lab holds CIE
// L*, a*, b* interleaved, W columns from the left edge of the glass (u=-USpan)
// to the right (u=+USpan).
type Strip struct {
	W, H  int
	USpan float64
	Lab   []float32
	// TopMM, BottomMM are the heights above the inner floor at the outer edge
	// of the first row and of the last row; TopMM > BottomMM. BottomMM may be
	// negative (glass foot) and TopMM above the water.
	TopMM, BottomMM float64
	// Water is how deep the water is; all that is in millimetres is so by it.
	Water Depth
	// ElapsedS is the time since the jar was set down, in seconds.
	ElapsedS float64
	// FrameSDMM is the standard deviation of the height scale itself.
	FrameSDMM float64
	// BowFloorMM, BowWaterMM are how far the middle of a level circle on the
	// glass hangs below its ends, at the floor and at the water; negative when
	// it rises above them. Both zero when not known.
	BowFloorMM, BowWaterMM float64
	// Stated holds the lines a person placed in this photo. They win over
	// what is seen.
	Stated Lines
}

// Lines are heights above the inner floor, in mm by the Depth of the strips; nil where not
// given.
type Lines struct{ DepositTop, SandTop, SiltTop, HazeTop *float64 }

// Boundary is one line between two materials, read as a gradient.
type Boundary struct {
	// HeightMM above the inner floor at the front of the jar, by the Depth of the strips,
	// and its standard deviation, which includes Strip.FrameSDMM.
	HeightMM, SDMM float64
	// WidthMM is how far the change is spread: about the 10-90 % width.
	WidthMM float64
	// Contrast is the change across it in CIELAB units.
	Contrast float64
	// Confidence is 0..1: how likely this is the boundary it is named for.
	Confidence float64
	// Stated is true when a person placed it.
	Stated bool
}

// Reading is what was found in one photo; a nil boundary was not seen.
type Reading struct {
	DepositTop *Boundary
	// SandTop is where silt begins above sand, SiltTop where clay begins above
	// silt. In early photos SiltTop is usually nil.
	SandTop, SiltTop *Boundary
	// HazeTop is the top of the cloud in a clearing suspension, if it has one.
	HazeTop *Boundary
	// Cloud is how opaque the water above the deposit is, 0 clear .. 1 opaque.
	Cloud float64
	// FloatingMM is the thickness of foam or debris at the water surface.
	FloatingMM float64
	// Candidates are the boundaries that might lie inside the deposit, lowest
	// first. In every photo.
	Candidates []Candidate
	// Shades is the deposit's colour and grain by height, lowest first, in
	// photos late enough for its layers to be those of the last one.
	Shades []Shade
	Notes  []Note
}

// Note is something a person should know about a reading.
type Note struct {
	Code string
	Text words.Message
}
