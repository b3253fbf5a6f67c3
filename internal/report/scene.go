package report

import (
	"image"
	"math"

	"mudline/imaging"
	"mudline/internal/look"
	"mudline/internal/reading"
	"mudline/internal/record"
	"mudline/internal/words"
	"mudline/layers"
)

// arcSteps is the number of pieces an arc across the glass is drawn with.
const arcSteps = 48

// Scene turns what was read in one photo into a drawing on it: the frame is in
// pixels of pic. The panel shows the jar's result beside it.
func Scene(pic image.Image, f imaging.Frame, p reading.Photo, r reading.Reading, o Options) Drawing {
	d := Drawing{Picture: pic, Scale: o.scale(f, r.WaterDepthMM), Panel: o.panel(p, r)}
	d.Curves = append(d.Curves, side(f, -1), side(f, 1))
	level := func(l layers.Line, share float64, label, height string) {
		d.Curves = append(d.Curves, Curve{Line: look.LineOf(l), Points: arc(f, share), Label: label, Height: height})
	}
	level(layers.Floor, 0, o.byYou(o.lineName(layers.Floor), p, layers.Floor), "")
	level(layers.Water, seenWater(f, p), o.byYou(o.lineName(layers.Water), p, layers.Water), "")
	share, shown := heightsOf(p, r)
	for _, top := range layers.Tops {
		h := share.Of(top)
		if h == nil {
			continue
		}
		level(top, h.Value/100, o.lineName(top), o.byYou(o.height(shown.Of(top), shown == share), p, top))
		c := &d.Curves[len(d.Curves)-1]
		c.Upper, c.Lower = arc(f, (h.Value+2*h.SD)/100), arc(f, (h.Value-2*h.SD)/100)
	}
	return d
}

// lineName is the name of a line.
func (o Options) lineName(l layers.Line) string { return o.say("report.line-" + string(l)) }

// byYou adds to a line's label that a person placed it, and where.
func (o Options) byYou(label string, p reading.Photo, l layers.Line) string {
	switch place := p.Placed[l.Key()]; {
	case !p.States(l):
		return label
	case place == "":
		return o.say("report.by-you", words.Name("line", label))
	default:
		return o.say("report.by-you-at", words.Name("line", label), words.Name("place", place))
	}
}

// seenWater is the height of the water's line as it is seen, above the level
// surface, which is 1.
func seenWater(f imaging.Frame, p reading.Photo) float64 {
	r := p.RowsPx
	if r.Meniscus == nil || r.Floor == nil || r.Water == nil || *r.Water == *r.Floor {
		return 1
	}
	return f.HeightAt((*r.Meniscus - *r.Floor) / (*r.Water - *r.Floor))
}

// heightsOf gives a photo's heights in percent of the water depth, and as they
// are to be shown: in millimetres where those are known.
func heightsOf(p reading.Photo, r reading.Reading) (share, shown *reading.Heights) {
	if p.HeightsMM == nil || r.WaterDepthMM == nil {
		return p.HeightsPercent, p.HeightsPercent
	}
	k := 100 / *r.WaterDepthMM
	of := func(h *reading.Height) *reading.Height {
		if h == nil {
			return nil
		}
		return &reading.Height{Value: h.Value * k, SD: h.SD * k}
	}
	m := p.HeightsMM
	return &reading.Heights{DepositTop: of(m.DepositTop), SandTop: of(m.SandTop), SiltTop: of(m.SiltTop), HazeTop: of(m.HazeTop)}, m
}

// at is a pixel of the photo for a place on the glass.
func at(f imaging.Frame, u, share float64) Point {
	p := f.At(u, share)
	return Point(p)
}

// arc is a circle round the glass as the photo shows its front.
func arc(f imaging.Frame, share float64) []Point {
	out := make([]Point, 0, arcSteps+1)
	for i := range arcSteps + 1 {
		// Even steps of the angle round the jar follow the arc's steep ends.
		out = append(out, at(f, -math.Cos(math.Pi*float64(i)/arcSteps), share))
	}
	return out
}

// side is an edge of the glass from a little below the floor to above the water.
func side(f imaging.Frame, u float64) Curve {
	return Curve{Line: look.LineOf(layers.Glass), Points: []Point{at(f, u, -0.02), at(f, u, 1.06)}}
}

// scale marks heights left of the glass: every 5 mm with figures each 20, every
// quarter inch with figures each inch, or every 5 percent with figures each 20.
func (o Options) scale(f imaging.Frame, depthMM *float64) []Tick {
	step, each, unit, total := 5.0, 4, "report.percent", 100.0
	if depthMM != nil {
		total, unit = *depthMM, "unit.mm"
		if o.Inches {
			total, unit, step = total/record.MMPerInch, "unit.inch", 0.25
		}
	}
	var out []Tick
	for i := 0; float64(i)*step <= total+1e-9; i++ {
		t := Tick{At: at(f, -1.12, float64(i)*step/total)}
		if i%each == 0 {
			t.Label = o.write(words.Number{Value: float64(i) * step, Figures: 6})
		}
		if i == 0 {
			t.Label = o.say(unit, words.Whole("v", 0))
		}
		out = append(out, t)
	}
	return out
}

// thinPart is the share in percent below which a part may be too thin for its name.
const thinPart = 8

// panel is the result beside the photo.
func (o Options) panel(p reading.Photo, r reading.Reading) *Panel {
	out := &Panel{Title: r.Jar, Subtitle: o.say("report.after-time", words.Name("time", o.elapsed(p.ElapsedS)))}
	note := func(part string, percent float64) string {
		return o.say("report.part-percent", words.Name("part", o.part(part)), words.Name("percent", o.percent(percent)))
	}
	column := func(title string, sand, silt, clay float64) Column {
		return Column{Title: o.say(title), Sand: sand, Silt: silt, Clay: clay,
			SandName: note("sand", sand), SiltName: note("silt", silt), ClayName: note("clay", clay)}
	}
	if t := r.ByThickness; t != nil && t.Sand != nil && t.Silt != nil && t.Clay != nil {
		out.Columns = append(out.Columns, column("table.by-thickness", *t.Sand, *t.Silt, *t.Clay))
	}
	if f := r.Fractions; f != nil {
		c := column("report.corrected-by-weight", f.Sand.Percent, f.Silt.Percent, f.Clay.Percent)
		c.SandNote, c.SiltNote, c.ClayNote = o.span(f.Sand.Low, f.Sand.High), o.span(f.Silt.Low, f.Silt.High), o.span(f.Clay.Low, f.Clay.High)
		out.Columns = append(out.Columns, c)
		if min(c.Sand, c.Silt, c.Clay) < thinPart {
			out.Lines = append(out.Lines, c.SandName+", "+c.SiltName+", "+c.ClayName)
		}
	} else {
		out.Lines = append(out.Lines, o.say("chart.no-shares"))
	}
	if c := r.Class; c != nil {
		name, certainty := Verdict(*c)
		out.Lines = append(out.Lines, o.tell(name)+" - "+o.tell(certainty))
	}
	if n := len(r.Warnings); n > 0 {
		out.Lines = append(out.Lines, o.say("report.things", words.Whole("n", n)))
	}
	return out
}
