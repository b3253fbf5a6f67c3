package report

import (
	"bytes"
	"fmt"
	"math"
	"strings"

	"mudline/internal/reading"
	"mudline/internal/record"
	"mudline/internal/words"
)

// assumptions is the topic of the statement that names what was reckoned with.
const assumptions = "assumptions"

// meaning writes what the texture means for the garden, and with o.Explain the
// numbers and sources behind it.
func (o Options) meaning(b *bytes.Buffer, r reading.Reading) {
	m := r.Meaning
	if m == nil {
		return
	}
	b.WriteString("\n" + underlined(o.say("report.what-it-means"), "-"))
	c := citations{o: o, first: 1}
	cited := func(s reading.Statement) string {
		if numbers := c.of(s); o.Explain && numbers != "" {
			return o.statement(s) + " " + numbers
		}
		return o.statement(s)
	}
	for i, l := range m.Lines {
		o.item(b, fmt.Sprintf("%d.", i+1), cited(l))
	}
	for _, s := range m.More {
		if s.Topic == assumptions {
			b.WriteString(wrap(cited(s), "", o.width()))
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
			o.item(b, "-", cited(s))
		}
	}
	o.item(b, "-", cited(m.Laboratory))
	fmt.Fprintf(b, "\n%s\n", o.say("report.sources"))
	for i, source := range c.list {
		o.item(b, fmt.Sprintf("[%d]", i+1), source)
	}
	b.WriteString(wrap(o.say("report.no-number"), "", o.width()))
}

// statement writes what a statement says.
func (o Options) statement(s reading.Statement) string { return o.sentence(s.Message()) }

// item writes a text whose first line starts with a mark.
func (o Options) item(b *bytes.Buffer, mark, text string) {
	indent := strings.Repeat(" ", len(mark)+1)
	b.WriteString(mark + wrap(text, indent, o.width())[len(mark):])
}

func (o Options) waterTable(b *bytes.Buffer, m *reading.Meaning) {
	t := o.columns(b)
	o.heads(t, "water", "about", "9-in-10-from-to")
	row := func(what, value, within string) {
		fmt.Fprintf(t, "%s\t%s\t%s\n", o.say("table."+what), value, within)
	}
	in := func(what, unit string, r reading.Range) {
		row(what, o.say(unit, words.Name("v", o.twoFigures(r.Value))), o.say(unit, words.Name("v", o.fromTo(r))))
	}
	water := func(what string, r reading.Range) {
		row(what, o.beside(reading.Range{Value: r.Value, Low: r.Value, High: r.Value}, o.twoFigures(r.Value)), o.beside(r, o.fromTo(r)))
	}
	in("field-capacity", "report.percent", m.FieldCapacity)
	in("wilting-point", "report.percent", m.WiltingPoint)
	water("per-metre", m.AvailableMMPerM)
	water("root-zone", m.Bed.TotalMM)
	water("readily", m.Bed.ReadilyMM)
	in("days", "table.in-days", m.Bed.Days)
	water("an-hour", m.ConductivityMMH)
	t.Flush()
}

func (o Options) fromTo(r reading.Range) string {
	return o.say("report.span", words.Name("low", o.twoFigures(r.Low)), words.Name("high", o.twoFigures(r.High)))
}

// beside writes millimetres, with inches beside them where inches are wanted.
func (o Options) beside(r reading.Range, mm string) string {
	if !o.Inches {
		return o.unit("mm", mm)
	}
	inch := func(mm float64) string {
		v := mm / record.MMPerInch // two figures, a hundredth at most
		return o.decimal(v, min(max(0, 1-int(math.Floor(math.Log10(math.Max(v, 0.1))))), 2))
	}
	inches := inch(r.Low)
	if r.High > r.Low {
		inches = o.say("report.span", words.Name("low", inches), words.Name("high", inch(r.High)))
	}
	return o.say("unit.beside", words.Name("mm", o.unit("mm", mm)), words.Name("inch", o.unit("inch", inches)))
}
