package chart

import (
	"math"
	"slices"
)

// lattice is the step, in percent, of the soils whose density is reckoned.
const lattice = 1

// floorSD is the least spread, in percent, that a soil of a cloud is drawn with:
// regions narrower than the lattice could fall between its points.
const floorSD = 0.8

// regions are outlines that hold the given shares of a cloud: the smallest ones,
// where the density of the cloud is highest. The density is that of Gauss kernels
// whose covariance is the cloud's, scaled by Scott's rule (D. W. Scott,
// Multivariate Density Estimation, 1992: n^(-1/6) in two dimensions); the level
// of a share is the density that this share of the cloud's own soils exceeds
// (R. J. Hyndman, The American Statistician 50, 1996, 120-126).
func regions(points []soil, shares ...float64) [][][]soil {
	k := newKernel(points)
	grid := k.lattice()
	at := make([]float64, len(points))
	for i, p := range points {
		at[i] = k.density(p)
	}
	slices.Sort(at)
	out := make([][][]soil, len(shares))
	for i, share := range shares {
		// Between the two ranks: n points have n-1 gaps.
		pos := (1 - share) * float64(len(at)-1)
		lo := int(pos)
		hi := min(lo+1, len(at)-1)
		level := at[lo] + (at[hi]-at[lo])*(pos-float64(lo))
		// A cloud narrower than the lattice still has a ring.
		out[i] = grid.rings(math.Min(level, 0.9*grid.top()))
	}
	return out
}

// kernel is the density of a cloud, in the plane of sand and clay.
type kernel struct {
	points []soil
	// a, b, c are the inverse covariance: a*ds^2 + 2*b*ds*dc + c*dc^2.
	a, b, c float64
}

func newKernel(points []soil) kernel {
	n := float64(len(points))
	var ms, mc, ss, cc, sc float64
	for _, p := range points {
		ms += p[0] / n
		mc += p[2] / n
	}
	for _, p := range points {
		s, c := p[0]-ms, p[2]-mc
		ss += s * s / n
		cc += c * c / n
		sc += s * c / n
	}
	h := math.Pow(n, -1.0/3)
	// The floor is round in the drawing: silt = 100 - sand - clay ties the two.
	ss, cc, sc = ss*h+floorSD*floorSD, cc*h+floorSD*floorSD, sc*h-floorSD*floorSD/2
	det := ss*cc - sc*sc
	return kernel{points, cc / det, -sc / det, ss / det}
}

// density is up to a factor that is the same everywhere.
func (k kernel) density(at soil) float64 {
	sum := 0.0
	for _, p := range k.points {
		s, c := at[0]-p[0], at[2]-p[2]
		if q := k.a*s*s + 2*k.b*s*c + k.c*c*c; q < 40 {
			sum += math.Exp(-q / 2)
		}
	}
	return sum
}

// field is the density on the lattice: row clay, column silt, both from 0 to n.
type field struct {
	n  int
	at [][]float64
}

func (k kernel) lattice() field {
	n := 100 / lattice
	f := field{n, make([][]float64, n+1)}
	for c := range n + 1 {
		f.at[c] = make([]float64, n+1-c)
		for s := range f.at[c] {
			f.at[c][s] = k.density(node{c, s}.soil())
		}
	}
	return f
}

// top is the greatest density on the lattice.
func (f field) top() float64 {
	top := 0.0
	for _, row := range f.at {
		top = math.Max(top, slices.Max(row))
	}
	return top
}

// node is a point of the lattice; outside the triangle it is one without density.
type node struct{ clay, silt int }

func (n node) soil() soil {
	c, s := float64(n.clay)*lattice, float64(n.silt)*lattice
	return soil{100 - c - s, s, c}
}

func (f field) value(n node) (v float64, inside bool) {
	if n.clay < 0 || n.silt < 0 || n.clay+n.silt > f.n {
		return 0, false
	}
	return f.at[n.clay][n.silt], true
}

// crossing names the place where a ring crosses the line between two nodes.
type crossing struct{ in, out node }

// rings are the outlines of where the field is at least level: marching
// triangles over the lattice and one row more around it, so that every ring
// closes. Beyond the triangle a ring runs along its edge.
func (f field) rings(level float64) [][]soil {
	next := map[crossing]crossing{}
	var order []crossing
	for c := -1; c <= f.n; c++ {
		for s := -1; s <= f.n-c; s++ {
			a, b, d, e := node{c, s}, node{c, s + 1}, node{c + 1, s}, node{c + 1, s + 1}
			order = f.march([3]node{a, b, d}, level, next, order)
			order = f.march([3]node{b, e, d}, level, next, order)
		}
	}
	var out [][]soil
	for _, from := range order {
		var ring []soil
		for {
			to, ok := next[from]
			if !ok {
				break
			}
			delete(next, from)
			ring = append(ring, f.place(from, level))
			from = to
		}
		if ring = tidy(ring); len(ring) > 2 {
			out = append(out, ring)
		}
	}
	return out
}

// march adds the piece of a ring within one small triangle, its nodes counter-
// clockwise, with the inside on its left.
func (f field) march(t [3]node, level float64, next map[crossing]crossing, order []crossing) []crossing {
	var in [3]bool
	count := 0
	for i, n := range t {
		v, inside := f.value(n)
		if in[i] = inside && v >= level; in[i] {
			count++
		}
	}
	if count == 0 || count == 3 {
		return order
	}
	for i := range t {
		j, k := (i+1)%3, (i+2)%3
		switch {
		case count == 1 && in[i]:
			next[crossing{t[i], t[j]}] = crossing{t[i], t[k]}
			return append(order, crossing{t[i], t[j]})
		case count == 2 && !in[i]:
			next[crossing{t[k], t[i]}] = crossing{t[j], t[i]}
			return append(order, crossing{t[k], t[i]})
		}
	}
	return order
}

func (f field) place(c crossing, level float64) soil {
	p := c.in.soil()
	out, inside := f.value(c.out)
	if !inside {
		return p
	}
	v, _ := f.value(c.in)
	t := 0.0
	if v > out {
		t = math.Min(math.Max((v-level)/(v-out), 0), 1)
	}
	q := c.out.soil()
	for i := range p {
		p[i] += t * (q[i] - p[i])
	}
	return p
}

// tidy leaves out points of a ring that lie on the one before them, within a
// tenth of a percent.
func tidy(ring []soil) []soil {
	var out []soil
	for _, p := range ring {
		if n := len(out); n > 0 && math.Hypot(p[0]-out[n-1][0], p[2]-out[n-1][2]) < 0.1 {
			continue
		}
		out = append(out, p)
	}
	return out
}
