package sheetmark

import "math"

// fieldEdges looks for all edges between ink and paper in marks, close to where a fit
// has them.
func fieldEdges(g *grey, marks []read, f *fit) (out []edge) {
	for _, r := range marks {
		ink := r.code.ink()
		for row := -1; row < Modules; row++ {
			for col := -1; col < Modules; col++ {
				here := ink(row, col)
				if right := ink(row, col+1); right != here && row >= 0 {
					out = appendSeen(out, g, f, r.code.Mark, Point{float64(col) + 1, float64(row)}, Point{0, 1}, here)
				}
				if under := ink(row+1, col); under != here && col >= 0 {
					out = appendSeen(out, g, f, r.code.Mark, Point{float64(col), float64(row) + 1}, Point{1, 0}, here)
				}
			}
		}
	}
	return out
}

// ink tells whether a field of a mark is black, the border included; outside is paper.
func (c Code) ink() func(row, col int) bool {
	f := c.Fields()
	return func(row, col int) bool {
		if row < 0 || col < 0 || row >= Modules || col >= Modules {
			return false
		}
		if row == 0 || col == 0 || row == Modules-1 || col == Modules-1 {
			return true
		}
		return f[(row-1)*inner+col-1]
	}
}

// appendSeen looks for one edge of a field: it starts at a corner of the field, in
// fields from the mark's top left, and runs along dir for one field. inkFirst says
// that the ink is left of it, or above.
func appendSeen(out []edge, g *grey, f *fit, mark int, from, dir Point, inkFirst bool) []edge {
	const field = MarkMM / Modules
	m := Mark(mark)
	place := func(t, off float64) Point { // along the edge, and across to the right or down
		x, y := from.X+t*dir.X+off*dir.Y, from.Y+t*dir.Y+off*dir.X
		return Point{m.X - MarkMM/2 + field*x, m.Y + MarkMM/2 - field*y}
	}
	for _, t := range [...]float64{0.3, 0.7} {
		on := place(t, 0)
		p, beyond := f.Picture(on), f.Picture(place(t, 1))
		nx, ny := beyond.X-p.X, beyond.Y-p.Y
		wide := math.Hypot(nx, ny)
		if !(wide > 1) {
			continue
		}
		nx, ny = nx/wide, ny/wide
		if !inkFirst {
			nx, ny = -nx, -ny
		}
		if off, ok := step(g, p, nx, ny, math.Max(0.5*wide, 1.5)); ok {
			const sd = 0.5
			out = append(out, edge{on, Point{p.X + off*nx, p.Y + off*ny}, Point{nx, ny}, 1, sd})
		}
	}
	return out
}
