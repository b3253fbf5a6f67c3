package imaging

import (
	"cmp"
	"encoding/binary"
	"image"
	"slices"

	"mudline/imaging/pixels"
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
		line := m.pix[y*w:][:w]
		for len(line) > 0 && len(upper) >= 8 && len(lower) >= 8 {
			redBlue, green := pixels.SumOfFour(upper, lower)
			line[0] = uint8((77*(redBlue&0xffff) + 150*(green&0xffff) + 29*(redBlue>>16&0xffff) + 512) >> 10)
			line, upper, lower = line[1:], upper[8:], lower[8:]
		}
	}
	return m
}

// edge is a run of one line in one direction: its rise, and its width (the
// rise over the steepest step).
type edge struct{ width, rise float32 }

// fewEdges is too few to judge the sharpness of a picture by.
const fewEdges = 12

// band is how many rows or columns are taken together to a line.
const band = 8

// sharpness is the reciprocal of the edge width along the lines, in pixels of
// the picture at its own size; 0 when there are too few edges.
func sharpness(lines [][]float32, least float32) float64 {
	var edges []edge
	for _, line := range lines {
		smooth(line)
		edges = appendEdges(edges, line, least)
	}
	if len(edges) < fewEdges {
		return 0
	}
	return 1 / (2 * float64(quartileWidth(edges)))
}

// across gives the means of bands of rows, down those of bands of columns.
func (m lumaMap) across() [][]float32 {
	lines := makeLines(m.h/band, m.w)
	sums := make([]uint64, 2*((m.w+7)/8))
	for k, line := range lines {
		clear(sums)
		for y := k * band; y < (k+1)*band; y++ {
			pixels.AddRow(sums, m.pix[y*m.w:][:m.w], 1)
		}
		for x := range line {
			line[x] = float32(pixels.Lane(sums, x)) / band
		}
	}
	return lines
}

func (m lumaMap) down() [][]float32 {
	const lanes = 0x00ff00ff00ff00ff
	lines := makeLines(m.w/band, m.h)
	for y := range m.h {
		row := m.pix[y*m.w:][:m.w]
		for k := range lines {
			v := binary.LittleEndian.Uint64(row[k*band:])
			lines[k][y] = float32((v&lanes+v>>8&lanes)*0x0001000100010001>>48) / band
		}
	}
	return lines
}

func makeLines(n, length int) [][]float32 {
	store := make([]float32, n*length)
	lines := make([][]float32, n)
	for i := range lines {
		lines[i] = store[i*length:][:length]
	}
	return lines
}

// smooth applies the binomial weights 1 4 6 4 1 in place.
func smooth(line []float32) {
	if len(line) == 0 {
		return
	}
	for range 2 {
		before := line[0]
		for x, next := range line[1:] {
			here := line[x]
			line[x] = (before + 2*here + next) / 4
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
