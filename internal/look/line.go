package look

import "mudline/layers"

// Line is how one line of a jar is drawn wherever it stands: on a photo, in a chart,
// in the settling picture, in an editor and in its list. It is drawn in its colour
// within a seam of Seam on either side, so that it shows on any ground.
type Line struct {
	Name layers.Line
	// Colour is "#rrggbb", the same on every ground.
	Colour string
	// Dash are lengths that are drawn and left out in turn, in widths of the line; nil
	// for a line without gaps.
	Dash []float64
}

// Seam is the colour of the rim of every line, and of the ground under names on a photo.
const Seam = "#16120e"

// lines were chosen so that any two are far apart in CIELAB for every kind of colour
// sight, and each stands out in its seam; no two have the same dashes. The hue of a
// top is that of the part under it.
var lines = []Line{
	{layers.Floor, "#fffdf8", nil},
	{layers.SandTop, "#f6c104", []float64{5, 1.8}},
	{layers.SiltTop, "#22e58a", []float64{4.4, 1.5, 1.1, 1.5}},
	{layers.DepositTop, "#d75c26", []float64{11, 1.5}},
	{layers.HazeTop, "#8e7e9c", []float64{1, 1.9}},
	{layers.Water, "#5286ec", []float64{4, 1, 1, 1, 1, 1}},
	{layers.Glass, "#fffdf8", []float64{3, 2.1}},
}

// Lines are all lines, from the floor up; last the sides of the glass, which have the
// floor's colour and run across all others.
func Lines() []Line { return append([]Line(nil), lines...) }

// LineOf is the line of a name; the floor's for a name that is none.
func LineOf(name layers.Line) Line {
	for _, l := range lines {
		if l.Name == name {
			return l
		}
	}
	return lines[0]
}

// Dashes are the lengths of Dash for a line of a width.
func (l Line) Dashes(width float64) []float64 {
	out := make([]float64, len(l.Dash))
	for i, d := range l.Dash {
		out[i] = d * width
	}
	return out
}
