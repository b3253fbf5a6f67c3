// Package checked holds the figures about the program's own accuracy that a person is
// told, each once: how often something came true, of how many, on what, and by which
// command that was found. testdata/MEASURED.md has the same figures for readers; a test
// holds the two together.
package checked

import "mudline/internal/words"

// Figure says how often something came true.
type Figure struct {
	// N of Of cases.
	N, Of int
	// What came true, and Command what counted it, as testdata/MEASURED.md has them.
	What, Command string
}

const (
	unaided   = "go run ./internal/accuracy -unaided FOLDER"
	simulated = "go test ./texture -run TestNaturalSoils -v"
	verdicts  = "go test ./texture/feel -run TestVerdictsComeAtTheirRate -v"
	swapped   = "go test ./texture/feel -run TestSwappedJars -v"
)

// The rendered jars are those that the program was fitted on; the simulated soils were in
// view when its beliefs were set.
const (
	RenderedJars   = 34
	SimulatedSoils = 96
)

// The figures that texts quote.
var (
	// Ranges are the 90 % ranges of sand, silt and clay of rendered jars.
	Ranges = Figure{95, 102, "range of sand, silt or clay that holds the truth, 34 rendered jars", unaided}
	// Lines are the heights with their two standard deviations.
	Lines = Figure{154, 171, "line within the two standard deviations shown, 34 rendered jars", unaided}
	// Likely are the classes named with a probability of two in three and more.
	Likely = Figure{12, 13, "class called likely or very likely that is the true one, 34 rendered jars", unaided}
	// Simulated are the 90 % ranges of soils settled by package texture/column.
	Simulated = Figure{262, 288, "range that holds the truth, 96 simulated soils", simulated}
	// SoundPairs are hands and jar with one soil that are said to disagree.
	SoundPairs = Figure{43, 300, "hands and jar with one soil said to disagree, simulated pairs", verdicts}
	// SwappedPairs are practised hands and jars with two soils that are said to disagree.
	SwappedPairs = Figure{194, 208, "practised hands and a jar of another soil said to disagree, simulated hands, rendered jars", swapped}
)

// All are the figures, in the order of testdata/MEASURED.md.
func All() []Figure { return []Figure{Ranges, Lines, Likely, Simulated, SoundPairs, SwappedPairs} }

// Readings says on what readings were checked, and how they did.
func Readings() words.Message {
	return words.Say("checked.readings", words.Whole("jars", RenderedJars), words.Whole("ranges", Ranges.N), words.Whole("ranges_of", Ranges.Of),
		words.Whole("right", Likely.N), words.Whole("named", Likely.Of),
		words.Whole("soils", SimulatedSoils), words.Whole("simulated", Simulated.N), words.Whole("simulated_of", Simulated.Of))
}

// Heights says how often lines lay within what is shown of their doubt.
func Heights() words.Message {
	return words.Say("checked.heights", words.Whole("lines", Lines.N), words.Whole("lines_of", Lines.Of), words.Whole("jars", RenderedJars))
}

// Pairs says how often hands and jar are said to disagree although they hold one soil.
func Pairs() words.Message {
	return words.Say("checked.pairs", words.Whole("pairs", SoundPairs.Of), words.Whole("n", SoundPairs.N))
}
