package imaging

import (
	"cmp"
	"image"
	"slices"
)

// lumaMap is the luma of a picture at half its size, 0..255 each.
type lumaMap struct {
	w, h int
	pix  []uint8
}

// halfLuma averages 2x2 pixels and weighs R, G, B as ITU-R BT.601 does.
func halfLuma(pic *image.RGBA) lumaMap {
	w, h := pic.Rect.Dx()/2, pic.Rect.Dy()/2
	m := lumaMap{w, h, make([]uint8, w*h)}
	for y := range h {
		at := pic.PixOffset(pic.Rect.Min.X, pic.Rect.Min.Y+2*y)
		upper, lower := pic.Pix[at:at+8*w], pic.Pix[at+pic.Stride:at+pic.Stride+8*w]
		for x := range w {
			a, b := upper[8*x:8*x+8:8*x+8], lower[8*x:8*x+8:8*x+8]
			red := uint32(a[0]) + uint32(a[4]) + uint32(b[0]) + uint32(b[4])
			green := uint32(a[1]) + uint32(a[5]) + uint32(b[1]) + uint32(b[5])
			blue := uint32(a[2]) + uint32(a[6]) + uint32(b[2]) + uint32(b[6])
			m.pix[y*w+x] = uint8((77*red + 150*green + 29*blue + 512) >> 10)
		}
	}
	return m
}

func (m lumaMap) transposed() lumaMap {
	t := lumaMap{m.h, m.w, make([]uint8, len(m.pix))}
	for y := range m.h {
		for x, p := range m.pix[y*m.w : (y+1)*m.w] {
			t.pix[x*t.w+y] = p
		}
	}
	return t
}

// edge is a run of one line in one direction: its rise, and its width (the
// rise over the steepest step).
type edge struct{ width, rise float32 }

// fewEdges is too few to judge the sharpness of a picture by.
const fewEdges = 12

// sharpness is the reciprocal of the edge width across the map, in pixels of
// the picture at its own size; 0 when there are too few edges.
func (m lumaMap) sharpness(least float32) float64 {
	const band = 8 // rows to a line
	var edges []edge
	line := make([]float32, m.w)
	for y := 0; y+band <= m.h; y += band {
		m.lineOf(line, y, band)
		smooth(line)
		edges = appendEdges(edges, line, least)
	}
	if len(edges) < fewEdges {
		return 0
	}
	return 1 / (2 * float64(quartileWidth(edges)))
}

// lineOf sets line to the mean of n rows from y.
func (m lumaMap) lineOf(line []float32, y, n int) {
	clear(line)
	for k := range n {
		for x, p := range m.pix[(y+k)*m.w : (y+k+1)*m.w] {
			line[x] += float32(p)
		}
	}
	for x := range line {
		line[x] /= float32(n)
	}
}

// smooth applies the binomial weights 1 4 6 4 1 in place.
func smooth(line []float32) {
	for range 2 {
		before := line[0]
		for x := 0; x+1 < len(line); x++ {
			here := line[x]
			line[x] = (before + 2*here + line[x+1]) / 4
			before = here
		}
	}
}

// appendEdges adds the edges of a line that rise (or fall) by at least least.
func appendEdges(edges []edge, line []float32, least float32) []edge {
	var rise, steepest float32 // of the run so far, signed and not
	end := func() {
		if height := max(rise, -rise); height >= least {
			edges = append(edges, edge{height / steepest, height})
		}
		rise, steepest = 0, 0
	}
	for x := 1; x < len(line); x++ {
		step := line[x] - line[x-1]
		if step*rise < 0 {
			end()
		}
		rise += step
		steepest = max(steepest, step, -step)
	}
	end()
	return edges
}

// quartileWidth is the lower quartile of the widths, weighted by rise.
func quartileWidth(edges []edge) float32 {
	slices.SortFunc(edges, func(a, b edge) int { return cmp.Compare(a.width, b.width) })
	var total, sum float32
	for _, e := range edges {
		total += e.rise
	}
	for _, e := range edges {
		if sum += e.rise; sum >= total/4 {
			return e.width
		}
	}
	return edges[len(edges)-1].width
}
