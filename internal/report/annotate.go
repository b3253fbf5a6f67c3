package report

import (
	"image"
	"image/color"
	"image/draw"
	"math"
	"slices"
	"strings"

	"mudline/internal/look"
	"mudline/internal/raster"
	"mudline/layers"
)

// rgba is a colour of package look.
func rgba(hex string) color.RGBA {
	c, _ := look.RGBA(hex) // black for what is no colour: the table has none
	return c
}

// Curve is one line to draw, from the left edge of the glass to the right.
type Curve struct {
	Line   look.Line
	Points []Point
	// Label stands beside the line, and Height behind it: "top of the sand",
	// "24.2 +- 0.8 mm". Without a label a line has none.
	Label, Height string
	// Upper and Lower bound the band in which the line may lie; nil without.
	Upper, Lower []Point
}

// Tick is a mark of the scale beside the jar.
type Tick struct {
	At Point
	// Label is empty for the marks between.
	Label string
}

// Drawing is all that is drawn on one photo.
type Drawing struct {
	Picture image.Image
	Curves  []Curve
	Scale   []Tick
	Panel   *Panel
}

// Annotate draws onto a copy of the photo and sets the panel beside it. Where
// the photo has too little room beside the jar, the labels run past its edge.
func Annotate(d Drawing) *image.RGBA {
	b := d.Picture.Bounds()
	unit := math.Max(float64(max(b.Dx(), b.Dy()))/800, 0.75)
	panelWidth := 0.0
	if d.Panel != nil {
		panelWidth = 330 * unit
	}
	text := raster.Bold(13 * unit)
	list, end := labelsOf(d.Curves, text, unit)
	width := math.Min(math.Max(float64(b.Dx()), end), 2*float64(b.Dx()))
	out := image.NewRGBA(image.Rect(0, 0, int(width+panelWidth), b.Dy()))
	draw.Draw(out, out.Rect, image.NewUniform(paper), image.Point{}, draw.Src)
	draw.Draw(out, image.Rect(0, 0, b.Dx(), b.Dy()), d.Picture, b.Min, draw.Src)
	c := canvas{raster.Canvas{Pic: out}}
	c.bands(d.Curves)
	c.scale(d.Scale, unit)
	for _, k := range d.Curves {
		thick := 2 * unit
		if k.Line.Name == layers.Glass {
			thick = 1.1 * unit
		}
		c.cased(k.Points, thick, k.Line.Dashes(thick), rgba(k.Line.Colour))
	}
	c.labels(list, text, unit)
	if d.Panel != nil {
		d.Panel.draw(c, width, panelWidth, unit)
	}
	return out
}

// bands shade where the lines may lie.
func (c canvas) bands(curves []Curve) {
	for _, k := range curves {
		if len(k.Upper) == 0 || len(k.Lower) == 0 {
			continue
		}
		outline := slices.Clone(k.Upper)
		for i := len(k.Lower) - 1; i >= 0; i-- {
			outline = append(outline, k.Lower[i])
		}
		var a raster.Area
		a.Add(outline...)
		col := rgba(k.Line.Colour)
		c.Fill(a, color.NRGBA{col.R, col.G, col.B, 80})
	}
}

// scale draws the marks of height beside the jar.
func (c canvas) scale(ticks []Tick, unit float64) {
	if len(ticks) < 2 {
		return
	}
	text := raster.Regular(11 * unit)
	c.cased([]Point{ticks[0].At, ticks[len(ticks)-1].At}, 1.1*unit, nil, Light)
	for _, t := range ticks {
		long := 5 * unit
		if t.Label != "" {
			long = 9 * unit
		}
		c.cased([]Point{t.At, {X: t.At.X - long, Y: t.At.Y}}, 1.1*unit, nil, Light)
		if t.Label != "" {
			w := text.Width(t.Label)
			c.plate(text, t.Label, t.At.X-long-w-5*unit, t.At.Y+4*unit, Light)
		}
	}
}

// plate writes text on a dark ground.
func (c canvas) plate(l raster.Letters, text string, x, y float64, col color.Color) {
	pad := 0.3 * l.Size
	c.Box(x-pad, y-l.Size, x+l.Width(text)+pad, y+0.35*l.Size, color.NRGBA{Dark.R, Dark.G, Dark.B, 215})
	l.Write(c.Pic, text, x, y, col)
}

// label is a line's text with the place it points to.
type label struct {
	text string
	line look.Line
	from Point
	y    float64
}

// labelReach is how far right of the glass a label begins.
const labelReach = 26

// labelsOf gathers the lines' texts and the column at which all of them have
// ended, right of the glass.
func labelsOf(curves []Curve, text raster.Letters, unit float64) (list []label, end float64) {
	for _, k := range curves {
		if k.Label == "" || len(k.Points) == 0 {
			continue
		}
		last := k.Points[len(k.Points)-1]
		words := plusMinus(strings.TrimSpace(k.Label + " " + k.Height))
		list = append(list, label{words, k.Line, last, last.Y})
		end = math.Max(end, last.X+labelReach*unit+text.Width(words)+8*unit)
	}
	return list, end
}

// labels sets the lines' texts right of the glass, moved apart where they would
// lie on each other. A piece of the line itself leads to each.
func (c canvas) labels(list []label, text raster.Letters, unit float64) {
	spread1D(list, 19*unit, 16*unit, float64(c.Pic.Rect.Max.Y)-8*unit)
	for _, l := range list {
		x := l.from.X + labelReach*unit
		thick := 1.6 * unit
		c.cased([]Point{l.from, {X: x - 4*unit, Y: l.y}}, thick, l.line.Dashes(thick), rgba(l.line.Colour))
		c.plate(text, l.text, x, l.y+4.5*unit, Light)
	}
}

// spread1D moves labels apart to at least a distance, within top and bottom,
// keeping their order.
func spread1D(list []label, apart, top, bottom float64) {
	at := make([]float64, len(list))
	for i, l := range list {
		at[i] = l.y
	}
	for i, y := range raster.Spread(at, apart, top, bottom) {
		list[i].y = y
	}
}
