package report

import (
	"image/color"
	"math"
	"strings"

	"mudline/internal/look"
	"mudline/internal/raster"
)

// Panel is the result beside the photo.
type Panel struct {
	// Title is the jar's name, Subtitle what the photo is: "after 2 h".
	Title, Subtitle string
	// Columns are the stacked percentages, side by side.
	Columns []Column
	// Lines are written below, each wrapped: the class, the main warning.
	Lines []string
}

// Column is one stacked column of sand, silt and clay.
type Column struct {
	Title string
	// Sand, Silt and Clay are percent and add up to 100.
	Sand, Silt, Clay float64
	// Names stand in each part: "sand 63 %"; Notes below, "58 to 68", or nothing.
	SandName, SiltName, ClayName string
	SandNote, SiltNote, ClayNote string
}

var (
	paper    = rgba(look.ToneOf("card").Light)
	ink      = rgba(look.ToneOf("ink").Light)
	faintInk = rgba(look.ToneOf("soft").Light)
)

// draw fills the panel from x over its width and the picture's whole height.
func (p *Panel) draw(c canvas, x, width, unit float64) {
	height := float64(c.Pic.Rect.Dy())
	c.Box(x, 0, x+width, height, paper)
	head, body, small := raster.Bold(19*unit), raster.Regular(14*unit), raster.Regular(12.5*unit)
	left, inner := x+16*unit, width-32*unit
	y := 34 * unit
	for _, line := range p.title(head, inner) {
		head.Write(c.Pic, line, left, y, ink)
		y += 22 * unit
	}
	body.Write(c.Pic, body.Fit(p.Subtitle, inner), left, y, faintInk)
	y += 24 * unit
	bottom := height - float64(len(p.wrapped(body, inner)))*19*unit - 24*unit
	if tall := math.Min(bottom-y-46*unit, 460*unit); len(p.Columns) > 0 && tall > 60*unit {
		each := inner / float64(len(p.Columns))
		for i, col := range p.Columns {
			col.draw(c, left+float64(i)*each, y, each-10*unit, tall, body, small)
		}
		y += tall + 46*unit
	}
	for _, line := range p.wrapped(body, inner) {
		y += 19 * unit
		body.Write(c.Pic, line, left, y, ink)
	}
}

// title is the jar's name on at most two lines.
func (p *Panel) title(l raster.Letters, width float64) []string {
	lines := l.Lines(p.Title, width)
	if len(lines) > 2 {
		lines = []string{lines[0], strings.Join(lines[1:], " ")}
	}
	for i := range lines {
		lines[i] = l.Fit(lines[i], width)
	}
	return lines
}

func (p *Panel) wrapped(l raster.Letters, width float64) []string {
	var out []string
	for i, line := range p.Lines {
		if i > 0 {
			out = append(out, "")
		}
		out = append(out, l.Lines(line, width)...)
	}
	return out
}

// draw sets one column with its title above and its parts named inside.
func (col Column) draw(c canvas, x, y, width, height float64, title, note raster.Letters) {
	for i, line := range title.Lines(col.Title, width) {
		title.Write(c.Pic, line, x, y+title.Size*(1.1+1.25*float64(i)), ink)
	}
	y += title.Size * 2.9
	parts := []struct {
		look.Part
		name, note string
		percent    float64
	}{
		{look.PartOf("clay"), col.ClayName, col.ClayNote, col.Clay},
		{look.PartOf("silt"), col.SiltName, col.SiltNote, col.Silt},
		{look.PartOf("sand"), col.SandName, col.SandNote, col.Sand},
	}
	for _, part := range parts {
		h := height * part.percent / 100
		c.patterned(part.Part, x, y, x+width, y+h, note.Size/12.5)
		lines := []string{part.name}
		if part.note != "" {
			lines = append(lines, part.note)
		}
		step, inset := note.Size*1.25, note.Size*0.7
		if h < step*float64(len(lines))+4 { // a thin part keeps its first line only
			lines = lines[:1]
		}
		if h >= step {
			for i, line := range lines {
				at := y + h/2 + step*(float64(i)-float64(len(lines))/2+0.8)
				line = note.Fit(line, width-2*inset)
				c.Box(x+inset/2, at-note.Size, x+1.5*inset+note.Width(line), at+0.3*note.Size, rgba(part.Colour)) // a plate
				note.Write(c.Pic, line, x+inset, at, rgba(look.InkOn(part.Colour)))
			}
		}
		y += h
	}
}

// patterned fills a rectangle with a part's colour and pattern, at a scale.
func (c canvas) patterned(p look.Part, x0, y0, x1, y1, unit float64) {
	c.Box(x0, y0, x1, y1, rgba(p.Colour))
	ink := rgba(look.InkOn(p.Colour))
	faint := color.NRGBA{ink.R, ink.G, ink.B, 150}
	for i, y := 0, y0+3.5*unit; y < y1-unit; i, y = i+1, y+look.RowsApart*unit {
		for _, m := range p.Pattern.Row(2, (x1-x0)/unit-2, i%2 == 1) {
			from, to, half := x0+m[0]*unit, x0+m[1]*unit, 0.5*unit
			if m[0] == m[1] {
				half = 0.9 * unit
				from, to = from-half, to+half
			}
			c.Box(from, y-half, to, y+half, faint)
		}
	}
}
