package report

import (
	"image/color"
	"math"

	"mudline/internal/look"
	"mudline/internal/raster"
)

// Point is a position in pixels of the picture that is drawn on: x right, y
// down, 0,0 at the outer corner of the first pixel.
type Point = raster.Point

// Dark is the casing under every line and the ground under every label; Light
// is the lightest stroke. Light on Dark reads on any photo.
var (
	Dark  = rgba(look.Seam)
	Light = color.RGBA{255, 255, 255, 255}
)

// canvas draws on photos.
type canvas struct{ raster.Canvas }

// cased draws a coloured line over a dark casing, which fills its gaps; dash is as
// look.Line has it, in pixels.
func (c canvas) cased(line []Point, width float64, dash []float64, col color.Color) {
	c.Stroke(line, width+math.Max(3, 1.3*width), Dark)
	for _, p := range raster.Dashes(line, dash...) {
		c.Stroke(p, width, col)
	}
}
