package layers

import "fmt"

// Codes of a Note.
const (
	NoteNothingSettled = "nothing_settled"          // no deposit in this photo yet
	NoteFaintTop       = "faint_top"                // the top of the deposit is hard to see
	NoteSandSilt       = "sand_silt_not_told_apart" // latest photo only
	NoteSiltClay       = "silt_clay_not_told_apart" // latest photo only
	NoteCloudy         = "clay_still_in_suspension" // latest photo only
	NoteFloating       = "floating_matter_left_out" // not part of any layer
)

// addNotes says in words what a person should know about one reading.
func (p *photo) addNotes(r *Reading, last bool) {
	note := func(code, format string, a ...any) {
		r.Notes = append(r.Notes, Note{code, fmt.Sprintf(format, a...)})
	}
	if r.DepositTop == nil {
		note(NoteNothingSettled, "no deposit shows in this photo yet")
	} else if r.DepositTop.SDMM > 0.012*p.s.WaterMM {
		note(NoteFaintTop, "the top of the deposit is hard to see here: %.1f mm, give or take %.1f mm", r.DepositTop.HeightMM, r.DepositTop.SDMM)
	}
	if r.FloatingMM > 0 {
		note(NoteFloating, "about %.0f mm of floating matter at the surface is left out of the layers", r.FloatingMM)
	}
	if !last {
		return
	}
	if r.SandTop == nil {
		note(NoteSandSilt, "sand and silt are not told apart")
	} else if r.SandTop.Confidence <= faintSand {
		note(NoteSandSilt, "no line parts sand from silt; by the grain to be seen at the floor the sand ends at about %.0f mm, give or take %.0f mm", r.SandTop.HeightMM, r.SandTop.SDMM)
	}
	if r.SiltTop == nil {
		note(NoteSiltClay, "silt and clay are not told apart")
	}
	if r.Cloud > 0.35 {
		note(NoteCloudy, "the water is still cloudy: what has not settled yet is in no layer")
	}
}
