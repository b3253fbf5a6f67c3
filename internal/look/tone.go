package look

// Tone is a colour of surfaces, text and what can be touched: one for light ground,
// one for dark, one for paper.
type Tone struct{ Name, Light, Dark, Print string }

// tones take surfaces from soil and paper, and what can be touched from deep water: blue
// against brown stays apart for every kind of colour sight.
var tones = []Tone{
	// Surfaces: the ground, what lies on it, what is sunk into it.
	{"paper", "#f6f1e7", "#1f1a14", "#ffffff"},
	{"card", "#fffdf8", "#2b241c", "#ffffff"},
	{"sunk", "#ece3d3", "#171310", "#f2ece2"},
	// Text of first and of second rank; faint lines, and borders of what can be touched.
	{"ink", "#2a2018", "#f5ecdd", "#1d1712"},
	{"soft", "#62544a", "#c8b9a5", "#54473b"},
	{"line", "#d8cab4", "#4a3f33", "#cfc3b3"},
	{"edge", "#85735f", "#9a8a76", "#80705f"},
	// What can be touched.
	{"water", "#17566a", "#8fd0df", "#17566a"},
	{"water-deep", "#0f4152", "#b5e3ed", "#0f4152"},
	{"on-water", "#ffffff", "#0a2a34", "#ffffff"},
	{"water-tint", "#e1eef0", "#1c3a43", "#e9f2f3"},
	{"focus", "#0b6b8a", "#ffd98a", "#0b6b8a"},
	// What to take care of, what went wrong, what is well.
	{"warn", "#7a4a00", "#f3c877", "#7a4a00"},
	{"warn-tint", "#fbeccb", "#42310f", "#fdf5e2"},
	{"bad", "#8f2416", "#ffb3a3", "#8f2416"},
	{"bad-tint", "#fbe3dc", "#4a1f17", "#fdf0ec"},
	{"good", "#35591f", "#bcdc9a", "#35591f"},
	{"good-tint", "#e8f0dc", "#2a3a1c", "#f2f7ea"},
	// What a jar says in a chart, and what hands say.
	{"cloud", "#a2411a", "#f0996a", "#a2411a"},
	{"hand", "#14607c", "#77c6e0", "#14607c"},
}

// Tones are all tones.
func Tones() []Tone { return append([]Tone(nil), tones...) }

// ToneOf is the tone of a name; the ink's for a name that is none.
func ToneOf(name string) Tone {
	for _, t := range tones {
		if t.Name == name {
			return t
		}
	}
	return ToneOf("ink")
}
