package compare

import (
	"bytes"
	"fmt"
	"io"
	"math"
	"strings"
	"unicode/utf8"

	"mudline/internal/reading"
	"mudline/internal/words"
)

// inWords is the most jars whose pairs are each described in words; more are
// told apart by letters.
const inWords = 4

// Text writes the comparison for the terminal, in a language, nil being English, and with
// so many letters a line; 0 is as many as it comes to.
func (c Comparison) Text(w io.Writer, l *words.Language, columns int) error {
	p := &printer{Comparison: c, l: l, columns: columns}
	p.table()
	p.bars()
	p.whatDiffers()
	for _, r := range c.Jars {
		if r.Refused != nil {
			p.print("\n", "compare.not-read", words.Name("jar", r.Name), p.plain("why", r.Refused.Message()))
			p.print("  ", "compare.what-to-do", p.plain("todo", r.Refused.Help()))
		}
	}
	p.warnings()
	_, err := w.Write(p.b.Bytes())
	return err
}

// printer writes a comparison in a language.
type printer struct {
	Comparison
	l       *words.Language
	columns int
	b       bytes.Buffer
}

// print writes a line, or several where there is no room.
func (p *printer) print(before, key string, args ...words.Arg) {
	text := p.l.Text(key, args...)
	if p.columns > 0 {
		indent := strings.TrimLeft(before, "\n")
		text = strings.TrimSuffix(wrapped(text, p.columns-len(indent)), "\n")
		text = strings.ReplaceAll(text, "\n", "\n"+indent)
	}
	fmt.Fprintf(&p.b, "%s%s\n", before, text)
}

// plain is a message from a file of anybody's, in the language of the comparison.
func (p *printer) plain(name string, m words.Message) words.Arg {
	return words.Name(name, plain(p.l.Say(m)))
}

// width is how many letters a line of text bears.
func (p *printer) width() int {
	if p.columns > 0 {
		return min(p.columns, lineWidth)
	}
	return lineWidth
}

func (p *printer) table() {
	lettered, watered := p.count(Row.told) > inWords, false
	for _, r := range p.Jars {
		watered = watered || r.AvailableMMPerM != nil
	}
	t := words.NewColumns(&p.b, p.columns)
	columns := []string{"compare.jar", "compare.sand", "compare.silt", "compare.clay", "compare.class"}
	if watered {
		columns = append(columns, "compare.water", "compare.days")
	}
	for i, key := range columns {
		columns[i] = p.l.Text(key)
	}
	fmt.Fprintln(t, strings.Join(columns, "\t"))
	labels := p.labels()
	for _, r := range p.Jars {
		fmt.Fprint(t, labels[r.Name])
		for k := range fractionNames {
			cell := "-"
			if r.told() {
				e := r.estimate(k)
				cell = interval(reading.Range{Value: e.Percent, Low: e.Low, High: e.High})
			}
			if lettered && r.letters(k) != "" {
				cell += " " + r.letters(k)
			}
			fmt.Fprint(t, "\t"+cell)
		}
		fmt.Fprint(t, "\t"+p.class(r))
		if watered && r.AvailableMMPerM != nil {
			fmt.Fprintf(t, "\t%s\t%s", interval(*r.AvailableMMPerM), interval(*r.Days))
		} else if watered {
			fmt.Fprint(t, "\t-\t-")
		}
		fmt.Fprintln(t)
	}
	t.Flush()
	p.print("", "compare.brackets")
	if watered {
		p.print("", "compare.about-water")
	}
}

// barWide is how many letters a bar of the whole soil takes where there is room, barLeast
// where there is none, and mostBars how many bars are taken in at a glance.
const (
	barWide  = 50
	barLeast = 20
	mostBars = 12
)

// bars draws the soils as stacked bars, in the language of the charts: dots for sand, dashes
// for silt, double dashes for clay.
func (p *printer) bars() {
	if n := p.count(Row.told); n == 0 || n > mostBars {
		return
	}
	p.print("\n", "compare.bars")
	labels := p.labels()
	longest := 0
	for _, label := range labels {
		longest = max(longest, utf8.RuneCountInString(label))
	}
	wide := min(barWide, max(p.width()-longest-3, barLeast))
	t := words.NewColumns(&p.b, p.columns)
	for _, r := range p.Jars {
		if r.told() {
			fmt.Fprintf(t, "%s\t%s\n", labels[r.Name], r.bar(wide))
		}
	}
	t.Flush()
}

// bar is a soil as so many letters.
func (r Row) bar(wide int) string {
	end := func(percent float64) int { return int(math.Round(min(max(percent, 0), 100) / 100 * float64(wide))) }
	sand := end(r.percent(0))
	clay := min(end(r.percent(2)), wide-sand)
	return strings.Repeat(".", sand) + strings.Repeat("-", wide-sand-clay) + strings.Repeat("=", clay)
}

func (p *printer) class(r Row) string {
	switch {
	case r.Refused != nil:
		return p.l.Text("compare.see-below")
	case !r.told():
		return p.l.Text("compare.untold")
	case r.Class == nil:
		return p.l.Text("compare.no-class", words.Name("system", r.System))
	}
	// A class that is not likely does not stand alone: the likely ones are named together.
	names, together := r.Class.Named()
	key := "compare.class-likely"
	if r.Class.Probability < reading.Enough {
		key = "compare.class-unsure"
	}
	name := p.l.Text(key, words.Words("classes", "or", "class", names), words.Name("chances", in100(together)))
	if p.mixed() {
		name += " (" + r.Class.System + ")"
	}
	return name
}

// whatDiffers puts the differences into words or, among many jars, explains the letters.
func (p *printer) whatDiffers() {
	n := p.count(Row.told)
	if n < 2 {
		p.print("\n", "compare.two-needed")
		return
	}
	p.print("\n", "compare.what-differs")
	if n <= inWords {
		p.pairs()
	} else {
		p.summary()
	}
	if p.mixed() {
		p.print("", "compare.other-limits")
	}
	points := []string{p.l.Text("compare.points")}
	if n > 2 {
		points = append(points, p.l.Text("compare.holm"))
	}
	p.b.WriteString(wrapped(strings.Join(points, " "), p.width()))
}

// pairs says of each pair how it differs.
func (p *printer) pairs() {
	last, labels := "", p.labels()
	for _, d := range p.Differences {
		pair := p.l.Text("compare.pair", words.Name("a", labels[d.A]), words.Name("b", labels[d.B]))
		if pair != last {
			fmt.Fprintf(&p.b, "  %s\n", pair)
			last = pair
		}
		p.print("    ", "compare.of-fraction", words.Told("fraction", fraction(d.Fraction)), words.Told("text", d.said(labels)))
	}
}

// fraction is the name of a fraction, "sand", "silt" or "clay".
func fraction(name string) words.Message { return words.WordOf("fraction", name) }

// lineWidth is how many letters a line of text bears.
const lineWidth = 88

// wrapped breaks a text into lines.
func wrapped(text string, width int) string {
	var b strings.Builder
	at := 0
	for i, word := range strings.Fields(text) {
		n := len([]rune(word))
		switch {
		case i > 0 && at+1+n > width:
			b.WriteString("\n")
			at = 0
		case i > 0:
			b.WriteString(" ")
			at++
		}
		b.WriteString(word)
		at += n
	}
	return b.String() + "\n"
}

// summary counts the pairs that differ, for more jars than words can tell.
func (p *printer) summary() {
	lettered := false
	for k, name := range fractionNames {
		differ, pairs := 0, 0
		for _, d := range p.Differences {
			if d.Fraction == name {
				pairs++
				if d.Differs {
					differ++
				}
			}
		}
		p.print("  ", "compare.pairs-differ", words.Told("fraction", fraction(name)), words.Whole("differ", differ), words.Whole("pairs", pairs))
		for _, r := range p.Jars {
			lettered = lettered || r.letters(k) != ""
		}
	}
	if lettered {
		p.print("", "compare.letters")
	} else {
		p.print("", "compare.too-many-groups")
	}
}

// said is one difference from the side of the jar with more.
func (d Difference) said(labels map[string]string) words.Message {
	name, points, low, high, more := d.A, d.Points, d.Low, d.High, d.ProbabilityMore
	if points < 0 {
		name, points, low, high, more = d.B, -points, -high, -low, 1-more
	}
	jar, most := words.Name("jar", labels[name]), words.Whole("high", high)
	if d.Differs {
		return words.Say("compare.has-more", jar, words.Whole("points", points), words.Whole("low", low), most, words.Name("chances", in100(more)))
	}
	least := words.Say("compare.less", words.Whole("points", -low))
	if low >= -0.5 {
		least = words.Say("as-it-is", words.Whole("text", math.Abs(math.Round(low))))
	}
	if points < 0.5 {
		return words.Say("compare.alike", jar, words.Told("low", least), most)
	}
	return words.Say("compare.may-have-more", jar, words.Whole("points", points), words.Told("low", least), most)
}

// warnings are given in full for a few jars, a line each for many.
func (p *printer) warnings() {
	many := len(p.Jars) > inWords
	before := "\n"
	for _, r := range p.Jars {
		for _, w := range r.Warnings {
			p.print(before, "compare.take-care", words.Name("jar", r.Name), p.plain("text", w.Message()))
			if many {
				before = ""
				continue
			}
			if todo := w.Help(); !todo.IsZero() {
				p.print("  ", "compare.would-settle", p.plain("todo", todo))
			}
		}
	}
}

func (r Row) told() bool { return r.Fractions != nil }

func (c Comparison) count(is func(Row) bool) (n int) {
	for _, r := range c.Jars {
		if is(r) {
			n++
		}
	}
	return n
}

// mixed says that the jars keep to several class systems.
func (c Comparison) mixed() bool {
	system := ""
	for _, r := range c.Jars {
		if r.told() && system != "" && r.System != system {
			return true
		}
		if r.told() {
			system = r.System
		}
	}
	return false
}

func interval(r reading.Range) string {
	return fmt.Sprintf("%.0f (%.0f-%.0f)", r.Value, r.Low, r.High)
}

// in100 writes a probability as so many in 100, never as certainty.
func in100(p float64) string { return fmt.Sprintf("%.0f", min(max(100*p, 1), 99)) }
