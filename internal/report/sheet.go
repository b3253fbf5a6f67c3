package report

import (
	"mudline/internal/reading"
	"mudline/internal/words"
)

// soilColours names the colours of the wet soil, "" where the sheet does not tell them.
func (o Options) soilColours(r reading.Reading) string {
	if r.Colours == nil || r.Colours.Wet == nil {
		return ""
	}
	return o.sentence(r.Colours.Wet.Message())
}

// waterDeep says how deep the water is and, where that was not stated but measured by the
// sheet behind the jar, that it was, with two standard deviations.
func (o Options) waterDeep(r reading.Reading) words.Message {
	depth := words.Name("depth", o.depth(*r.WaterDepthMM))
	if r.WaterDepthFrom != "sheet" || r.WaterDepthSDMM == nil {
		return words.Say("report.water-deep", depth)
	}
	return words.Say("report.water-deep-by-sheet", depth, words.Name("sd", o.depth(2**r.WaterDepthSDMM)))
}
