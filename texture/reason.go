package texture

import (
	"fmt"
	"math"
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
	SuspendedPercent float64 // of the soil, still in the water
	Text             string  // one plain sentence
}

func reason(r *Result) Reason {
	out := Reason{Kind: NoRuler, SuspendedPercent: r.SuspendedPercent.Value}
	if r.ByThickness == nil {
		out.Text = "Not every layer could be seen, so a ruler would give no answer here; the reading rests on how fast the deposit grew."
		return out
	}
	ruler, f := *r.ByThickness, r.Fractions()
	sand, silt, clay := f.Sand-ruler.Sand, f.Silt-ruler.Silt, f.Clay-ruler.Clay
	out.RulerPercent, out.ReadingPercent = ruler.Clay, f.Clay
	switch {
	case math.Abs(sand) < 2 && math.Abs(silt) < 2 && math.Abs(clay) < 2:
		out.Kind = Agrees
		out.Text = "Thickness alone gives nearly the same answer here."
	case clay < -1:
		out.Kind = LooseClay
		out.Text = fmt.Sprintf("Wet clay lies loosely: its layer takes up %.0f %% of the thickness but holds about %.0f %% of the weight.", ruler.Clay, f.Clay)
	case clay > 1 && r.SuspendedPercent.Value > 0.4*clay:
		out.Kind = ClayInWater
		out.Text = fmt.Sprintf("About %.0f %% of the soil still clouds the water, where a ruler cannot measure it.", r.SuspendedPercent.Value)
	case clay > 1:
		out.Kind = ClayInSilt
		out.Text = fmt.Sprintf("Some of the clay clumped and came down with the silt, so the clay layer shows %.0f %% where the soil holds about %.0f %%.", ruler.Clay, f.Clay)
	default:
		out.Kind = SiltWithSand
		out.RulerPercent, out.ReadingPercent = ruler.Sand, f.Sand
		out.Text = fmt.Sprintf("Sand packs tightly and silt lies looser: the sand layer takes up %.0f %% of the thickness and holds about %.0f %% of the weight.", ruler.Sand, f.Sand)
	}
	return out
}
