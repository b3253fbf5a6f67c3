// Package report shows a reading to a person: as a table for the terminal and
// drawn on their own photos. Wording is for a gardener first; what only the
// curious want is behind Options.Explain.
package report

import (
	"fmt"
	"math"
	"strings"

	"mudline/internal/reading"
	"mudline/internal/record"
	"mudline/internal/words"
	"mudline/texture"
)

// Options say how a reading is shown.
type Options struct {
	// Explain adds the numbers behind the reading.
	Explain bool
	// Inches and Fahrenheit show lengths and temperatures in those units.
	Inches, Fahrenheit bool
	// Language is that of HTML and of charts; nil is English. All else speaks English.
	Language *words.Language
}

// length writes a height: "24.2 mm" or "0.95 in".
func (o Options) length(mm float64) string {
	if o.Inches {
		return fmt.Sprintf("%.2f in", mm/record.MMPerInch)
	}
	return fmt.Sprintf("%.1f mm", mm)
}

// depth writes the water depth.
func (o Options) depth(mm float64) string {
	if o.Inches {
		return fmt.Sprintf("%.4g in", mm/record.MMPerInch)
	}
	return fmt.Sprintf("%.0f mm", mm)
}

func (o Options) temp(c float64) string {
	if o.Fahrenheit {
		return fmt.Sprintf("%.0f F", c*1.8+32)
	}
	return fmt.Sprintf("%.0f C", c)
}

// height writes a height with its spread of two standard deviations, which
// holds about 95 times in 100.
func (o Options) height(h *reading.Height, percent bool) string {
	switch {
	case h == nil:
		return "-"
	case percent:
		return fmt.Sprintf("%.1f +- %.1f %%", h.Value, spread(h.SD, 0.1))
	case o.Inches:
		return fmt.Sprintf("%.2f +- %.2f in", h.Value/record.MMPerInch, spread(h.SD/record.MMPerInch, 0.01))
	}
	return fmt.Sprintf("%.1f +- %.1f mm", h.Value, spread(h.SD, 0.1))
}

// spread is twice the standard deviation, never shown as nothing.
func spread(sd, least float64) float64 { return math.Max(2*sd, least) }

// source says where a photo's time comes from.
func source(from string) string {
	switch from {
	case record.FromName:
		return "file name"
	case record.FromEXIF:
		return "camera"
	}
	return "you"
}

// chance writes a probability the way people say it.
func chance(p float64) string {
	n := int(math.Round(100 * p))
	switch {
	case n >= 100:
		return "over 99 in 100"
	case n < 1:
		return "under 1 in 100"
	}
	return fmt.Sprintf("%d in 100", n)
}

// sure words how far the first class can be relied on.
func sure(p float64) string {
	switch {
	case p >= 0.9:
		return "very likely"
	case p >= reading.Enough:
		return "likely"
	}
	return "the best guess"
}

// Verdict names the class of a reading, or the few of which it is one, and says how
// sure that is: "loam or clay loam", "one of these, 92 in 100 together".
func Verdict(c reading.Class) (name, certainty string) {
	names, together := c.Named()
	for i, n := range names {
		names[i] = texture.InFull(n)
	}
	if len(names) == 1 {
		return names[0], sure(c.Probability) + ", " + chance(c.Probability)
	}
	last := len(names) - 1
	return strings.Join(names[:last], ", ") + " or " + names[last], "one of these, " + chance(together) + " together"
}

// share writes a percentage, or that it was not told.
func share(v *float64) string {
	if v == nil {
		return "-"
	}
	return fmt.Sprintf("%.0f %%", *v)
}

// wrap breaks text into lines of at most width letters, each after indent.
func wrap(text, indent string, width int) string {
	var b strings.Builder
	line := indent
	for _, word := range strings.Fields(text) {
		if len([]rune(line))+1+len([]rune(word)) > width && line != indent {
			b.WriteString(line + "\n")
			line = indent
		}
		if line != indent {
			line += " "
		}
		line += word
	}
	return b.String() + line + "\n"
}

func percent(v float64) string { return fmt.Sprintf("%.0f %%", v) }
