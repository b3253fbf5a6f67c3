package report

import (
	"bytes"
	"fmt"
	"io"
	"math"
	"strings"

	"mudline/internal/reading"
	"mudline/internal/words"
	"mudline/layers"
)

const pageWidth = 92

// WriteTable writes a reading for the terminal.
func WriteTable(w io.Writer, r reading.Reading, o Options) error {
	var b bytes.Buffer
	o.heading(&b, r)
	o.photos(&b, r)
	o.fractions(&b, r)
	o.texture(&b, r)
	if why := r.Reason(); !why.IsZero() {
		b.WriteString("\n" + wrap(o.say("table.why", words.Told("why", why)), "", o.width()))
	}
	if colours := o.soilColours(r); colours != "" {
		b.WriteString("\n" + wrap(colours, "", pageWidth))
	}
	o.hands(&b, r)
	o.warnings(&b, r.Warnings)
	if n := r.NextPhoto; n != nil {
		b.WriteString("\n" + wrap(o.tell(n.Message()), "", o.width()))
	}
	o.meaning(&b, r)
	if o.Explain {
		o.explain(&b, r)
	}
	o.cautions(&b)
	_, err := w.Write(b.Bytes())
	return err
}

// columns starts a table of tabbed columns.
func (o Options) columns(b *bytes.Buffer) *words.Columns { return words.NewColumns(b, o.Columns) }

// width is how long lines of text may be.
func (o Options) width() int {
	if o.Columns > 0 {
		return min(o.Columns, pageWidth)
	}
	return pageWidth
}

// heads writes the heads of columns; an empty key is a column without one.
func (o Options) heads(t io.Writer, keys ...string) {
	for i, k := range keys {
		if i > 0 {
			fmt.Fprint(t, "\t")
		}
		if k != "" {
			fmt.Fprint(t, o.say("table."+k))
		}
	}
	fmt.Fprintln(t)
}

func (o Options) heading(b *bytes.Buffer, r reading.Reading) {
	b.WriteString(underlined(words.OneLine(r.Jar), "="))
	water := o.say("table.no-depth")
	if r.WaterDepthMM != nil {
		water = o.language().Say(o.waterDeep(r))
	}
	temp := o.temp(r.TempC)
	if r.TempFrom == "assumed" {
		temp = o.say("table.assumed", words.Name("temp", temp))
	}
	fmt.Fprintf(b, "%s, %s\n\n", water, temp)
}

func (o Options) photos(b *bytes.Buffer, r reading.Reading) {
	t := o.columns(b)
	o.heads(t, "photo", "time", "time-from", "deposit-top", "sand-top", "silt-top")
	for _, p := range someOf(r.Photos) {
		h, percent := p.HeightsMM, false
		if h == nil {
			h, percent = p.HeightsPercent, true
		}
		fmt.Fprintf(t, "%s\t%s\t%s", words.OneLine(p.File), o.elapsed(p.ElapsedS), o.source(p.ElapsedFrom))
		for _, top := range []layers.Line{layers.DepositTop, layers.SandTop, layers.SiltTop} {
			fmt.Fprint(t, "\t", o.height(h.Of(top), percent))
			if p.States(top) {
				fmt.Fprint(t, "*")
			}
		}
		fmt.Fprintln(t)
	}
	t.Flush()
	if n := len(r.Photos); n > mostRows {
		b.WriteString(wrap(o.say("table.some-photos", words.Whole("shown", mostRows), words.Whole("all", n), words.Name("file", reading.FileName)), "", o.width()))
	}
	for _, p := range r.Photos {
		if len(p.Stated) > 0 {
			b.WriteString(wrap(o.say("table.placed"), "", o.width()))
			break
		}
	}
}

// mostRows is how many photos the table lists.
const mostRows = 24

// someOf are so many photos, spread over all of them.
func someOf(all []reading.Photo) []reading.Photo {
	if len(all) <= mostRows {
		return all
	}
	out := make([]reading.Photo, mostRows)
	for i := range out {
		out[i] = all[i*(len(all)-1)/(mostRows-1)]
	}
	return out
}

// fractions puts the ruler's percentages beside the corrected ones.
func (o Options) fractions(b *bytes.Buffer, r reading.Reading) {
	if r.Fractions == nil && r.ByThickness == nil {
		fmt.Fprintf(b, "\n%s\n", o.say("chart.no-shares"))
		return
	}
	ruler := r.ByThickness
	if ruler == nil {
		ruler = &reading.Shares{}
	}
	fmt.Fprintln(b)
	t := o.columns(b)
	fmt.Fprintf(t, "\t%s\t%s\t%s\t%s\n", o.say("table.by-thickness"), o.say("table.corrected"), o.say("table.9-in-10-between"), "0        50       100 %")
	row := func(name string, thick *float64, e *reading.Estimate) {
		if e == nil && thick == nil {
			return
		}
		if e == nil {
			fmt.Fprintf(t, "%s\t%s\t-\t\t\n", name, o.share(thick))
			return
		}
		limits := o.say("table.limits", words.Whole("low", e.Low), words.Whole("high", e.High))
		fmt.Fprintf(t, "%s\t%s\t%s\t%s\t%s\n", name, o.share(thick), o.percent(e.Percent), limits, bar(*e))
	}
	var f reading.Fractions
	sand, silt, clay := &f.Sand, &f.Silt, &f.Clay
	if r.Fractions == nil {
		sand, silt, clay = nil, nil, nil
	} else {
		f = *r.Fractions
	}
	row(o.part("sand"), ruler.Sand, sand)
	row(o.part("silt"), ruler.Silt, silt)
	row(o.part("clay"), ruler.Clay, clay)
	if ruler.SandAndSilt != nil {
		row(o.say("table.sand-and-silt"), ruler.SandAndSilt, nil)
	}
	if ruler.SiltAndClay != nil {
		row(o.say("table.silt-and-clay"), ruler.SiltAndClay, nil)
	}
	t.Flush()
	if r.Fractions != nil {
		b.WriteString(wrap(o.say("table.corrected-means"), "", o.width()))
	}
}

const barWidth = 20

// bar draws an interval on a line from 0 to 100: dashes from low to high, a
// block at the value.
func bar(e reading.Estimate) string {
	at := func(v float64) int { return min(max(int(math.Round(v/100*barWidth)), 0), barWidth) }
	line := []byte(strings.Repeat(".", barWidth+1))
	for i := at(e.Low); i <= at(e.High); i++ {
		line[i] = '-'
	}
	line[at(e.Percent)] = '#'
	return string(line)
}

// texture names the class.
func (o Options) texture(b *bytes.Buffer, r reading.Reading) {
	if r.Class == nil {
		return
	}
	c := r.Class
	name, certainty := Verdict(*c)
	b.WriteString("\n" + wrap(o.say("table.texture", words.Told("class", name), words.Told("sure", certainty), words.Name("system", o.systemTitle(c.System))), "", o.width()))
	if len(c.Others) > 0 {
		all := append([]reading.OtherClass{{Name: c.Name, Probability: c.Probability}}, c.Others...)
		b.WriteString(wrap(o.say("table.chances", words.Name("list", o.classList(all))), "", o.width()))
	}
}

func (o Options) warnings(b *bytes.Buffer, ws []reading.Warning) {
	for _, w := range ws {
		b.WriteString("\n" + wrap(ended(o.say("table.take-care", words.Told("what", w.Message()))), "", o.width()))
		if help := w.Help(); !help.IsZero() {
			b.WriteString(wrap(ended(o.say("table.settle", words.Told("how", help))), "  ", o.width()))
		}
	}
}

// ended ends a text with a full stop.
func ended(s string) string {
	if s == "" || strings.ContainsAny(s[len(s)-1:], ".!?") {
		return s
	}
	return s + "."
}
