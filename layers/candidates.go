package layers

import (
	"math"
	"sort"
)

// line is a candidate boundary: a change of colour at one height across the
// front of the jar. Lengths are mm.
type line struct {
	step
	z, sd float64 // height at the front of the jar and its standard error
	// curve is how far the ends of the line hang below its middle, were it
	// drawn to the edges of the glass. Zero for a line on the front of the
	// glass; the far edge of a surface seen from above curves a lot.
	curve float64
	// rough is how badly the line's parts fit a smooth curve.
	rough float64
	// weight is how much the line counts, see weigh.
	weight float64
}

// Sizes in shares of the water depth: windows to compare, half the distance
// within which only the strongest line counts, the height of the lowest line
// (below it the dark foot of the jar is in the window).
const (
	fineWindow  = 0.008
	wideWindow  = 0.020
	peakReach   = 0.006
	lowestLine  = 0.010
	highestLine = 0.90
	lowestArc   = 0.05
	leastBend   = 0.035 // a curve flatter than this may be an error of the frame
)

// lines finds the candidate lines of one photo, highest first, and the level
// of noise: the median size of a step anywhere in the strip.
func (k *columns) lines(s *Strip, buf *scratch) ([]line, float64) {
	flat := k.response(nil, buf)
	noise := medianSize(flat)
	found := k.peaks(flat, nil, true, 0.5, buf)
	_, known := s.bowAt(0)
	for _, curve := range s.arcShapes() {
		for _, l := range k.peaks(k.response(curve, buf), curve, known, 2.0, buf) {
			if l.z > lowestArc*k.waterMM && k.better(l, flat) {
				found = append(found, l)
			}
		}
	}
	sort.Slice(found, func(i, j int) bool { return found[i].size > found[j].size })
	var out []line
	for _, l := range found {
		if !near(out, l, k.waterMM) {
			out = append(out, l)
		}
	}
	sortLines(out)
	return out, noise
}

func sortLines(l []line) {
	sort.Slice(l, func(i, j int) bool { return l[i].z > l[j].z })
}

// better says whether a curved line is clearer than the level ones it crosses.
func (k *columns) better(l line, flat []step) bool {
	lo, hi := k.row(l.z), k.row(l.z-l.curve*0.12)
	for r := max(lo-2, 0); r <= min(hi, k.h); r++ {
		if flat[r].size > 0.95*l.size {
			return false
		}
	}
	return true
}

// near says whether a line is already known: the same middle, or for curved
// ones any crossing.
func near(known []line, l line, waterMM float64) bool {
	for _, o := range known {
		reach := peakReach * waterMM
		if max(o.curve, l.curve) > 0.03*waterMM && min(o.z, l.z) > lowestArc*waterMM {
			reach = 0.02 * waterMM
		}
		if math.Abs(o.z-l.z) < reach {
			return true
		}
	}
	return false
}

// response is the fine step at every row edge, for lines of one shape.
func (k *columns) response(curve shape, buf *scratch) []step {
	out := make([]step, k.h+1)
	win, gap := k.rows(fineWindow*k.waterMM), max(k.rows(0.0012*k.waterMM), 1)
	lo, hi := k.row(highestLine*k.waterMM), k.row(lowestLine*k.waterMM)
	var shift []int
	if curve != nil {
		shift = make([]int, k.n)
		hi = min(hi, k.row(lowestArc*k.waterMM))
	}
	for r := max(lo, 0); r <= min(hi, k.h); r++ {
		if curve != nil {
			bend := curve(k.height(float64(r)))
			if bend < leastBend*k.waterMM {
				continue
			}
			for c, u := range k.u {
				shift[c] = int(math.Round(bend * lift(u) / k.mmPerRow))
			}
		}
		out[r] = k.stepAt(r, win, gap, shift, buf)
	}
	return out
}

// lift is how far a circle round the jar rises from its front at u, as a share
// of its rise at the edge of the glass.
func lift(u float64) float64 { return 1 - math.Sqrt(1-min(u*u, 1)) }

func medianSize(s []step) float64 {
	var v []float64
	for _, x := range s {
		if x.size > 0 {
			v = append(v, x.size)
		}
	}
	return median(v)
}

// peaks are the local maxima of a response.
func (k *columns) peaks(resp []step, curve shape, bowKnown bool, least float64, buf *scratch) []line {
	reach := k.rows(peakReach * k.waterMM)
	var out []line
	for r := range resp {
		s := resp[r]
		if s.size < least || s.share < 0.55 {
			continue
		}
		top := true
		for q := max(r-reach, 0); q <= min(r+reach, len(resp)-1) && top; q++ {
			top = resp[q].size < s.size || (resp[q].size == s.size && q >= r)
		}
		if !top {
			continue
		}
		l := line{step: s, z: k.height(k.vertex(resp, r))}
		if curve != nil {
			l.curve = curve(l.z)
		}
		l.sd = k.mmPerRow
		if !k.trulyCurved(l, r, bowKnown, buf) {
			k.refine(&l)
		}
		out = append(out, l)
	}
	return out
}

// vertex places a maximum between rows by the parabola through its neighbours.
func (k *columns) vertex(resp []step, r int) float64 {
	if r < 1 || r+1 >= len(resp) {
		return float64(r)
	}
	a, b, c := resp[r-1].size, resp[r].size, resp[r+1].size
	d := a - 2*b + c
	if d >= 0 {
		return float64(r)
	}
	return float64(r) + max(-0.5, min(0.5, (a-c)/(2*d)))
}
