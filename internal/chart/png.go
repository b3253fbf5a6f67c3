package chart

import (
	"bytes"
	"fmt"
	"image"
	"image/color"
	"image/png"
	"io"
	"math"

	"golang.org/x/image/draw"

	"mudline/internal/look"
	"mudline/internal/raster"
)

// maxScale keeps a picture within some 12000 pixels.
const maxScale = 10

// PNG writes the drawing as a picture of Width*scale by Height*scale pixels, in
// the light colours. Scale is above 0 and at most 10; 3 is good for print. Letters
// of scripts that the embedded font lacks are drawn as empty boxes.
func (d *Drawing) PNG(w io.Writer, scale float64) error {
	if !(scale > 0 && scale <= maxScale) {
		return fmt.Errorf("a picture at scale %g: the scale lies above 0 and up to %d", scale, maxScale)
	}
	pic := image.NewRGBA(image.Rect(0, 0, max(1, int(math.Round(d.Width*scale))), max(1, int(math.Round(d.Height*scale)))))
	p := painter{raster.Canvas{Pic: pic}, scale}
	p.Box(0, 0, float64(pic.Rect.Dx()), float64(pic.Rect.Dy()), card.rgba(1))
	for _, m := range d.marks {
		if m.text != nil {
			p.write(*m.text, m.fill)
		} else {
			p.draw(m)
		}
	}
	var b bytes.Buffer
	if err := png.Encode(&b, pic); err != nil {
		return err
	}
	_, err := w.Write(raster.Signed(b.Bytes()))
	return err
}

// painter draws marks at a scale.
type painter struct {
	raster.Canvas
	scale float64
}

func (p painter) scaled(path []Point) []Point {
	out := make([]Point, len(path))
	for i, q := range path {
		out[i] = Point{X: q.X * p.scale, Y: q.Y * p.scale}
	}
	return out
}

func (p painter) draw(m mark) {
	if m.picture != nil {
		box := p.scaled(m.paths[0])
		to := image.Rect(int(box[0].X), int(box[0].Y), int(box[2].X), int(box[2].Y))
		draw.BiLinear.Scale(p.Pic, to, m.picture, m.picture.Rect, draw.Src, nil)
		return
	}
	var inside raster.Area
	for _, path := range m.paths {
		if m.dot > 0 {
			for _, q := range p.scaled(path) {
				inside.Add(raster.Disc(q, m.dot*p.scale)...)
			}
		} else if len(path) > 0 {
			inside.Outlines = append(inside.Outlines, p.scaled(path))
		}
	}
	if m.fill != (paint{}) {
		p.Fill(inside, m.fill.rgba(m.alpha))
	}
	if m.line == (paint{}) {
		return
	}
	for _, path := range m.paths {
		p.strokePath(p.scaled(path), m)
	}
}

func (p painter) strokePath(line []Point, m mark) {
	if len(line) == 0 {
		return
	}
	if m.closed {
		line = append(line, line[0])
	}
	width := m.width * p.scale
	dash := make([]float64, len(m.dash))
	for i := range dash { // the round ends lengthen a dash by the width
		dash[i] = m.dash[i]*p.scale + width
		if i%2 == 0 {
			dash[i] = math.Max(dash[i]-2*width, 0.1)
		}
	}
	for _, piece := range raster.Dashes(line, dash...) {
		p.Stroke(piece, width, m.line.rgba(1))
	}
}

func (p painter) write(t text, fill paint) {
	letters := raster.Regular(t.size * p.scale)
	if t.bold {
		letters = raster.Bold(t.size * p.scale)
	}
	shift := map[anchor]float64{start: 0, middle: -0.5, end: -1}[t.anchor] * letters.Width(t.words)
	sin, cos := math.Sincos(t.turn * math.Pi / 180)
	outline := letters.Outline(t.words)
	for _, path := range outline.Outlines {
		for i, q := range path {
			q.X += shift
			path[i] = Point{X: t.at.X*p.scale + q.X*cos - q.Y*sin, Y: t.at.Y*p.scale + q.X*sin + q.Y*cos}
		}
	}
	if t.halo {
		for _, path := range outline.Outlines {
			p.Stroke(append(path[:len(path):len(path)], path[0]), 3*p.scale, card.rgba(1))
		}
	}
	p.Fill(outline, fill.rgba(1))
}

// rgba is the light colour at an opacity; 0 is opaque.
func (p paint) rgba(alpha float64) color.Color {
	if alpha == 0 {
		alpha = 1
	}
	c, _ := look.RGBA(p.light())
	return color.NRGBA{c.R, c.G, c.B, uint8(math.Round(255 * alpha))}
}
