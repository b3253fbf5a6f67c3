// Package press makes pictures and PDF of what package backdrop draws.
package press

import (
	"bytes"
	"encoding/binary"
	"hash/crc32"
	"image"
	"image/color"
	"image/draw"
	"image/png"
	"io"
	"math"
	"slices"

	"mudline/internal/backdrop"
	"mudline/internal/raster"
)

const mmPerInch = 25.4

// LeastDPI and MostDPI bound the resolution of a picture.
const (
	LeastDPI = 50
	MostDPI  = 1200
)

// Picture draws the sheet with so many dots to an inch, LeastDPI to MostDPI.
func Picture(p *backdrop.Print, dpi float64) *image.RGBA {
	k := dpi / mmPerInch
	w, h := p.Paper.SizeMM()
	pic := image.NewRGBA(image.Rect(0, 0, int(math.Round(k*w)), int(math.Round(k*h))))
	draw.Draw(pic, pic.Rect, image.White, image.Point{}, draw.Src)
	c := raster.Canvas{Pic: pic}
	for _, b := range p.Boxes {
		c.Box(k*(b.X0+w/2), k*(h-b.Y1), k*(b.X1+w/2), k*(h-b.Y0), grey(b.Ink))
	}
	for _, t := range p.Words {
		font := raster.Regular(k * t.SizeMM)
		if t.Bold {
			font = raster.Bold(k * t.SizeMM)
		}
		x := k*(t.X+w/2) - font.Width(t.Text)*float64(t.Side+1)/2
		font.Write(pic, t.Text, x, k*(h-t.Y), grey(t.Ink))
	}
	return pic
}

func grey(ink float64) color.Color { return color.Gray{Y: backdrop.Level(ink)} }

// WritePNG writes the picture with its resolution.
func WritePNG(to io.Writer, p *backdrop.Print, dpi float64) error {
	var b bytes.Buffer
	pic := Picture(p, dpi)
	flat := image.NewGray(pic.Rect)
	draw.Draw(flat, flat.Rect, pic, image.Point{}, draw.Src)
	if err := png.Encode(&b, flat); err != nil {
		return err
	}
	// The resolution goes behind the first chunk, IHDR, which ends at 33 bytes.
	const head = 33
	file := slices.Insert(b.Bytes(), head, resolution(dpi)...)
	_, err := to.Write(raster.Signed(file))
	return err
}

// resolution is the chunk pHYs of a PNG file (RFC 2083, section 4.2.4.2).
func resolution(dpi float64) []byte {
	perMetre := uint32(math.Round(dpi / mmPerInch * 1000))
	c := binary.BigEndian.AppendUint32(nil, 9)
	c = append(c, "pHYs"...)
	c = binary.BigEndian.AppendUint32(c, perMetre)
	c = binary.BigEndian.AppendUint32(c, perMetre)
	c = append(c, 1)
	return binary.BigEndian.AppendUint32(c, crc32.ChecksumIEEE(c[4:]))
}
