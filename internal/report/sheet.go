package report

import (
	"mudline/internal/reading"
	"mudline/internal/words"
)

// waterDeep says how deep the water is and, where that was not stated but measured by the
// sheet behind the jar, that it was, with two standard deviations.
func (o Options) waterDeep(r reading.Reading) words.Message {
	depth := words.Name("depth", o.depth(*r.WaterDepthMM))
	if r.WaterDepthFrom != "sheet" || r.WaterDepthSDMM == nil {
		return words.Say("report.water-deep", depth)
	}
	return words.Say("report.water-deep-by-sheet", depth, words.Name("sd", o.depth(2**r.WaterDepthSDMM)))
}
