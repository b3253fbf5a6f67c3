package report

import (
	"bytes"
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"
	"text/tabwriter"

	"mudline/internal/reading"
	"mudline/internal/record"
)

// assumptions is the topic of the statement that names what was reckoned with.
const assumptions = "assumptions"

// meaning writes what the texture means for the garden, and with o.Explain the
// numbers and sources behind it.
func meaning(b *bytes.Buffer, r reading.Reading, o Options) {
	m := r.Meaning
	if m == nil {
		return
	}
	fmt.Fprintf(b, "\nWhat it means\n-------------\n")
	for i, l := range m.Lines {
		item(b, fmt.Sprintf("%d.", i+1), o.beside(l.Text))
	}
	for _, s := range m.More {
		if s.Topic == assumptions {
			b.WriteString(wrap(o.beside(s.Text), "", pageWidth))
		}
	}
	if !o.Explain {
		return
	}
	fmt.Fprintln(b)
	o.waterTable(b, m)
	fmt.Fprintln(b)
	for _, s := range m.More {
		if s.Topic != assumptions {
			item(b, "-", o.beside(s.Text)+" ["+s.Source+"]")
		}
	}
	item(b, "-", o.beside(m.Laboratory.Text)+" ["+m.Laboratory.Source+"]")
	fmt.Fprintln(b, "\nWhere the lines above come from")
	for i, l := range m.Lines {
		item(b, fmt.Sprintf("%d.", i+1), l.Source)
	}
}

// item writes a text whose first line starts with a mark.
func item(b *bytes.Buffer, mark, text string) {
	indent := strings.Repeat(" ", len(mark)+1)
	b.WriteString(mark + wrap(text, indent, pageWidth)[len(mark):])
}

func (o Options) waterTable(b *bytes.Buffer, m *reading.Meaning) {
	t := tabwriter.NewWriter(b, 0, 4, 3, ' ', 0)
	row := func(what, unit string, r reading.Range) {
		fmt.Fprintf(t, "%s\t%s\t%s\n", what, o.beside(twoFigures(r.Value)+" "+unit), o.beside(twoFigures(r.Low)+" to "+twoFigures(r.High)+" "+unit))
	}
	fmt.Fprintln(t, "water\tabout\t9 times in 10 from - to")
	row("held after draining (field capacity)", "%", m.FieldCapacity)
	row("left when plants wilt (wilting point)", "%", m.WiltingPoint)
	row("for plants, in a metre of soil", "mm", m.AvailableMMPerM)
	row("for plants, in the depth of the roots", "mm", m.Bed.TotalMM)
	row("of that, before they suffer", "mm", m.Bed.ReadilyMM)
	row("days that lasts without rain", "days", m.Bed.Days)
	row("passing through full soil, in an hour", "mm", m.ConductivityMMH)
	t.Flush()
}

// inMM finds lengths in millimetres, one or from-to, that have no inches yet.
var inMM = regexp.MustCompile(`([0-9]+(?:\.[0-9]+)?)( to ([0-9]+(?:\.[0-9]+)?))? mm\b( \([^)]*(inch|foot))?`)

// perSquareMetre finds water given to a bed, with or without its range.
var perSquareMetre = regexp.MustCompile(`([0-9]+) litres on each square metre(?: \(([0-9]+) to ([0-9]+), as the soil may be\))?`)

// beside puts inches beside millimetres in a text where inches are wanted, and
// gallons beside litres.
func (o Options) beside(text string) string {
	if !o.Inches {
		return text
	}
	text = perSquareMetre.ReplaceAllStringFunc(text, func(found string) string {
		m := perSquareMetre.FindStringSubmatch(found)
		found += ", or " + gallons(m[1]) + " gallons on 10 square feet"
		if m[2] != "" {
			found += " (" + gallons(m[2]) + " to " + gallons(m[3]) + ")"
		}
		return found
	})
	return inMM.ReplaceAllStringFunc(text, func(found string) string {
		m := inMM.FindStringSubmatch(found)
		if m[4] != "" {
			return found
		}
		inches := inch(m[1])
		if m[3] != "" {
			inches += " to " + inch(m[3])
		}
		return found + " (" + inches + " in)"
	})
}

// inch turns millimetres into inches of two figures, to a hundredth at most.
func inch(mm string) string {
	v, _ := strconv.ParseFloat(mm, 64) // digits only: cannot fail
	v /= record.MMPerInch
	decimals := 1 - int(math.Floor(math.Log10(math.Max(v, 0.1))))
	return strconv.FormatFloat(v, 'f', min(max(0, decimals), 2), 64)
}

// gallons turns litres on a square metre into US gallons on ten square feet: the
// gallon is 231 cubic inches, and a litre on a square metre stands 1 mm deep.
func gallons(litres string) string {
	v, _ := strconv.ParseFloat(litres, 64) // digits only: cannot fail
	return strconv.FormatFloat(v/record.MMPerInch*10*144/231, 'f', 1, 64)
}
