// Package chart draws a reading: the texture triangle, the settling over time,
// the size curve, thickness beside corrected shares, and the three intervals.
//
// A chart is a short list of lines, areas and texts (Drawing) with two writers,
// SVG and PNG. A general plotting library would bring neither the triangle nor
// text alternatives nor colours by class, and the fonts that it embeds weigh a
// great part of what the whole program may weigh inside a web page, where charts
// are drawn anew while a line is dragged. What libraries are good at is left to
// them: golang.org/x/image fills the outlines and reads the font.
//
// All lengths are in units of the drawing: CSS pixels where it is shown at its
// natural size. A chart is legible from 320 units width up.
package chart

import (
	"image"
	"math"
	"strconv"
	"strings"

	"mudline/internal/raster"
	"mudline/internal/words"
)

// Point is a place in a drawing: x right, y down.
type Point = raster.Point

// Options say how a chart is drawn. The zero value is good.
type Options struct {
	// ID starts the ids inside the SVG, so that several can stand in one page.
	// "chart" where it is empty.
	ID string
	// Width is the natural width, 320 to 1200; 360 where it is 0.
	Width float64
	// Inches shows heights in inches.
	Inches bool
	// Intervals draws the intervals of each soil in a triangle of several.
	Intervals bool
	// Language is that of all that is written; nil is English.
	Language *words.Language
}

// say writes the text of a key.
func (o Options) say(key string, args ...words.Arg) string { return o.Language.Text(key, args...) }

// decimal writes a number, given with a point, the way of the chosen language.
func (o Options) decimal(number string) string {
	v, err := strconv.ParseFloat(number, 64)
	if err != nil {
		return number
	}
	_, part, _ := strings.Cut(number, ".")
	return o.Language.Number(v, len(part))
}

// decimals does so for the labels of an axis.
func (o Options) decimals(ticks []tick) []tick {
	for i := range ticks {
		ticks[i].label = o.decimal(ticks[i].label)
	}
	return ticks
}

func (o Options) width() float64 {
	if !finite(o.Width) || o.Width == 0 {
		return 360
	}
	return math.Min(math.Max(o.Width, 320), 1200)
}

// Drawing is a chart: what to draw, in order, and what it says in words.
type Drawing struct {
	// Width and Height are the natural size.
	Width, Height float64
	// Title names the chart, Desc states its numbers in words.
	Title, Desc string
	// Empty says that the reading has nothing to show in this chart; the
	// drawing then says so in a sentence.
	Empty bool

	id    string
	marks []mark
}

// mark is one thing that is drawn.
type mark struct {
	paths  [][]Point
	closed bool
	// dot draws a disc of this radius at every point in place of lines.
	dot        float64
	fill, line paint
	alpha      float64 // opacity of the fill; 0 is opaque
	width      float64 // of the line
	dash       []float64
	text       *text
	picture    *image.RGBA // within the rectangle that is the path
}

// text is a line of letters. The point is on its baseline.
type text struct {
	at     Point
	words  string
	size   float64
	bold   bool
	anchor anchor
	// turn is clockwise about the point, in degrees.
	turn float64
	// halo lifts the letters off what lies behind.
	halo bool
}

type anchor int

const (
	start anchor = iota
	middle
	end
)

// Sizes of letters.
const (
	bodySize  = 12.5
	smallSize = 11
)

func newDrawing(o Options, height float64, title string) *Drawing {
	id := o.ID
	if id == "" {
		id = "chart"
	}
	d := &Drawing{Width: o.width(), Height: height, Title: title, id: id}
	d.area(card, rectangle(0, 0, d.Width, height))
	return d
}

// nothing is the drawing of a reading that has no such chart.
func nothing(o Options, title, why string) *Drawing {
	d := newDrawing(o, 64, title)
	d.Empty, d.Desc = true, why
	for i, line := range wrap(why, bodySize, d.Width-32) {
		d.write(text{at: Point{X: 16, Y: 28 + 17*float64(i)}, words: line, size: bodySize}, soft)
	}
	return d
}

// add puts a mark into the drawing, unless a coordinate is not a number.
func (d *Drawing) add(m mark) {
	for _, path := range m.paths {
		for _, p := range path {
			if !finite(p.X) || !finite(p.Y) {
				return
			}
		}
	}
	if m.text != nil && (m.text.words == "" || !finite(m.text.at.X) || !finite(m.text.at.Y)) {
		return
	}
	d.marks = append(d.marks, m)
}

func (d *Drawing) area(fill paint, outlines ...[]Point) {
	d.add(mark{paths: outlines, closed: true, fill: fill})
}

func (d *Drawing) stroke(line paint, width float64, dash []float64, paths ...[]Point) {
	d.add(mark{paths: paths, line: line, width: width, dash: dash})
}

// write sets a text. One that is not turned is kept within the drawing's width.
func (d *Drawing) write(t text, fill paint) {
	t.words = clean(t.words)
	if t.turn == 0 {
		const rim = 3
		t.words = fit(t.words, t.measure(), d.Width-2*rim)
		left, right := t.reach()
		t.at.X += math.Max(rim-left, 0) - math.Max(right-(d.Width-rim), 0)
	}
	d.add(mark{text: &t, fill: fill})
}

// measure is the size to reckon widths with: heavy letters run wider.
func (t text) measure() float64 {
	if t.bold {
		return t.size * heavy
	}
	return t.size
}

// reach is where a text that is not turned begins and ends.
func (t text) reach() (left, right float64) {
	wide := widthOf(t.words, t.measure())
	left = t.at.X - wide*map[anchor]float64{start: 0, middle: 0.5, end: 1}[t.anchor]
	return left, left + wide
}

func rectangle(x0, y0, x1, y1 float64) []Point {
	return []Point{{X: x0, Y: y0}, {X: x1, Y: y0}, {X: x1, Y: y1}, {X: x0, Y: y1}}
}

func segment(x0, y0, x1, y1 float64) []Point { return []Point{{X: x0, Y: y0}, {X: x1, Y: y1}} }

func finite(v float64) bool { return !math.IsNaN(v) && !math.IsInf(v, 0) }
