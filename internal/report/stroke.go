package report

import (
	"image/color"
	"math"

	"mudline/internal/raster"
)

// Point is a position in pixels of the picture that is drawn on: x right, y
// down, 0,0 at the outer corner of the first pixel.
type Point = raster.Point

// Dark is the casing under every line and the ground under every label; Light
// is the lightest stroke. Light on Dark reads on any photo.
var (
	Dark  = color.RGBA{16, 18, 22, 255}
	Light = color.RGBA{255, 255, 255, 255}
)

// canvas draws on photos.
type canvas struct{ raster.Canvas }

// cased draws a coloured line over a dark casing; dash is the length of its
// dashes, with gaps 0.7 as long, 0 for an unbroken line.
func (c canvas) cased(line []Point, width, dash float64, col color.Color) {
	pieces := [][]Point{line}
	if dash > 0 {
		pieces = raster.Dashes(line, dash, 0.7*dash)
	}
	for _, p := range pieces {
		c.Stroke(p, width+math.Max(3, 1.3*width), Dark)
	}
	for _, p := range pieces {
		c.Stroke(p, width, col)
	}
}
