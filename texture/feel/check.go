package feel

import (
	"math"
	"slices"

	"mudline/internal/words"
)

const (
	// longestMM is the longest ribbon believed. Published scales end at "over
	// 75 mm"; that none bears its own weight at three times that is an assumption.
	longestMM = 250
	// smearMM is up to where what was pressed out may be a smear rather than a
	// ribbon: the Australian grades give loamy sand about 5 mm.
	smearMM = 5
	// clayeyMM is the ribbon from where on a soil is a clay (Thien 1979).
	clayeyMM = 50
)

// Check asks back where answers cannot be, or cannot be true of one handful; it
// is empty where all is well. Until it is, nothing should be concluded.
func Check(o Observation) []words.Message {
	var out []words.Message
	for _, c := range Conflicts(o) {
		out = append(out, c.Ask)
	}
	return out
}

// Conflict is what Check asks, and the keys of the questions whose answers do not
// go together or cannot be: those to put again.
type Conflict struct {
	Ask  words.Message
	Keys []string
}

// Conflicts is Check with the questions to put again.
func Conflicts(o Observation) []Conflict {
	var out []Conflict
	if q := o.impossibleRibbons(); len(q) > 0 {
		for _, ask := range q {
			out = append(out, Conflict{ask, []string{Ribbons}})
		}
		return out
	}
	longest, shortest := 0.0, 0.0
	if len(o.RibbonsMM) > 0 {
		longest, shortest = slices.Max(o.RibbonsMM), slices.Min(o.RibbonsMM)
	}
	for _, c := range []struct {
		conflict bool
		keys     []string
		ask      words.Message
	}{
		{o.Ball == NoBall && longest > smearMM, []string{"ball", "ribbons"},
			words.Say("hand.check-ball-or-ribbon", words.Told("longest", length(longest)))},
		{o.Ball == NoBall && o.Moistened == No, []string{"moistened", "ball"},
			words.Say("hand.check-dry-or-ball")},
		{o.Ball == NoBall && (o.Failure == Deforms || o.Failure == Cracks), []string{"ball", "failure"},
			words.Say("hand.check-ball-or-failure", words.Word("failure", "hand-value", string(o.Failure)))},
		{o.Ball == NoBall && o.Sticky != Strong && (o.Grit == None || o.Grit == Some || o.Smooth == Strong) && o.Moistened != No && longest <= smearMM, []string{"ball", "grit", "smooth"},
			words.Say("hand.check-ball-or-grit")},
		{o.Ball == NoBall && o.Sticky == Strong, []string{"ball", "sticky"},
			words.Say("hand.check-ball-or-sticky")},
		{o.Failure == Deforms && len(o.RibbonsMM) > 0 && longest <= smearMM, []string{"failure", "ribbons"},
			words.Say("hand.check-putty-or-ribbon")},
		{o.Failure == FallsApart && longest >= clayeyMM, []string{"failure", "ribbons"},
			words.Say("hand.check-falls-apart-or-ribbon", words.Told("longest", length(longest)))},
		{o.Sticky == None && longest >= clayeyMM, []string{"ribbons", "sticky"},
			words.Say("hand.check-sticky-or-ribbon", words.Told("longest", length(longest)))},
		{o.Grit == Strong && o.Smooth == Strong, []string{"grit", "smooth"},
			words.Say("hand.check-grit-or-smooth")},
		{o.Grit == None && o.Smooth == None && o.Sticky == None, []string{"grit", "smooth", "sticky"},
			words.Say("hand.check-nothing-felt")},
		{longest > 40 && longest > 5*shortest, []string{"ribbons"},
			words.Say("hand.check-ribbons-apart", words.Told("shortest", length(shortest)), words.Told("longest", length(longest)))},
	} {
		if c.conflict {
			out = append(out, Conflict{c.ask, c.keys})
		}
	}
	return out
}

func (o Observation) impossibleRibbons() []words.Message {
	var out []words.Message
	for _, mm := range o.RibbonsMM {
		switch {
		case math.IsNaN(mm) || math.IsInf(mm, 0):
			out = append(out, words.Say("hand.check-no-number"))
		case mm < 0:
			out = append(out, words.Say("hand.check-below-zero", words.Told("length", length(mm))))
		case mm > longestMM:
			out = append(out, words.Say("hand.check-too-long", words.Told("length", length(mm)), words.Told("longest", length(longestMM))))
		}
	}
	return out
}

// length is in both units, as the person may have measured in either.
func length(mm float64) words.Message {
	return words.Say("hand.both-units", words.Figures("mm", mm, 4), words.Figures("inch", mm/25.4, 3))
}
