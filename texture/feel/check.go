package feel

import (
	"fmt"
	"math"
	"slices"
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
func Check(o Observation) []string {
	var out []string
	for _, c := range Conflicts(o) {
		out = append(out, c.Ask)
	}
	return out
}

// Conflict is what Check asks, and the keys of the questions whose answers do not
// go together or cannot be: those to put again.
type Conflict struct {
	Ask  string
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
		ask      string
	}{
		{o.Ball == NoBall && longest > smearMM, []string{"ball", "ribbons"},
			fmt.Sprintf("You said that no ball holds together, but a ribbon of %s: what makes a ribbon also makes a ball. Which is right? Wet the soil a little, knead it, and squeeze a ball again.", length(longest))},
		{o.Ball == NoBall && o.Moistened == No, []string{"moistened", "ball"},
			"You said that no ball holds together, and that the soil was not wetted: dry soil of any kind falls apart. Does it hold once it is wet? Wet it drop by drop until it is like putty, and squeeze a ball again."},
		{o.Ball == NoBall && (o.Failure == Deforms || o.Failure == Cracks), []string{"ball", "failure"},
			fmt.Sprintf("You said that no ball holds together, but also that the ball %s: which is right? Squeeze a ball again and drop it from half a metre.", o.Failure)},
		{o.Ball == NoBall && o.Sticky != Strong && (o.Grit == None || o.Grit == Some || o.Smooth == Strong) && o.Moistened != No && longest <= smearMM, []string{"ball", "grit", "smooth"},
			"You said that no ball holds together, but not that it is gritty above all: moist soil that keeps no ball is sand, and sand grates. Which is right? Wet the soil a little, or let it dry a little if it is runny, knead it, and squeeze a ball again."},
		{o.Ball == NoBall && o.Sticky == Strong, []string{"ball", "sticky"},
			"You said that no ball holds together, but also that the soil clings to your fingers: what clings holds together. Which is right? Wet it a little, knead it, and squeeze a ball again."},
		{o.Failure == Deforms && len(o.RibbonsMM) > 0 && longest <= smearMM, []string{"failure", "ribbons"},
			"You said that the ball only changes shape, but also that no ribbon forms: soil that gives like putty can be pressed into one. Which is right? If it is runny, let it dry a little, then press a ribbon again."},
		{o.Failure == FallsApart && longest >= clayeyMM, []string{"failure", "ribbons"},
			fmt.Sprintf("You said that the ball falls apart, but a ribbon of %s: soil that makes so long a ribbon is tough. Which is right? Knead a fresh ball, drop it from half a metre, and measure the ribbon again.", length(longest))},
		{o.Sticky == None && longest >= clayeyMM, []string{"ribbons", "sticky"},
			fmt.Sprintf("You said that the soil does not stick, but a ribbon of %s: so long a ribbon takes clay, and wet clay sticks. Which is right? Wet a pinch well and draw thumb and finger apart.", length(longest))},
		{o.Grit == Strong && o.Smooth == Strong, []string{"grit", "smooth"},
			"You said grit above all, but also smooth above all: only one of them can be felt above all. Which is it? Wet a pinch until it runs, and rub it in the palm again."},
		{o.Grit == None && o.Smooth == None && o.Sticky == None, []string{"grit", "smooth", "sticky"},
			"You said no grit, not smooth and not sticky: sand feels gritty, silt smooth and clay sticky, so one of them must be there. Which is it? Wet a pinch until it runs, and rub it in the palm again."},
		{longest > 40 && longest > 5*shortest, []string{"ribbons"},
			fmt.Sprintf("Your ribbons run from %s to %s, too far apart for one handful. Is one of them a slip, or was there a stone in it? Knead the soil again and press a few more.", length(shortest), length(longest))},
	} {
		if c.conflict {
			out = append(out, Conflict{c.ask, c.keys})
		}
	}
	return out
}

func (o Observation) impossibleRibbons() []string {
	var out []string
	for _, mm := range o.RibbonsMM {
		switch {
		case math.IsNaN(mm) || math.IsInf(mm, 0):
			out = append(out, "One ribbon has a length that is no number. How long was it? Measure it from where it left your fingers to where it broke; write 0 if none would form.")
		case mm < 0:
			out = append(out, fmt.Sprintf("One ribbon is %s long: a length cannot be below 0. How long was it? Write 0 if none would form.", length(mm)))
		case mm > longestMM:
			out = append(out, fmt.Sprintf("One ribbon is %s long: a ribbon breaks under its own weight long before, and hardly one is over %s. Is the unit right? Press a fresh one, about 3 mm thick, and measure what breaks off.", length(mm), length(longestMM)))
		}
	}
	return out
}

// length is in both units, as the person may have measured in either.
func length(mm float64) string { return fmt.Sprintf("%.4g mm (%.3g in)", mm, mm/25.4) }
