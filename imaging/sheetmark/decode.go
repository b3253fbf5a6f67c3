package sheetmark

// read is a mark that was read in a picture.
type read struct {
	code    Code
	mirror  bool
	corners [4]Point // pixels, as markCorners orders them on the sheet
}

// leastStep is how much lighter the paper about a mark must be than its ink.
const leastStep = 1.5

// decode reads the fields of the mark whose corners are q, clockwise as seen.
func decode(g *grey, q [4]Point) (r read, ok bool) {
	fields, ok := sample(g, q)
	if !ok {
		return r, false
	}
	for _, mirror := range []bool{false, true} {
		f, c := fields, q
		if mirror {
			f, c = mirrored(f), [4]Point{q[1], q[0], q[3], q[2]}
		}
		for range 4 {
			if code, valid := codeOf(f); valid {
				return read{code, mirror, c}, true
			}
			f = turned(f)
			c = [4]Point{c[3], c[0], c[1], c[2]}
		}
	}
	return r, false
}

// sample reads which fields are ink: those darker than the middle between the border
// and the paper just outside it, both taken where the field is, since light changes
// across a mark.
func sample(g *grey, q [4]Point) (f [inner * inner]bool, ok bool) {
	unit := []Point{{0, 0}, {Modules, 0}, {Modules, Modules}, {0, Modules}}
	m, ok := PlaneOf(unit, q[:])
	if !ok {
		return f, false
	}
	field := func(c, r float64) float64 {
		sum := 0.0
		for _, d := range [...]Point{{0, 0}, {-0.2, -0.2}, {0.2, -0.2}, {-0.2, 0.2}, {0.2, 0.2}} {
			p := m.At(Point{c + 0.5 + d.X, r + 0.5 + d.Y})
			sum += g.at(p.X, p.Y) / 5
		}
		return sum
	}
	var ink, paper [4]float64 // left, right, top, bottom
	for i := 0.0; i < Modules; i++ {
		for k, v := range [4][4]float64{{0, i, -1, i}, {Modules - 1, i, Modules, i}, {i, 0, i, -1}, {i, Modules - 1, i, Modules}} {
			in, out := field(v[0], v[1]), field(v[2], v[3])
			ink[k] += in / Modules
			paper[k] += out / Modules
		}
	}
	for k := range ink {
		if paper[k] < leastStep*ink[k] {
			return f, false
		}
	}
	for r := range inner {
		for c := range inner {
			x, y := (float64(c)+1.5)/Modules, (float64(r)+1.5)/Modules
			mid := func(v [4]float64) float64 {
				return ((1-x)*v[0] + x*v[1] + (1-y)*v[2] + y*v[3]) / 2
			}
			f[r*inner+c] = field(float64(c)+1, float64(r)+1) < (mid(ink)+mid(paper))/2
		}
	}
	return f, true
}
