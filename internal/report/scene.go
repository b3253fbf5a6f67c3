package report

import (
	"fmt"
	"image"
	"math"

	"mudline/imaging"
	"mudline/internal/reading"
	"mudline/internal/record"
)

// arcSteps is the number of pieces an arc across the glass is drawn with.
const arcSteps = 48

// Scene turns what was read in one photo into a drawing on it: the frame is in
// pixels of pic. The panel shows the jar's result beside it.
func Scene(pic image.Image, f imaging.Frame, p reading.Photo, r reading.Reading, o Options) Drawing {
	d := Drawing{Picture: pic, Scale: o.scale(f, r.WaterDepthMM), Panel: o.panel(p, r)}
	d.Curves = append(d.Curves, side(f, -1), side(f, 1))
	level := func(kind Kind, share float64, label string) {
		d.Curves = append(d.Curves, Curve{Kind: kind, Points: arc(f, share), Label: label})
	}
	level(FloorLine, 0, byYou("floor", p, "floor"))
	level(WaterLine, seenWater(f, p), byYou("water surface", p, "water"))
	share, shown := heightsOf(p, r)
	if share == nil {
		return d
	}
	line := func(kind Kind, name, key string, h, text *reading.Height) {
		if h == nil {
			return
		}
		level(kind, h.Value/100, byYou(name+" "+o.height(text, shown == share), p, key))
		c := &d.Curves[len(d.Curves)-1]
		c.Upper, c.Lower = arc(f, (h.Value+2*h.SD)/100), arc(f, (h.Value-2*h.SD)/100)
	}
	line(SandTopLine, "top of the sand", "sand_top", share.SandTop, shown.SandTop)
	line(SiltTopLine, "top of the silt", "silt_top", share.SiltTop, shown.SiltTop)
	line(DepositTopLine, "top of the soil", "deposit_top", share.DepositTop, shown.DepositTop)
	line(HazeTopLine, "top of the cloud", "haze_top", share.HazeTop, shown.HazeTop)
	return d
}

// byYou adds to a line's label that a person placed it, and where.
func byYou(label string, p reading.Photo, key string) string {
	switch place := p.Placed[key]; {
	case mark(p, key) == "":
		return label
	case place == "":
		return label + ", by you"
	default:
		return label + ", by you: " + place
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
	return Curve{Kind: Glass, Points: []Point{at(f, u, -0.02), at(f, u, 1.06)}}
}

// scale marks heights left of the glass: every 5 mm with figures each 20, every
// quarter inch with figures each inch, or every 5 percent with figures each 20.
func (o Options) scale(f imaging.Frame, depthMM *float64) []Tick {
	step, each, unit, total := 5.0, 4, "%", 100.0
	if depthMM != nil {
		total, unit = *depthMM, "mm"
		if o.Inches {
			total, unit, step = total/record.MMPerInch, "in", 0.25
		}
	}
	var out []Tick
	for i := 0; float64(i)*step <= total+1e-9; i++ {
		t := Tick{At: at(f, -1.12, float64(i)*step/total)}
		if i%each == 0 {
			t.Label = fmt.Sprintf("%g", float64(i)*step)
		}
		if i == 0 {
			t.Label = "0 " + unit
		}
		out = append(out, t)
	}
	return out
}

// panel is the result beside the photo.
func (o Options) panel(p reading.Photo, r reading.Reading) *Panel {
	out := &Panel{Title: r.Jar, Subtitle: "after " + elapsed(p.ElapsedS)}
	if t := r.ByThickness; t != nil && t.Sand != nil && t.Silt != nil && t.Clay != nil {
		out.Columns = append(out.Columns, Column{Title: "by thickness alone", Sand: *t.Sand, Silt: *t.Silt, Clay: *t.Clay})
	}
	if f := r.Fractions; f != nil {
		out.Columns = append(out.Columns, Column{Title: "corrected, by weight", Sand: f.Sand.Percent, Silt: f.Silt.Percent, Clay: f.Clay.Percent,
			SandNote: span(f.Sand), SiltNote: span(f.Silt), ClayNote: span(f.Clay)})
		out.Lines = append(out.Lines, fmt.Sprintf("sand %s, silt %s, clay %s", percent(f.Sand.Percent), percent(f.Silt.Percent), percent(f.Clay.Percent)))
	} else {
		out.Lines = append(out.Lines, "Sand, silt and clay could not be told from these photos.")
	}
	if c := r.Class; c != nil {
		name, certainty := Verdict(*c)
		out.Lines = append(out.Lines, name+" - "+certainty)
	}
	switch n := len(r.Warnings); n {
	case 0:
	case 1:
		out.Lines = append(out.Lines, "1 thing to take care of, see the reading")
	default:
		out.Lines = append(out.Lines, fmt.Sprintf("%d things to take care of, see the reading", n))
	}
	return out
}

func span(e reading.Estimate) string { return fmt.Sprintf("%.0f to %.0f", e.Low, e.High) }
