package jarfind

import (
	"math"

	"mudline/imaging/order"
)

// candidate is a place where a jar may stand, in thumb pixels: the side edges
// at the height mid between top and bottom, the slope of the jar's axis (x per
// row) and the rows between which both sides are seen.
type candidate struct {
	xl, xr, slope   float64
	top, bottom     float64
	bow             float64 // of the foot
	side, foot      float64 // strengths, 0..1
	head, otherHead float64 // rows of the two likeliest feet
	score           float64
}

const (
	edgeReach  = 3    // columns compared on each side of an edge
	edgeClip   = 16   // CIELAB units; a stronger edge counts no more
	runLevel   = 51   // edge strength (0..255) at which a row counts for the jar
	minWidth   = 0.12 // of a jar, as a share of the picture's longer side
	maxWidth   = 0.75
	coarseKeep = 40 // candidates kept
)

// sideEdges measures at every thumb pixel how strongly the colour changes from
// left to right there, 0..1: between the boxes of edgeReach columns and five
// rows on either side.
func sideEdges(t *thumb) []float32 {
	e := make([]float32, t.w*t.h)
	var down [3][]float32 // five rows added up
	for k := range down {
		down[k] = make([]float32, t.w)
	}
	for y := range t.h {
		from, to := max(y-2, 0), min(y+3, t.h)
		for k := range down {
			t.addRows(down[k], k, from, to)
		}
		row := e[y*t.w:][:t.w]
		part := edgePart / float32(edgeReach*(to-from))
		for x := edgeReach; x < t.w-edgeReach; x++ {
			var sum float32
			for k := range down {
				v := down[k][x-edgeReach:][:2*edgeReach]
				d := v[3] + v[4] + v[5] - v[0] - v[1] - v[2]
				sum += d * d
			}
			row[x] = min(sqrt(sum)*part, 1)
		}
	}
	return e
}

// footEdges measures at every thumb pixel how strongly the colour changes from
// top to bottom there, 0..1: between the boxes of three columns and two rows
// above and below.
func footEdges(t *thumb) []float32 {
	e := make([]float32, t.w*t.h)
	var step [3][]float32
	for k := range step {
		step[k] = make([]float32, t.w)
	}
	for y := 2; y+2 <= t.h; y++ {
		for k := range step {
			v := t.lab[k]
			a, b := v[(y-2)*t.w:][:t.w], v[(y-1)*t.w:][:t.w]
			c, d := v[y*t.w:][:t.w], v[(y+1)*t.w:][:t.w]
			to := step[k][:t.w]
			for x := range to {
				to[x] = c[x] + d[x] - a[x] - b[x]
			}
		}
		row := e[y*t.w:][:t.w]
		for x := 1; x+1 < t.w; x++ {
			var sum float32
			for k := range step {
				v := step[k][x-1:][:3]
				d := v[0] + v[1] + v[2]
				sum += d * d
			}
			row[x] = min(sqrt(sum)*(edgePart/6), 1)
		}
	}
	return e
}

// edgePart is what one CIELAB unit counts for in an edge.
const edgePart = 1.0 / edgeClip

func sqrt(v float32) float32 { return float32(math.Sqrt(float64(v))) }

// coarse lists the best places for a jar between two columns, best first.
func coarse(t *thumb, edges []float32, from, to float64) []candidate {
	var all []candidate
	wide := widened(t, edges)
	for _, slope := range []float64{-0.05, -0.025, 0, 0.025, 0.05} {
		all = append(all, coarseSlope(t, edges, wide, slope, from, to)...)
	}
	return suppress(order.Best(all, len(all), sideOf), coarseKeep)
}

func sideOf(c *candidate) float64 { return c.side }

func coarseSlope(t *thumb, edges []float32, wide []uint8, slope, from, to float64) []candidate {
	cols, at := shear(t, edges, wide, slope)
	mid := float64(t.h) / 2
	long := float64(max(t.w, t.h))
	var out []candidate
	for i, xl := range at {
		for _, xr := range at[i+1:] {
			w := float64(xr - xl)
			if w < minWidth*long*0.75 {
				continue
			}
			if w > maxWidth*long*0.75 {
				break
			}
			sum, y0, y1 := bestRun(cols[xl], cols[xr])
			if float64(y1-y0) < 0.5*w {
				continue
			}
			dx := slope * (float64(y0+y1)/2 - mid)
			if float64(xl)+dx < from || float64(xr)+dx > to {
				continue
			}
			out = append(out, candidate{
				xl: float64(xl) + dx, xr: float64(xr) + dx, slope: slope,
				top: float64(y0), bottom: float64(y1), side: float64(sum) / 255 / long,
			})
		}
	}
	return suppress(order.Best(out, len(out), sideOf), coarseKeep)
}

// widened gives each edge the best strength of three neighbours, 0..255.
func widened(t *thumb, edges []float32) []uint8 {
	wide := make([]uint8, len(edges))
	for y := range t.h {
		row, to := edges[y*t.w:(y+1)*t.w], wide[y*t.w:(y+1)*t.w]
		for x := 1; x+1 < len(row); x++ {
			to[x] = uint8(255*max(row[x-1], row[x], row[x+1]) + 0.5)
		}
	}
	return wide
}

// shear straightens the edge picture for one slope of the jar's axis. It gives
// the columns of the widened edges, and the columns where edges gather: those
// that stand out from their neighbours.
func shear(t *thumb, edges []float32, wide []uint8, slope float64) (cols [][]uint8, at []int) {
	mid := float64(t.h) / 2
	cols = make([][]uint8, t.w)
	store := make([]uint8, t.w*t.h)
	for x := range cols {
		cols[x] = store[x*t.h : (x+1)*t.h]
	}
	sums := make([]float32, t.w)
	for y := range t.h {
		d := int(math.Round(slope * (float64(y) - mid)))
		from, to := max(1-d, 0), min(t.w-1-d, t.w)
		if from >= to {
			continue
		}
		row, best := edges[y*t.w+from+d:][:to-from], wide[y*t.w+from+d:][:to-from]
		into := store[from*t.h+y:]
		for i, v := range row {
			into[i*t.h] = best[i]
			sums[from+i] += v
		}
	}
	for x := 2; x < t.w-2; x++ {
		if sums[x] >= sums[x-1] && sums[x] > sums[x+1] {
			at = append(at, x)
		}
	}
	return cols, at
}

// bestRun finds the rows over which both edges together stand out most.
func bestRun(a, b []uint8) (best, y0, y1 int) {
	sum, start := 0, 0
	b = b[:len(a)]
	for y, v := range a {
		sum += int(min(v, b[y])) - runLevel
		if sum <= 0 {
			sum, start = 0, y+1
		} else if sum > best {
			best, y0, y1 = sum, start, y+1
		}
	}
	return best, y0, y1
}

// suppress keeps the best of candidates that stand almost in the same place.
func suppress(in []candidate, keep int) []candidate {
	var out []candidate
	for _, c := range in {
		near := false
		for _, o := range out {
			if math.Abs(c.xl-o.xl) < 3 && math.Abs(c.xr-o.xr) < 3 {
				near = true
				break
			}
		}
		if !near {
			if out = append(out, c); len(out) == keep {
				break
			}
		}
	}
	return out
}
