package report

import (
	"bytes"
	"fmt"
	"strings"

	"mudline/internal/reading"
	"mudline/texture"
)

// reasonsShown and classesShown are how many of each a terminal shows; the rest
// is in reading.json.
const reasonsShown, classesShown = 2, 3

// hands writes what the hands said, beside the jar.
func hands(b *bytes.Buffer, r reading.Reading) {
	h := r.Hand
	if h == nil {
		return
	}
	line := func(text string) { b.WriteString(wrap(text, "", pageWidth)) }
	b.WriteString("\n")
	if len(h.Questions) > 0 {
		line("By hand: " + h.Text)
		for _, q := range h.Questions {
			b.WriteString(wrap("? "+q, "  ", pageWidth))
		}
		return
	}
	if h.Clay != nil {
		text := fmt.Sprintf("By hand alone: clay %.0f to %.0f %%, 9 times in 10", h.Clay.Low, h.Clay.High)
		if len(h.Classes) > 0 {
			text += "; " + classList(h.Classes[:min(classesShown, len(h.Classes))])
		}
		line(text + ".")
	}
	line(h.Text)
	for _, why := range h.Reasons[:min(reasonsShown, len(h.Reasons))] {
		b.WriteString(wrap("It may be this: "+why.Text, "  ", pageWidth))
		if why.Remedy != "" {
			b.WriteString(wrap("What would settle it: "+why.Remedy, "    ", pageWidth))
		}
	}
	if j := h.Joint; j != nil {
		f := j.Fractions
		text := "Jar and hands together: sand " + between(f.Sand) + ", silt " + between(f.Silt) + ", clay " + between(f.Clay)
		if c := j.Class; c != nil {
			name, certainty := Verdict(*c)
			text += "; " + name + " - " + certainty
		}
		line(text + ".")
	}
}

func between(e reading.Estimate) string {
	return fmt.Sprintf("%.0f %% (%.0f to %.0f)", e.Percent, e.Low, e.High)
}

func classList(classes []reading.OtherClass) string {
	parts := make([]string, len(classes))
	for i, c := range classes {
		parts[i] = texture.InFull(c.Name) + " " + chance(c.Probability)
	}
	return strings.Join(parts, ", ")
}
