package look

import "fmt"

// Pattern is what tells sand, silt and clay apart without colour: dots for sand, broken
// lines for silt and lines for clay, the way geologists draw them (FGDC Digital
// Cartographic Standard for Geologic Map Symbolization, 2006, lithologic patterns; the
// spacings are our own).
type Pattern int

// The patterns.
const (
	Dotted Pattern = iota
	Dashed
	Ruled
)

// Part is how sand, silt or clay is drawn, whatever the soil's own colours are.
type Part struct {
	// Name is "sand", "silt" or "clay".
	Name    string
	Colour  string // "#rrggbb", the same on every ground
	Pattern Pattern
}

var parts = []Part{{"sand", "#efcb5f", Dotted}, {"silt", "#6fa893", Dashed}, {"clay", "#6b2a18", Ruled}}

// Parts are sand, silt and clay. They fall in lightness, so that grey tells them apart.
func Parts() []Part { return append([]Part(nil), parts...) }

// PartOf is the part of a name; sand's for a name that is none.
func PartOf(name string) Part {
	for _, p := range parts {
		if p.Name == name {
			return p
		}
	}
	return parts[0]
}

// SVGPatterns are the patterns of sand, silt and clay for a page's drawings, once in a
// page: fill="url(#part-sand)" paints with colour and pattern.
func SVGPatterns() string {
	out := `<svg class="unseen" width="0" height="0" aria-hidden="true" focusable="false"><defs>`
	for _, p := range parts {
		size, marks := p.Pattern.tile()
		out += fmt.Sprintf(`<pattern id="part-%s" patternUnits="userSpaceOnUse" %s><rect width="14" height="14" fill="%s"/><g fill="%s" stroke="%[4]s" stroke-width="%[6]s" opacity=".6">%[5]s</g></pattern>`,
			p.Name, size, p.Colour, InkOn(p.Colour), marks, map[bool]string{true: "0", false: "1"}[p.Pattern == Dotted])
	}
	return out + "</defs></svg>"
}

// tile is what repeats: its size, and what is drawn on it.
func (p Pattern) tile() (size, marks string) {
	switch p {
	case Dotted:
		return `width="7" height="14"`, `<circle cx="1.75" cy="3.5" r=".95"/><circle cx="5.25" cy="10.5" r=".95"/>`
	case Dashed:
		return `width="11" height="14"`, `<path d="M3 3.5h5M-3 10.5h5M8.5 10.5h5"/>`
	}
	return `width="7" height="7"`, `<path d="M0 3.5h7"/>`
}

// RowsApart is how far the rows of a pattern lie apart, in pixels.
const RowsApart = 7

// Row are the marks of one row of the pattern from one place to another, in pixels: where
// each begins and ends; a dot ends where it begins. Every odd row is shifted by half a step.
func (p Pattern) Row(from, to float64, odd bool) (marks [][2]float64) {
	step, long := 7.0, 0.0
	switch p {
	case Ruled:
		if to-from > 2 {
			marks = append(marks, [2]float64{from, to})
		}
		return marks
	case Dashed:
		step, long = 11, 5
	}
	if odd {
		from += step / 2
	}
	for x := from; x+long <= to; x += step {
		marks = append(marks, [2]float64{x, x + long})
	}
	return marks
}
