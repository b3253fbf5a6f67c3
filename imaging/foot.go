package imaging

import (
	"cmp"
	"math"
)

// arc is the foot of a jar: the middle of its lowest visible circle at row Y,
// hanging Bow below its ends. Relief pixels.
type arc struct {
	Y, Bow   float64
	strength float64
}

const arcSamples = 25

// arcShape holds u and 1-sqrt(1-u^2) at the samples along an arc.
var arcShape = arcPoints(arcSamples, 0.9)

// arcPoints spreads n points evenly by angle over a share of the half circle
// that faces the camera.
func arcPoints(n int, share float64) [][2]float64 {
	out := make([][2]float64, n)
	for i := range out {
		th := (float64(i)/float64(n-1) - 0.5) * math.Pi * share
		out[i] = [2]float64{math.Sin(th), 1 - math.Cos(th)}
	}
	return out
}

// fitArc finds the arc between two sides that stands out most, with its middle
// between rows y0 and y1. It is sought by the capped mean, which is quick, and
// settled by the weaker half.
func fitArc(rf *relief, l, r sideLine, y0, y1 float64) arc {
	half := (r.at(y1) - l.at(y1)) / 2
	found, top := arc{Y: y0, Bow: 0.12 * half}, -1
	for y := y0; y <= y1; y += 2 {
		row := newArcRow(rf, l, r, y)
		for b := 0.12; b <= 0.56; b += 0.05 {
			if s := row.capped(rf, b*half); s > top {
				top, found = s, arc{Y: y, Bow: b * half}
			}
		}
	}
	best := arc{strength: -1}
	for dy := -1.0; dy <= 1; dy++ {
		for db := -0.025; db <= 0.026; db += 0.025 {
			y, bow := found.Y+dy, found.Bow+db*half
			if s := arcStrength(rf, l, r, y, bow); s > best.strength {
				best = arc{Y: y, Bow: bow, strength: s}
			}
		}
	}
	return best
}

// arcCap keeps a strong part of an arc from making up for a missing one.
const arcCap = 110

// arcRow holds what the arcs with their middle at one row have in common: the
// columns of those samples that lie in the picture, the rows at which they would
// be without a bow, and how much of the bow lifts them.
type arcRow struct {
	n       int
	x       [arcSamples]int
	y, lift [arcSamples]float64
}

func newArcRow(rf *relief, l, r sideLine, y float64) (a arcRow) {
	cl, cr := l.at(y), r.at(y)
	half, cx := (cr-cl)/2, (cl+cr)/2
	slope := (l.Slope + r.Slope) / 2 * half
	for _, s := range arcShape {
		if x := int(cx + s[0]*half); x >= 0 && x < rf.w {
			a.x[a.n], a.y[a.n], a.lift[a.n] = x, y-slope*s[0]+0.5, s[1]
			a.n++
		}
	}
	return a
}

// capped is the sum of the capped changes across the arc of a bow.
func (a *arcRow) capped(rf *relief, bow float64) int {
	sum := 0
	for i, x := range a.x[:a.n] {
		if y := int(a.y[i] - bow*a.lift[i]); uint(y) < uint(rf.h) {
			sum += int(min(rf.y[y*rf.w+x], arcCap))
		}
	}
	return sum
}

// arcStrength is the mean change across the arc over its weaker half, 0..1, so
// that a line which fits only part of the width counts little.
func arcStrength(rf *relief, l, r sideLine, y, bow float64) float64 {
	var v [arcSamples]uint8
	cl, cr := l.at(y), r.at(y)
	half, cx := (cr-cl)/2, (cl+cr)/2
	slope := (l.Slope + r.Slope) / 2
	for i, s := range arcShape {
		v[i] = rf.atY(int(cx+s[0]*half), int(y-bow*s[1]-slope*s[0]*half+0.5))
	}
	return weakHalf(v[:])
}

// weakHalf is the mean of the weaker half of some changes without the two
// weakest, 0..1. It sorts v.
func weakHalf(v []uint8) float64 {
	sortFew(v)
	sum, n := 0, 0
	for _, x := range v[2 : len(v)/2+3] {
		sum += int(x)
		n++
	}
	return float64(sum) / float64(255*n)
}

// sortFew sorts a few values by insertion, which for them is quickest.
func sortFew[T cmp.Ordered](v []T) {
	for i := 1; i < len(v); i++ {
		x, j := v[i], i
		for ; j > 0 && v[j-1] > x; j-- {
			v[j] = v[j-1]
		}
		v[j] = x
	}
}
