package chart

import (
	"math"
	"strconv"
	"strings"

	"mudline/internal/reading"
	"mudline/internal/words"
	"mudline/texture"
)

// Soil is one soil in the triangle.
type Soil struct {
	// Label is written beside the symbol where several soils are drawn: a short
	// number that a list beside the chart explains.
	Label string
	// Name says whose soil it is, for the text alternative.
	Name string
	// Classes name its class, or the few of which it is one; empty where none is given.
	Classes []string
	// Fractions are the middle and the 90 % intervals, in percent.
	Fractions reading.Fractions
	// Cloud are equally likely soils, [sand, silt, clay] in percent.
	Cloud [][3]float64
	// HandClay is the percent clay that hands found, nil without.
	HandClay *reading.Range
	// Joint is what jar and hands together say, nil without.
	Joint *reading.Fractions
}

// SoilOf is the soil of a reading; false where it has no fractions.
func SoilOf(r reading.Reading) (Soil, bool) {
	if r.Fractions == nil {
		return Soil{}, false
	}
	s := Soil{Name: r.Jar, Fractions: *r.Fractions, Cloud: r.Soils}
	if r.Class != nil {
		s.Classes, _ = r.Class.Named()
	}
	if r.Hand != nil {
		s.HandClay = r.Hand.Clay
		if r.Hand.Joint != nil {
			s.Joint = &r.Hand.Joint.Fractions
		}
	}
	return s, true
}

func (s Soil) middle() soil {
	return soil{s.Fractions.Sand.Percent, s.Fractions.Silt.Percent, s.Fractions.Clay.Percent}
}

// handClay is the interval of clay by hand; false where there is none.
func (s Soil) handClay() (h reading.Range, ok bool) {
	if s.HandClay == nil {
		return h, false
	}
	h = *s.HandClay
	return h, h.Low >= 0 && h.High <= 100 && h.Low <= h.High
}

// joint is the middle of jar and hands together; false where there is none.
func (s Soil) joint() (soil, bool) {
	if s.Joint == nil {
		return soil{}, false
	}
	m := Soil{Fractions: *s.Joint}.middle()
	return m, isSoil(m)
}

// compositions keeps the soils of a list that are one: finite, none negative,
// adding up to about 100.
func compositions(list [][3]float64) []soil {
	var out []soil
	for _, s := range list {
		if isSoil(s) {
			out = append(out, s)
		}
	}
	return out
}

func isSoil(s soil) bool {
	for _, v := range s {
		if !(v >= -0.01 && v <= 100.01) {
			return false
		}
	}
	return math.Abs(s[0]+s[1]+s[2]-100) <= 1
}

// frame is where the triangle stands: the corner of all sand, and its side.
type frame struct{ left, base, side float64 }

// rise is the height of a triangle of equal sides over its side.
var rise = math.Sqrt(3) / 2

// at is the place of a soil: clay goes up, silt to the right, sand to the left.
func (f frame) at(s soil) Point {
	sum := s[0] + s[1] + s[2]
	silt, clay := s[1]/sum, s[2]/sum
	return Point{X: f.left + f.side*(silt+clay/2), Y: f.base - f.side*rise*clay}
}

func (f frame) path(soils ...soil) []Point {
	out := make([]Point, len(soils))
	for i, s := range soils {
		out[i] = f.at(s)
	}
	return out
}

// marginX and triangleTop are the room beside and above the triangle, for figures,
// titles and the sign of clay.
const marginX, triangleTop = 39, 30

// Triangle draws soils on the texture triangle of a system: one with its cloud
// and its regions of 50 and 90 %, or several with a labelled symbol each.
func Triangle(points []Soil, system texture.System, o Options) *Drawing {
	var soils []Soil
	for _, p := range points {
		if isSoil(p.middle()) {
			soils = append(soils, p)
		}
	}
	side := o.width() - 2*marginX
	f := frame{marginX, triangleTop + side*rise, side}
	d := newDrawing(o, f.base+52, o.say("chart.triangle-title"))
	d.triangleAxes(f, o)
	one := len(soils) == 1
	var notes []note
	if one {
		notes = append(notes, d.handBand(f, soils[0], o)...)
		notes = append(d.cloudOf(f, soils[0], o), notes...)
	} else {
		notes = d.clouds(f, soils, o)
	}
	d.classes(f, system, marked(f, soils), o)
	if one {
		notes = append(d.middleOf(f, soils[0], o), notes...)
	} else {
		d.labelled(f, soils, o)
	}
	d.legend(notes, f.base+64)
	d.Empty = len(soils) == 0
	d.Desc = triangleWords(soils, system, o)
	return d
}

func (d *Drawing) triangleAxes(f frame, o Options) {
	for i := 10; i < 100; i += 10 {
		v, width := float64(i), 0.6
		if i%20 == 0 {
			width = 1.1
		}
		d.stroke(rule, width, nil,
			f.path(soil{100 - v, 0, v}, soil{0, 100 - v, v}),
			f.path(soil{v, 100 - v, 0}, soil{v, 0, 100 - v}),
			f.path(soil{100 - v, v, 0}, soil{0, v, 100 - v}))
	}
	// A tick carries on the line of its value, so that it shows which way to follow.
	const long = 5
	dx, dy := long/2.0, long*rise
	for i := 0; i <= 100; i += 20 {
		v, label := float64(i), strconv.Itoa(i)
		clay, sand, silt := f.at(soil{100 - v, 0, v}), f.at(soil{v, 100 - v, 0}), f.at(soil{0, v, 100 - v})
		d.stroke(soft, 1, nil, segment(clay.X, clay.Y, clay.X-long, clay.Y), segment(sand.X, sand.Y, sand.X+dx, sand.Y+dy), segment(silt.X, silt.Y, silt.X+dx, silt.Y-dy))
		d.write(text{at: Point{X: clay.X - long - 3, Y: clay.Y + 4}, words: label, size: smallSize, anchor: end}, soft)
		d.write(text{at: Point{X: sand.X + dx + 1, Y: sand.Y + dy + 10}, words: label, size: smallSize, anchor: middle}, soft)
		d.write(text{at: Point{X: silt.X + dx + 2, Y: silt.Y - dy + 1}, words: label, size: smallSize}, soft)
	}
	corners := partsIn(reading.Fractions{}, o)
	d.chip(corners[0], Point{X: 17, Y: f.base + 30})
	d.chip(corners[1], Point{X: d.Width - 17, Y: f.base + 30})
	d.chip(corners[2], Point{X: f.left + f.side/2, Y: 11})
	const off = 29 // of the titles from the sides
	d.axisTitle(o.say("chart.clay-axis"), f.at(soil{50, 0, 50}), -60, off, 1)
	d.axisTitle(o.say("chart.silt-axis"), f.at(soil{0, 50, 50}), 60, off, 1)
	d.axisTitle(o.say("chart.sand-axis"), f.at(soil{50, 50, 0}), 0, -off-4, -1)
}

// axisTitle writes a title along a side, turned by an angle, with an arrow the way
// its values grow: sense 1 for the way the letters run, -1 against it.
func (d *Drawing) axisTitle(words string, at Point, turn, off, sense float64) {
	sin, cos := math.Sincos(turn * math.Pi / 180)
	place := func(along, up float64) Point {
		up += off
		return Point{X: at.X + along*cos + up*sin, Y: at.Y + along*sin - up*cos}
	}
	d.write(text{at: place(0, 0), words: words, size: bodySize, bold: true, anchor: middle, turn: turn}, ink)
	half := widthOf(words, bodySize)/2 + 8
	const long, mid, wing = 26, 4, 3.5
	tip := sense * (half + long)
	d.stroke(ink, 1.2, nil, []Point{place(sense*half, mid), place(tip, mid)})
	d.area(ink, []Point{place(tip+sense*4, mid), place(tip-sense*3, mid+wing), place(tip-sense*3, mid-wing)})
}

// cloudOf draws the regions that hold 90 and 50 % of the equally likely soils,
// and the soils. Fewer than ten say nothing of a region.
func (d *Drawing) cloudOf(f frame, s Soil, o Options) []note {
	points := compositions(s.Cloud)
	if len(points) < 10 {
		return nil
	}
	found := regions(points, 0.9, 0.5)
	dashes := [][]float64{{5, 3}, nil}
	for i, rings := range found {
		var paths [][]Point
		for _, r := range rings {
			paths = append(paths, f.path(r...))
		}
		if len(paths) > 0 {
			d.add(mark{paths: paths, closed: true, fill: cloud, alpha: 0.13, line: cloud, width: 1.6, dash: dashes[i]})
		}
	}
	d.add(mark{paths: [][]Point{f.path(points...)}, dot: 1, fill: cloud, alpha: 0.55})
	dots := func(d *Drawing, at Point) {
		d.add(mark{paths: [][]Point{{{X: at.X + 5, Y: at.Y + 2}, {X: at.X + 10, Y: at.Y - 2}, {X: at.X + 15, Y: at.Y + 1}}}, dot: 1.2, fill: cloud})
	}
	return []note{{o.say("chart.likely-soils"), dots}, {o.say("chart.half"), lineKey(cloud, nil)}, {o.say("chart.most"), lineKey(cloud, dashes[0])}}
}

// handBand shows between which clays the hands place the soil, and the joint
// estimate.
func (d *Drawing) handBand(f frame, s Soil, o Options) []note {
	var notes []note
	if h, ok := s.handClay(); ok {
		lo, hi := f.path(soil{100 - h.Low, 0, h.Low}, soil{0, 100 - h.Low, h.Low}), f.path(soil{100 - h.High, 0, h.High}, soil{0, 100 - h.High, h.High})
		d.add(mark{paths: [][]Point{{lo[0], lo[1], hi[1], hi[0]}}, closed: true, fill: hand, alpha: 0.1})
		d.stroke(hand, 1.5, []float64{2, 3}, lo, hi)
		notes = append(notes, note{o.say("chart.hands-clay"), lineKey(hand, []float64{2, 3})})
	}
	if _, ok := s.joint(); ok {
		notes = append(notes, note{o.say("chart.joint"), symbolKey(diamond, hand)})
	}
	return notes
}

func (d *Drawing) middleOf(f frame, s Soil, o Options) []note {
	at := f.at(s.middle())
	d.put(circle, at, 6.5, ink)
	d.disc(card, at, 2)
	if joint, ok := s.joint(); ok {
		d.put(diamond, f.at(joint), 6, hand)
	}
	return []note{{o.say("chart.this-soil-jar"), symbolKey(circle, ink)}}
}

// triangleWords are the text alternative.
func triangleWords(soils []Soil, system texture.System, o Options) string {
	parts := []string{o.say("chart.triangle-axes")}
	parts = append(parts, o.say("chart.limits-"+system.String()))
	for _, s := range soils {
		parts = append(parts, s.words(o))
	}
	if len(soils) == 0 {
		parts = append(parts, o.say("chart.no-soil"))
	}
	return strings.Join(parts, " ")
}

func (s Soil) words(o Options) string {
	name := o.say("chart.this-soil")
	if s.Label != "" || s.Name != "" {
		name = strings.TrimSpace(fit(s.Label, 1, 20) + " " + fit(s.Name, 1, 40))
	}
	f := s.Fractions
	out := o.say("chart.soil", append(spans(f, o), words.Name("name", name))...)
	if len(s.Classes) > 0 {
		out += ", " + o.say("as-it-is", words.Words("text", "or", "class", s.Classes))
	}
	if h, ok := s.handClay(); ok {
		out += "; " + o.say("chart.hands-clay-words", words.Whole("low", h.Low), words.Whole("high", h.High))
	}
	if _, ok := s.joint(); ok {
		out += "; " + o.say("chart.joint-words", spans(*s.Joint, o)...)
	}
	return out + "."
}

// spans are the shares of a soil, to fill into a text.
func spans(f reading.Fractions, o Options) []words.Arg {
	return []words.Arg{words.Name("sand", spanWords(f.Sand, o)), words.Name("silt", spanWords(f.Silt, o)), words.Name("clay", spanWords(f.Clay, o))}
}

// sane drops an interval that means nothing.
func sane(e reading.Estimate) reading.Estimate {
	if !(e.Low >= 0 && e.High <= 100 && e.Low <= e.High) {
		e.Low, e.High = e.Percent, e.Percent
	}
	return e
}

// spanWords writes an estimate with its interval.
func spanWords(e reading.Estimate, o Options) string {
	if e = sane(e); e.High > e.Low {
		return o.say("chart.percent-span", words.Whole("v", e.Percent), words.Whole("low", e.Low), words.Whole("high", e.High))
	}
	return o.say("chart.percent", words.Whole("v", e.Percent))
}
