package layers

import (
	"fmt"
	"math"
)

// Codes of a Note.
const (
	NoteNothingSettled = "nothing_settled"          // no deposit in this photo yet
	NoteFaintTop       = "faint_top"                // the top of the deposit is hard to see
	NoteSandSilt       = "sand_silt_not_told_apart" // latest photo only
	NoteSiltClay       = "silt_clay_not_told_apart" // latest photo only
	NoteSandRival      = "sand_top_unsure"          // latest photo only
	NoteSiltRival      = "silt_top_unsure"          // latest photo only
	NoteCloudy         = "clay_still_in_suspension" // latest photo only
	NoteFloating       = "floating_matter_left_out" // not part of any layer
)

func (p *photo) addNotes(r *Reading, last bool) { r.Notes = NotesOn(*r, p.s.WaterMM, last) }

// NotesOn says in words what a person should know about one reading, in water
// of that depth; last says that it is the latest photo's.
func NotesOn(r Reading, waterMM float64, last bool) (notes []Note) {
	note := func(code, format string, a ...any) {
		notes = append(notes, Note{code, fmt.Sprintf(format, a...)})
	}
	if r.DepositTop == nil && r.SandTop == nil && r.SiltTop == nil {
		note(NoteNothingSettled, "no deposit shows in this photo yet")
	} else if r.DepositTop != nil && r.DepositTop.SDMM > 0.012*waterMM {
		note(NoteFaintTop, "the top of the deposit is hard to see here: %.1f mm, give or take %.1f mm", r.DepositTop.HeightMM, r.DepositTop.SDMM)
	}
	if r.FloatingMM > 0 {
		note(NoteFloating, "about %.0f mm of floating matter at the surface is left out of the layers", r.FloatingMM)
	}
	if !last {
		return notes
	}
	if r.SandTop == nil {
		note(NoteSandSilt, "sand and silt are not told apart")
	} else if r.SandTop.Confidence <= faintSand {
		note(NoteSandSilt, "no line parts sand from silt; by the grain to be seen at the floor the sand ends at about %.0f mm, give or take %.0f mm", r.SandTop.HeightMM, r.SandTop.SDMM)
	}
	if r.SiltTop == nil {
		note(NoteSiltClay, "silt and clay are not told apart")
	}
	if z, ok := r.rival(r.SandTop, waterMM, func(c Candidate) float64 { return c.SandOdds }); ok {
		note(NoteSandRival, "the sand may also end at about %.0f mm, where another line lies", z)
	}
	if z, ok := r.rival(r.SiltTop, waterMM, func(c Candidate) float64 { return c.SiltOdds }); ok {
		note(NoteSiltRival, "the silt may also end at about %.0f mm, where another line lies", z)
	}
	if r.Cloud > 0.35 {
		note(NoteCloudy, "the water is still cloudy: what has not settled yet is in no layer")
	}
	return notes
}

// rival is the height of the likeliest candidate that might be a line named
// elsewhere, if it comes close.
func (r *Reading) rival(named *Boundary, waterMM float64, odds func(Candidate) float64) (z float64, ok bool) {
	if named == nil || named.Stated {
		return 0, false
	}
	best := rivalOdds
	for _, c := range r.Candidates {
		if o := odds(c); o >= best && math.Abs(c.HeightMM-named.HeightMM) > sameLine*waterMM {
			best, z, ok = o, c.HeightMM, true
		}
	}
	return z, ok
}
