package jarfind

import (
	"math"

	"mudline/imaging/order"
)

// footRow holds what the feet with their middle at one row have in common:
// where their samples would be in the thumb without a bow.
type footRow struct {
	x [footSamples]int
	y [footSamples]float64
}

func newFootRow(t *thumb, c candidate, y float64) (f footRow) {
	half := (c.xr - c.xl) / 2
	cx := (c.xl+c.xr)/2 + c.slope*(y-(c.top+c.bottom)/2)
	for i, s := range footShape {
		f.x[i] = min(max(int(cx+s[0]*half), 0), t.w-1)
		f.y[i] = y - c.slope*s[0]*half + 0.5
	}
	return f
}

// strength measures how well the foot of a jar shows as an arc of a bow: the
// lower quartile of the colour change across the arc, 0..1, so that a line which
// fits only half the width counts little. It is 0 where it is not above least.
func (f *footRow) strength(t *thumb, edges []float32, bow float64, least float32) float32 {
	var v [footSamples]float32
	var sum float32
	for i, s := range footShape {
		y := min(max(int(f.y[i]-bow*s[1]), 0), t.h-1)
		v[i] = edges[y*t.w+f.x[i]]
		sum += v[i]
	}
	if sum < 13*least { // of fifteen all but two are at least the quartile
		return 0
	}
	order.SortFew(v[:])
	return (v[2] + v[3] + v[4] + v[5] + v[7]) / 5
}

const footSamples = 15

// footBows are the bows tried, as shares of the half width.
var footBows = [...]float64{0.06, 0.12, 0.18, 0.24, 0.30, 0.36, 0.42, 0.5}

// footShape holds u and 1-sqrt(1-u^2) at the samples along a foot.
var footShape = arcPoints(footSamples, 0.86)

// bodyEvidence is the mean strength of the weaker edge over the lowest part of
// the jar (0.8 of its width above the foot), and how much the colour differs
// between left and right inside there.
func bodyEvidence(t *thumb, edges []float32, c candidate, foot float64) (side, uneven float64) {
	half := (c.xr - c.xl) / 2
	mid := (c.top + c.bottom) / 2
	n := 0.0
	for y := int(foot - c.bow - 1.6*half); y < int(foot-c.bow); y++ {
		if y < 0 || y >= t.h {
			continue
		}
		dx := c.slope * (float64(y) - mid)
		l, r := peakEdge(t, edges, c.xl+dx, y), peakEdge(t, edges, c.xr+dx, y)
		side += math.Sqrt(float64(l * r))
		cx := (c.xl+c.xr)/2 + dx
		q := func(u0, u1 float64) [3]float32 {
			return t.mean(int(cx+u0*half), y-1, int(cx+u1*half), y+2)
		}
		a, b, m := q(-0.75, -0.3), q(0.3, 0.75), q(-0.25, 0.25)
		d := min(labDistance(a, b), labDistance(a, m), labDistance(b, m))
		uneven += float64(min(d, edgeClip)) / edgeClip
		n++
	}
	if n == 0 {
		return 0, 1
	}
	return side / n, uneven / n
}

func peakEdge(t *thumb, edges []float32, x float64, y int) (m float32) {
	for d := -1; d <= 1; d++ {
		if xi := int(math.Round(x)) + d; xi >= 0 && xi < t.w {
			m = max(m, edges[y*t.w+xi])
		}
	}
	return m
}

// rank judges coarse candidates by their foot and body, best first. A layer's
// edge may look more like a foot than the foot does, so each candidate keeps
// its two best.
func rank(t *thumb, edges []float32, in []candidate) []candidate {
	out := make([]candidate, 0, len(in))
	feet := footEdges(t)
	for _, c := range in {
		half := (c.xr - c.xl) / 2
		first, second := -1.0, -1.0
		for y := c.bottom - 0.4*half; y <= c.bottom+0.6*half && y < float64(t.h)-2; y += 2 {
			row := newFootRow(t, c, y)
			strength, bow := float32(-1), 0.0
			for _, b := range footBows {
				if f := row.strength(t, feet, b*half, strength); f > strength {
					strength, bow = f, b*half
				}
			}
			at := float64(strength)
			switch apart := math.Abs(y-c.head) > 0.15*half; {
			case at > first:
				if apart && first > 0 {
					second, c.otherHead = first, c.head
				}
				first, c.foot, c.bow, c.head = at, at, bow, y
			case apart && at > second:
				second, c.otherHead = at, y
			}
		}
		if first < 0 {
			continue
		}
		var uneven float64
		c.side, uneven = bodyEvidence(t, edges, c, c.head)
		c.score = c.side + c.foot - 0.3*uneven - 3*math.Max(0, 0.17-c.bow/half) +
			prior(half, (c.xl+c.xr)/2/float64(t.w), float64(max(t.w, t.h)))
		out = append(out, c)
	}
	return order.Best(out, len(out), func(c *candidate) float64 { return c.score })
}
