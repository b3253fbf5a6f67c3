package chart

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"mudline/internal/look"
	"mudline/internal/raster"
	"mudline/internal/reading"
	"mudline/internal/words"
	"mudline/layers"
)

// series is one of the lines in the jar over time.
type series struct {
	name   string // key of its name
	look   look.Line
	symbol symbol
}

// lines are the lines of the jar, from the top.
var lines = []series{
	{"chart.top-soil", look.LineOf(layers.DepositTop), circle},
	{"chart.top-silt", look.LineOf(layers.SiltTop), square},
	{"chart.top-sand", look.LineOf(layers.SandTop), triangle},
}

// measured is a height in one photo, in the unit of the chart.
type measured struct{ seconds, value, sd float64 }

// settled is what the settling chart shows, in one unit.
type settled struct {
	unit     string
	decimals int
	times    []float64 // of the photos
	points   [3][]measured
	bands    [3][]band
}

// band is where the physics expects a line at one time.
type band struct{ seconds, value, low, high float64 }

// unitOf gives what heights in percent of the depth and in millimetres are
// multiplied with, and the unit. Without a depth heights stay percent.
func unitOf(r reading.Reading, o Options) (percent, mm float64, unit string, decimals int) {
	if r.WaterDepthMM == nil || !finite(*r.WaterDepthMM) || *r.WaterDepthMM <= 0 {
		return 1, 0, "chart.of-depth", 1
	}
	if o.Inches {
		return *r.WaterDepthMM / 100 / 25.4, 1 / 25.4, "chart.inches", 2
	}
	return *r.WaterDepthMM / 100, 1, "chart.mm", 1
}

func settledOf(r reading.Reading, o Options) settled {
	percent, mm, unit, decimals := unitOf(r, o)
	s := settled{unit: o.say(unit), decimals: decimals}
	for _, p := range r.Photos {
		if !isTime(p.ElapsedS) {
			continue
		}
		s.times = append(s.times, p.ElapsedS)
		heights, k := p.HeightsPercent, percent
		if p.HeightsMM != nil && mm > 0 {
			heights, k = p.HeightsMM, mm
		}
		for i, l := range lines {
			if h := heights.Of(l.look.Name); h != nil && isHeight(h.Value*k) && isHeight(h.SD*k) {
				s.points[i] = append(s.points[i], measured{p.ElapsedS, h.Value * k, h.SD * k})
			}
		}
	}
	for _, e := range r.Expected {
		for i, l := range lines {
			w := e.Of(l.look.Name)
			if isTime(e.ElapsedS) && isHeight(w.Value*percent) && isHeight(w.Low*percent) && isHeight(w.High*percent) {
				s.bands[i] = append(s.bands[i], band{e.ElapsedS, w.Value * percent, w.Low * percent, w.High * percent})
			}
		}
	}
	for i := range s.bands {
		slices.SortStableFunc(s.bands[i], func(a, b band) int { return cmp.Compare(a.seconds, b.seconds) })
	}
	return s
}

// isTime and isHeight keep out what no photo can have: a century, a mile.
func isTime(v float64) bool   { return v >= 1e-3 && v < 3.2e9 }
func isHeight(v float64) bool { return v >= 0 && v < 1.7e6 }

// reach is the span of time and the greatest height to show.
func (s settled) reach() (from, to, top float64) {
	from, to = math.Inf(1), 0
	see := func(t, v float64) { from, to, top = math.Min(from, t), math.Max(to, t), math.Max(top, v) }
	for _, t := range s.times {
		see(t, 0)
	}
	for i := range lines {
		for _, p := range s.points[i] {
			see(p.seconds, p.value+2*p.sd)
		}
		for _, b := range s.bands[i] {
			see(b.seconds, b.high)
		}
	}
	return from / 1.25, to * 1.25, top
}

// Settling draws the heights measured in the photos, with two standard
// deviations either way, over where the fitted physics expects them, on a
// logarithmic axis of time.
func Settling(r reading.Reading, o Options) *Drawing {
	s := settledOf(r, o)
	title := o.say("chart.settling-title")
	if len(s.times) == 0 {
		return nothing(o, title, o.say("chart.no-time"))
	}
	d := newDrawing(o, math.Max(250, 0.62*o.width()), title)
	from, to, top := s.reach()
	up := o.decimals(steps(top*1.02, 6))
	names := 0.0
	for _, l := range lines {
		names = math.Max(names, widthOf(o.say(l.name), smallSize*heavy))
	}
	names = math.Min(names, d.Width/3)
	left := 12 + widthOf(up[len(up)-1].label, smallSize)
	for _, t := range up {
		left = math.Max(left, 12+widthOf(t.label, smallSize))
	}
	p := plot{d,
		scale{lo: from, hi: to, from: left, to: d.Width - names - 16, log: true},
		scale{lo: 0, hi: up[len(up)-1].at, from: d.Height - 66, to: 44}}
	d.write(text{at: Point{X: 12, Y: 20}, words: o.say("chart.height-axis", words.Name("unit", s.unit)), size: smallSize}, soft)
	p.axes(up, p.x.room(clock(o), smallSize))
	p.photoTimes(s.times, o)
	for i := range lines {
		p.band(s.bands[i], lines[i])
	}
	for i := range lines { // no band lies over a line
		p.expected(s.bands[i], lines[i])
	}
	for i := range lines {
		p.points(s.points[i], lines[i])
	}
	p.lineNames(s, o)
	d.write(text{at: Point{X: (p.x.from + p.x.to) / 2, Y: p.y.from + 33}, words: o.say("chart.time-axis"), size: smallSize, anchor: middle}, soft)
	var notes []note
	if len(s.points[0])+len(s.points[1])+len(s.points[2]) > 0 {
		notes = append(notes, note{o.say("chart.read"), func(d *Drawing, at Point) {
			d.whisker(ink, at.X+keyWide/2, at.Y-6, at.Y+6)
			d.put(circle, Point{X: at.X + keyWide/2, Y: at.Y}, 3.6, ink)
		}})
	}
	if len(s.bands[0]) > 0 {
		notes = append(notes, note{o.say("chart.expected"), func(d *Drawing, at Point) {
			d.add(mark{paths: [][]Point{rectangle(at.X, at.Y-5, at.X+keyWide, at.Y+5)}, closed: true, fill: soft, alpha: bandAlpha})
			d.stroke(ink, 1.5, nil, segment(at.X, at.Y, at.X+keyWide, at.Y))
		}})
	}
	d.legend(notes, p.y.from+54)
	d.Desc = s.words(o)
	return d
}

const (
	bandAlpha = 0.2
	lineAlpha = 0.35 // of a band in a line's colour, some of which are light
)

// photoTimes marks when photos were taken, at the top of the plot.
func (p plot) photoTimes(times []float64, o Options) {
	for _, t := range times {
		x, y := p.x.at(t), p.y.to-6
		p.stroke(soft, 0.9, []float64{1.5, 3}, segment(x, y, x, p.y.from))
		p.area(soft, []Point{{X: x - 4, Y: y - 6}, {X: x + 4, Y: y - 6}, {X: x, Y: y}})
	}
	p.write(text{at: Point{X: p.x.to + 8, Y: p.y.to - 6}, words: o.say("chart.photos"), size: smallSize}, soft)
}

// band is where a line is expected 9 times in 10.
func (p plot) band(points []band, l series) {
	var outline, back []Point
	for _, b := range points {
		x := p.x.at(b.seconds)
		outline = append(outline, Point{X: x, Y: p.y.at(b.high)})
		back = append(back, Point{X: x, Y: p.y.at(b.low)})
	}
	if len(outline) < 2 {
		return
	}
	slices.Reverse(back)
	p.add(mark{paths: [][]Point{append(outline, back...)}, closed: true, fill: paint{own: l.look.Colour}, alpha: lineAlpha})
}

// expected is the middle of a band.
func (p plot) expected(points []band, l series) {
	var centre []Point
	for _, b := range points {
		centre = append(centre, Point{X: p.x.at(b.seconds), Y: p.y.at(b.value)})
	}
	if len(centre) > 1 {
		p.seamed(l.look, 2, centre)
	}
}

func (p plot) points(list []measured, l series) {
	for _, m := range list {
		at := Point{X: p.x.at(m.seconds), Y: p.y.at(m.value)}
		p.seamedWhisker(l.look, at.X, p.y.at(m.value-2*m.sd), p.y.at(m.value+2*m.sd))
		p.putRimmed(l.symbol, at, 4.8, paint{own: l.look.Colour}, seam)
	}
}

// lineNames names each line at its right end.
func (p plot) lineNames(s settled, o Options) {
	var at []float64
	var which []series
	for i, l := range lines {
		last := math.NaN()
		if n := len(s.points[i]); n > 0 {
			last = s.points[i][n-1].value
		}
		if n := len(s.bands[i]); n > 0 {
			last = s.bands[i][n-1].value
		}
		if finite(last) {
			at = append(at, p.y.at(last))
			which = append(which, l)
		}
	}
	for i, y := range raster.Spread(at, 14, p.y.to+6, p.y.from-2) {
		p.stroke(soft, 0.9, nil, segment(p.x.to+1, at[i], p.x.to+6, y))
		p.write(text{at: Point{X: p.x.to + 8, Y: y + 4}, words: fit(o.say(which[i].name), smallSize*heavy, p.Width/3), size: smallSize, bold: true}, ink)
	}
}

// words state the measured heights.
func (s settled) words(o Options) string {
	var parts []string
	for i, l := range lines {
		for _, m := range s.points[i] {
			parts = append(parts, o.say("chart.height-read", words.Name("line", o.say(l.name)), words.Name("time", duration(m.seconds, o)),
				words.Decimal("v", m.value, s.decimals), words.Decimal("sd", 2*m.sd, s.decimals), words.Name("unit", s.unit)))
		}
	}
	if len(parts) == 0 {
		return o.say("chart.no-line")
	}
	out := o.say("chart.heights-words") + " " + strings.Join(parts, "; ") + "."
	for i, l := range lines {
		if n := len(s.bands[i]); n > 0 {
			b := s.bands[i][n-1]
			out += " " + o.say("chart.expected-words", words.Name("line", o.say(l.name)), words.Name("time", duration(b.seconds, o)),
				words.Decimal("v", b.value, s.decimals), words.Name("unit", s.unit), words.Decimal("low", b.low, s.decimals), words.Decimal("high", b.high, s.decimals))
		}
	}
	return out
}
