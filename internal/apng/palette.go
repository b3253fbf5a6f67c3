package apng

import (
	"cmp"
	"image"
	"image/color"
	"slices"
)

// Palette picks n colours for some pictures: the means of the boxes that result from
// parting the box of all colours again and again at the middle of its longest side
// (median cut: Heckbert, Color image quantization for frame buffer display, 1982).
func Palette(pictures []*image.RGBA, n int) color.Palette {
	var all [][3]uint8
	for _, p := range pictures {
		step := max(1, len(p.Pix)/4/2000) * 4
		for i := 0; i+3 < len(p.Pix); i += step {
			all = append(all, [3]uint8{p.Pix[i], p.Pix[i+1], p.Pix[i+2]})
		}
	}
	boxes := [][][3]uint8{all}
	for len(boxes) < n {
		at, side, most := -1, 0, 0
		for i, b := range boxes {
			if k, long := longest(b); len(b) > 1 && long*len(b) > most {
				at, side, most = i, k, long*len(b)
			}
		}
		if at < 0 {
			break
		}
		b := boxes[at]
		slices.SortFunc(b, func(x, y [3]uint8) int { return cmp.Compare(x[side], y[side]) })
		boxes[at] = b[:len(b)/2]
		boxes = append(boxes, b[len(b)/2:])
	}
	var out color.Palette
	for _, b := range boxes {
		var sum [3]int
		for _, c := range b {
			for k := range sum {
				sum[k] += int(c[k])
			}
		}
		m := max(len(b), 1)
		out = append(out, color.RGBA{uint8(sum[0] / m), uint8(sum[1] / m), uint8(sum[2] / m), 255})
	}
	return out
}

// longest is the longest side of the box of some colours, and how long it is.
func longest(colours [][3]uint8) (side, long int) {
	low, high := [3]uint8{255, 255, 255}, [3]uint8{}
	for _, c := range colours {
		for k, v := range c {
			low[k], high[k] = min(low[k], v), max(high[k], v)
		}
	}
	for k := range low {
		if d := int(high[k]) - int(low[k]); d > long {
			side, long = k, d
		}
	}
	return side, long
}

// Reduced is a picture in the colours of a palette, each pixel in the nearest.
func Reduced(pic *image.RGBA, p color.Palette) *image.Paletted {
	out := image.NewPaletted(image.Rectangle{Max: pic.Rect.Size()}, p)
	known := map[[3]uint8]uint8{}
	for y := range out.Rect.Dy() {
		row := pic.Pix[y*pic.Stride:]
		for x := range out.Rect.Dx() {
			c := [3]uint8{row[4*x] &^ 3, row[4*x+1] &^ 3, row[4*x+2] &^ 3}
			i, ok := known[c]
			if !ok {
				i = uint8(p.Index(color.RGBA{c[0] | 2, c[1] | 2, c[2] | 2, 255}))
				known[c] = i
			}
			out.Pix[y*out.Stride+x] = i
		}
	}
	return out
}
