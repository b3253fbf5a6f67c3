package layers

import (
	"math"

	"mudline/internal/words"
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

func (p *photo) addNotes(r *Reading, last bool) { r.Notes = NotesOn(*r, p.s.Water, last) }

// shownSDs is how many standard deviations people are told as give or take, as in all
// tables and pictures.
const shownSDs = 2

// NotesOn says in words what a person should know about one reading, in water
// of that depth; last says that it is the latest photo's.
func NotesOn(r Reading, water Depth, last bool) (notes []Note) {
	note := func(code string, text words.Message) { notes = append(notes, Note{code, text}) }
	if r.DepositTop == nil && r.SandTop == nil && r.SiltTop == nil {
		note(NoteNothingSettled, words.Say("layer.nothing-settled"))
	} else if r.DepositTop != nil && r.DepositTop.SDMM > 0.012*water.MM {
		note(NoteFaintTop, words.Say("layer.faint-top", water.Tell("h", r.DepositTop.HeightMM, 1), water.Tell("sd", shownSDs*r.DepositTop.SDMM, 1)))
	}
	if r.FloatingMM > 0 {
		note(NoteFloating, words.Say("layer.floating", water.Tell("h", r.FloatingMM, 0)))
	}
	if !last {
		return notes
	}
	if r.SandTop == nil {
		note(NoteSandSilt, words.Say("layer.sand-silt"))
	} else if r.SandTop.Confidence <= faintSand {
		note(NoteSandSilt, words.Say("layer.sand-by-grain", water.Tell("h", r.SandTop.HeightMM, 0), water.Tell("sd", shownSDs*r.SandTop.SDMM, 0)))
	}
	if r.SiltTop == nil {
		note(NoteSiltClay, words.Say("layer.silt-clay"))
	}
	if z, ok := r.rival(r.SandTop, water.MM, func(c Candidate) float64 { return c.SandOdds }); ok {
		note(NoteSandRival, words.Say("layer.sand-rival", water.Tell("h", z, 0)))
	}
	if z, ok := r.rival(r.SiltTop, water.MM, func(c Candidate) float64 { return c.SiltOdds }); ok {
		note(NoteSiltRival, words.Say("layer.silt-rival", water.Tell("h", z, 0)))
	}
	if r.Cloud > 0.35 {
		note(NoteCloudy, words.Say("layer.cloudy"))
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
