package imaging

import (
	"math"
	"sort"
)

// footArc measures how well the foot of a jar shows as an arc between the two
// edges with its middle at row y: the lower quartile of the colour change
// across the arc, 0..1, so that a line which fits only half the width counts
// little.
func footArc(t *thumb, c candidate, y, bow float64) float64 {
	var v [footSamples]float64
	half := (c.xr - c.xl) / 2
	mid := (c.top + c.bottom) / 2
	cx := (c.xl+c.xr)/2 + c.slope*(y-mid)
	for i, s := range footShape {
		px := int(cx + s[0]*half)
		py := int(math.Round(y - bow*s[1] - c.slope*s[0]*half))
		a := t.mean(px-1, py-2, px+2, py)
		b := t.mean(px-1, py, px+2, py+2)
		v[i] = float64(min(labDistance(a, b), edgeClip)) / edgeClip
	}
	sortFew(v[:])
	return (v[2] + v[3] + v[4] + v[5] + v[7]) / 5
}

const footSamples = 15

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
	for _, c := range in {
		half := (c.xr - c.xl) / 2
		first, second := -1.0, -1.0
		for y := c.bottom - 0.4*half; y <= c.bottom+0.6*half && y < float64(t.h)-2; y += 2 {
			at, bow := -1.0, 0.0
			for _, b := range []float64{0.06, 0.12, 0.18, 0.24, 0.30, 0.36, 0.42, 0.5} {
				if f := footArc(t, c, y, b*half); f > at {
					at, bow = f, b*half
				}
			}
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
	sort.Slice(out, func(i, j int) bool { return out[i].score > out[j].score })
	return out
}
