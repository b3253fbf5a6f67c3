package chart

import (
	"math"
	"slices"
	"strings"

	"mudline/internal/words"
)

// Sizes of the rows of Stacked.
const (
	stackedRow  = 62 // of a jar: its name, its bar, the ranges below
	stackedBar  = 22
	stackedTop  = 30
	stackedLeft = 16
)

// Stacked draws soils below each other as stacked bars of sand, silt and clay: on the
// border of two parts a whisker for where it may lie, 9 times in 10. The name of each is
// its label and name.
func Stacked(soils []Soil, o Options) *Drawing {
	title := o.say("chart.stacked-title")
	soils = slices.DeleteFunc(slices.Clone(soils), func(s Soil) bool { return !isSoil(s.middle()) })
	if len(soils) == 0 {
		return nothing(o, title, o.say("chart.no-shares"))
	}
	d := newDrawing(o, stackedTop+stackedRow*float64(len(soils)), title)
	x := scale{lo: 0, hi: 100, from: stackedLeft, to: d.Width - stackedLeft}
	foot := stackedTop + stackedRow*float64(len(soils)) - 6
	for _, t := range steps(100, 4) {
		at := x.at(t.at)
		d.stroke(rule, 1, nil, segment(at, stackedTop-8, at, foot))
		d.write(text{at: Point{X: at, Y: stackedTop - 13}, words: o.say("chart.percent-sign", words.Whole("v", t.at)), size: smallSize, anchor: middle}, soft)
	}
	var said []string
	for i, s := range soils {
		d.stackedSoil(s, x, stackedTop+stackedRow*float64(i), o)
		said = append(said, s.words(o))
	}
	d.legend([]note{{o.say("chart.limit"), func(d *Drawing, at Point) {
		d.across(Point{X: at.X + keyWide/2, Y: at.Y}, at.X+2, at.X+keyWide-2)
	}}}, foot+18)
	d.Desc = strings.Join(said, " ")
	return d
}

func (d *Drawing) stackedSoil(s Soil, x scale, top float64, o Options) {
	name := strings.TrimSpace(s.Label + " " + s.Name)
	d.write(text{at: Point{X: x.from, Y: top + 13}, words: fit(name, bodySize*heavy, x.to-x.from), size: bodySize, bold: true, halo: true}, ink)
	y0, y1 := top+19, top+19+stackedBar
	at := 0.0
	parts := partsIn(s.Fractions, o)
	for _, p := range parts {
		from, to := x.at(at), x.at(at+p.e.Percent)
		at += p.e.Percent
		d.stackedPart(p, from, to, y0, y1, o)
	}
	// Where sand ends, and where clay begins. One whisker stands in the upper half, one in
	// the lower, since they may run over each other.
	sand, clay := parts[0].e, parts[2].e
	d.across(Point{X: x.at(sand.Percent), Y: y1 + 5}, x.at(sand.Low), x.at(sand.High))
	d.across(Point{X: x.at(100 - clay.Percent), Y: y1 + 12}, x.at(100-clay.High), x.at(100-clay.Low))
}

// stackedPart is one part of a bar, with as much written on it as has room.
func (d *Drawing) stackedPart(p part, from, to, y0, y1 float64, o Options) {
	if to-from < 0.05 {
		return
	}
	value := o.say("chart.percent-sign", words.Whole("v", p.e.Percent))
	said := ""
	for _, one := range []string{p.name + " " + value, p.letter + " " + value, p.letter} {
		if widthOf(one, smallSize*heavy)+10 <= to-from {
			said = one
			break
		}
	}
	mid, half := (from+to)/2, widthOf(said, smallSize*heavy)/2+2
	plate := box{mid - half, y0 + 3, mid + half, y1 - 3}
	if said == "" {
		plate = box{}
	}
	d.patterned(p, from, y0, to, y1, plate)
	d.area(paint{own: p.Colour}, rectangle(plate.x0, plate.y0, plate.x1, plate.y1))
	d.write(text{at: Point{X: mid, Y: (y0+y1)/2 + 4}, words: said, size: smallSize, bold: true, anchor: middle}, paint{own: p.ink()})
	d.stroke(card, 2, nil, closed(rectangle(from, y0, to, y1)))
	d.stroke(soft, 1, nil, closed(rectangle(from+0.8, y0, to-0.8, y1)))
}

// across is a level error bar with caps, and a dot at the middle.
func (d *Drawing) across(at Point, from, to float64) {
	const cap = 3
	from, to = math.Min(from, at.X), math.Max(to, at.X)
	d.stroke(ink, 1.4, nil, segment(from, at.Y, to, at.Y), segment(from, at.Y-cap, from, at.Y+cap), segment(to, at.Y-cap, to, at.Y+cap))
	d.disc(ink, at, 2.6)
}
