package report

import (
	"bytes"
	"fmt"
	"strings"
	"text/tabwriter"

	"mudline/internal/reading"
	"mudline/internal/words"
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

// beside puts inches beside millimetres in an English text where inches are wanted, and
// gallons beside litres.
func (o Options) beside(text string) string {
	if !o.Inches {
		return text
	}
	var english *words.Language
	return english.Beside(text)
}
