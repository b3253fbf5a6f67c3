package jarfind

import (
	"encoding/binary"
	"math"

	"mudline/imaging/order"
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

// seekArc finds about where the arc between two sides that stands out most is,
// with its middle between rows y0 and y1, by the capped mean of the changes
// across it, 0..1.
func seekArc(rf *relief, l, r sideLine, y0, y1 float64) (found arc) {
	half := (r.at(y1) - l.at(y1)) / 2
	found, top := arc{Y: y0, Bow: 0.12 * half}, 0
	for y := y0; y <= y1; y += arcTogether {
		rows := newArcRows(rf, l, r, y)
		n := min(int(y1-y)+1, arcTogether)
		for b := 0.12; b <= 0.56; b += 0.05 {
			sums := rows.capped(rf, b*half)
			for i, s := range sums[:n] {
				if int(s) > top {
					top, found = int(s), arc{Y: y + float64(i), Bow: b * half}
				}
			}
		}
	}
	found.strength = float64(top) / (255 * arcSamples)
	return found
}

// settleArc looks round an arc for where its weaker half stands out most.
func settleArc(rf *relief, l, r sideLine, found arc) arc {
	half := (r.at(found.Y) - l.at(found.Y)) / 2
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

// arcTogether is how many rows below each other are looked at together: the
// bytes of a word.
const arcTogether = 8

// arcRows holds what the arcs with their middle in one of eight rows have in
// common: the columns of those samples that lie in the picture, the rows at
// which they would be without a bow, and how much of the bow lifts them. The
// latter two in 1/65536.
type arcRows struct {
	n               int
	column, y, lift [arcSamples]int
}

func newArcRows(rf *relief, l, r sideLine, y float64) (a arcRows) {
	mid := y + arcTogether/2
	cl, cr := l.at(mid), r.at(mid)
	half, cx := (cr-cl)/2, (cl+cr)/2
	slope := (l.Slope + r.Slope) / 2 * half
	for i, s := range arcShape {
		if x := int(cx + s[0]*half); x >= 0 && x < rf.w {
			a.column[a.n], a.lift[a.n] = x*rf.tall+margin, arcLifts[i]
			a.y[a.n] = int((y - slope*s[0] + 0.5) * 65536)
			a.n++
		}
	}
	return a
}

// arcLifts are the lifts of arcShape in 1/65536.
var arcLifts = func() (lift [arcSamples]int) {
	for i, s := range arcShape {
		lift[i] = int(math.Round(s[1] * 65536))
	}
	return lift
}()

// capped gives, for each of the eight rows, the sum of the capped changes across
// the arc of a bow.
func (a *arcRows) capped(rf *relief, bow float64) (sums [arcTogether]uint16) {
	const lanes = 0x00ff00ff00ff00ff
	var even, odd uint64
	lifted := int(bow * 16)
	for i, column := range a.column[:a.n] {
		y := (a.y[i] - lifted*a.lift[i]>>4) >> 16
		if y <= -margin || y >= rf.h {
			continue
		}
		v := binary.LittleEndian.Uint64(rf.capped[column+y:])
		even += v & lanes
		odd += v >> 8 & lanes
	}
	for i := range 4 {
		sums[2*i], sums[2*i+1] = uint16(even>>(16*i)), uint16(odd>>(16*i))
	}
	return sums
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
// weakest, 0..1. It shuffles v.
func weakHalf(v []uint8) float64 {
	half := len(v)/2 + 3
	order.Nth(v, half-1)
	sum, first, second := 0, uint8(255), uint8(255)
	for _, x := range v[:half] {
		sum += int(x)
		if x < first {
			first, second = x, first
		} else {
			second = min(second, x)
		}
	}
	return float64(sum-int(first)-int(second)) / float64(255*(half-2))
}
