package imaging

import (
	"math"
	"sort"
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
	runLevel   = 0.2  // edge strength (0..1) at which a row counts for the jar
	minWidth   = 0.12 // of a jar, as a share of the picture's longer side
	maxWidth   = 0.75
	coarseKeep = 40 // candidates kept
)

// sideEdges measures at every thumb pixel how strongly the colour changes from
// left to right there, 0..1.
func sideEdges(t *thumb) []float32 {
	e := make([]float32, t.w*t.h)
	for y := range t.h {
		for x := edgeReach; x < t.w-edgeReach; x++ {
			l := t.mean(x-edgeReach, y-2, x, y+3)
			r := t.mean(x, y-2, x+edgeReach, y+3)
			e[y*t.w+x] = min(labDistance(l, r), edgeClip) / edgeClip
		}
	}
	return e
}

// coarse lists the best places for a jar between two columns, best first.
func coarse(t *thumb, edges []float32, from, to float64) []candidate {
	var all []candidate
	for _, slope := range []float64{-0.05, -0.025, 0, 0.025, 0.05} {
		all = append(all, coarseSlope(t, edges, slope, from, to)...)
	}
	sort.Slice(all, func(i, j int) bool { return all[i].side > all[j].side })
	return suppress(all, coarseKeep)
}

func coarseSlope(t *thumb, edges []float32, slope, from, to float64) []candidate {
	cols, at := shear(t, edges, slope)
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
				top: float64(y0), bottom: float64(y1), side: float64(sum) / long,
			})
		}
	}
	sort.Slice(out, func(i, j int) bool { return out[i].side > out[j].side })
	return suppress(out, coarseKeep)
}

// shear straightens the edge picture for one slope of the jar's axis. It gives
// its columns, each the best of three neighbours, and the columns where edges
// gather: those that stand out from their neighbours.
func shear(t *thumb, edges []float32, slope float64) (cols [][]float32, at []int) {
	mid := float64(t.h) / 2
	cols = make([][]float32, t.w)
	store := make([]float32, t.w*t.h)
	for x := range cols {
		cols[x] = store[x*t.h : (x+1)*t.h]
	}
	sums := make([]float32, t.w)
	for y := range t.h {
		row := edges[y*t.w : (y+1)*t.w]
		d := int(math.Round(slope * (float64(y) - mid)))
		for x := range cols {
			sx := x + d
			if sx < 1 || sx >= t.w-1 {
				continue
			}
			cols[x][y] = max(row[sx-1], row[sx], row[sx+1])
			sums[x] += row[sx]
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
func bestRun(a, b []float32) (best float32, y0, y1 int) {
	var sum float32
	start := 0
	for y := range a {
		sum += min(a[y], b[y]) - runLevel
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
