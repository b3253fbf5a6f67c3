package report

import (
	"bytes"
	"fmt"

	"mudline/internal/chart"
	"mudline/internal/reading"
	"mudline/internal/words"
)

// explain adds the numbers behind a reading.
func (o Options) explain(b *bytes.Buffer, r reading.Reading) {
	b.WriteString("\n" + underlined(o.say("table.numbers"), "-"))
	o.steps(b, r)
	o.unitWeights(b, r)
	o.photoNumbers(b, r)
	o.settling(b, r)
	o.causes(b, r.Causes)
	if g := r.GrainCurve; g != nil {
		o.sizeCurve(b, "table.grains", g.Points)
		for _, sentence := range chart.Blind(g.FinestUM, g.CoarsestUM, o.Language) {
			b.WriteString(wrap(sentence, "  ", o.width()))
		}
	}
	o.sizeCurve(b, "table.sizes", r.SizeCurve)
	if s := r.Suspension; s != nil {
		fmt.Fprintf(b, "\n%s\n", o.say("table.suspension", words.Whole("v", s.Percent), words.Whole("low", s.Low), words.Whole("high", s.High)))
	}
	if len(r.Stated) > 0 {
		b.WriteString("\n" + wrap(o.say("table.stated", words.Words("list", "", "record-key", r.Stated)), "", o.width()))
	}
	if r.Engine != "" {
		fmt.Fprintln(b, o.say("table.engine", words.Name("engine", r.Engine)))
	}
}

// steps shows the way from thickness to the corrected reading.
func (o Options) steps(b *bytes.Buffer, r reading.Reading) {
	t := o.columns(b)
	fmt.Fprintf(t, "%s\t%s\t%s\t%s\n", o.say("table.step"), o.part("sand"), o.part("silt"), o.part("clay"))
	row := func(name string, s *reading.Shares) {
		if s != nil {
			fmt.Fprintf(t, "%s\t%s\t%s\t%s\n", name, o.one(s.Sand), o.one(s.Silt), o.one(s.Clay))
		}
	}
	row(o.say("table.thickness"), r.ByThickness)
	row(o.say("table.volume"), r.ByVolume)
	row(o.say("table.packing"), r.ByPacking)
	if f := r.Fractions; f != nil {
		row(o.say("table.settled"), &reading.Shares{Sand: &f.Sand.Percent, Silt: &f.Silt.Percent, Clay: &f.Clay.Percent})
	}
	t.Flush()
}

func (o Options) photoNumbers(b *bytes.Buffer, r reading.Reading) {
	fmt.Fprintln(b)
	t := o.columns(b)
	o.heads(t, "photo", "seconds", "cloud", "sharpness", "brightness", "blown-out", "black", "floating")
	for _, p := range r.Photos {
		cloud, floating := "-", "-"
		if p.Cloud != nil {
			cloud = o.decimal(*p.Cloud, 2)
		}
		if p.FloatingMM != nil {
			floating = o.length(*p.FloatingMM)
		}
		blown, black := 100*p.Quality.BlownOut, 100*p.Quality.Black
		fmt.Fprintf(t, "%s\t%s +- %s\t%s\t%s\t%s\t%s\t%s\t%s\n", words.OneLine(p.File), o.whole(p.ElapsedS), o.whole(2*p.ElapsedSDS), cloud,
			o.decimal(p.Quality.Sharpness, 2), o.whole(p.Quality.Brightness), o.one(&blown), o.one(&black), floating)
	}
	t.Flush()
}

// leastCause is the share of the variance from which a cause is worth a line.
const leastCause = 0.005

// causes says where the doubt comes from.
func (o Options) causes(b *bytes.Buffer, list []reading.Cause) {
	head := "\n" + o.say("table.causes") + "\n"
	for _, c := range list {
		if c.Share >= leastCause {
			fmt.Fprintf(b, "%s  %3.0f %%  %s\n", head, 100*c.Share, o.tell(c.Message()))
			head = ""
		}
	}
}

// sizeCurve writes a grain size curve.
func (o Options) sizeCurve(b *bytes.Buffer, head string, points []reading.SizePoint) {
	if len(points) == 0 {
		return
	}
	b.WriteString("\n" + wrap(o.say(head), "", o.width()))
	for _, p := range points {
		fmt.Fprintf(b, "  %5s um  %3.0f %%  (%s)\n", o.twoFigures(p.SizeUM), p.Finer, o.span(p.Low, p.High))
	}
}
