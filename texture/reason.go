package texture

import (
	"math"

	"mudline/internal/words"
)

// ReasonKind says why the reading differs from the ruler's.
type ReasonKind string

// The reasons a reading can give.
const (
	NoRuler      ReasonKind = "no-ruler"       // the layers were not all seen
	Agrees       ReasonKind = "agrees"         // within two points
	LooseClay    ReasonKind = "loose-clay"     // clay lies loosely, its layer looks too thick
	ClayInWater  ReasonKind = "clay-in-water"  // clay has yet to settle
	ClayInSilt   ReasonKind = "clay-in-silt"   // clumped clay came down with the silt
	SiltWithSand ReasonKind = "silt-with-sand" // silt that lies in the sand layer
)

// Reason is the main reason with its numbers.
type Reason struct {
	Kind             ReasonKind
	RulerPercent     float64 // of the fraction the reason is about
	ReadingPercent   float64
	SuspendedPercent float64       // of the soil, still in the water
	Text             words.Message // one plain sentence
}

func reason(r *Result) Reason {
	out := Reason{Kind: NoRuler, SuspendedPercent: r.SuspendedPercent.Value}
	if r.ByThickness == nil {
		out.Text = words.Say("soil.no-ruler")
		return out
	}
	ruler, f := *r.ByThickness, r.Fractions()
	sand, silt, clay := f.Sand-ruler.Sand, f.Silt-ruler.Silt, f.Clay-ruler.Clay
	out.RulerPercent, out.ReadingPercent = ruler.Clay, f.Clay
	switch {
	case math.Abs(sand) < 2 && math.Abs(silt) < 2 && math.Abs(clay) < 2:
		out.Kind = Agrees
		out.Text = words.Say("soil.ruler-agrees")
	case clay < -1:
		out.Kind = LooseClay
		out.Text = words.Say("soil.loose-clay", words.Whole("ruler", ruler.Clay), words.Whole("weight", f.Clay))
	case clay > 1 && r.SuspendedPercent.Value > 0.4*clay:
		out.Kind = ClayInWater
		out.Text = words.Say("soil.clay-in-water", words.Whole("percent", r.SuspendedPercent.Value))
	case clay > 1:
		out.Kind = ClayInSilt
		out.Text = words.Say("soil.clay-in-silt", words.Whole("ruler", ruler.Clay), words.Whole("weight", f.Clay))
	default:
		out.Kind = SiltWithSand
		out.RulerPercent, out.ReadingPercent = ruler.Sand, f.Sand
		out.Text = words.Say("soil.silt-with-sand", words.Whole("ruler", ruler.Sand), words.Whole("weight", f.Sand))
	}
	return out
}
