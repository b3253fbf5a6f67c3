package jarfind

import (
	"math"

	"mudline/imaging/order"
)

// outline is a jar's silhouette: both sides and the foot, in relief pixels.
type outline struct {
	left, right sideLine
	foot        arc
	sides       float64 // sidesScore
	score       float64 // log odds against the other outlines of the picture
	odds        float64 // log odds that a jar stands there, by package jarnet
	seen        *regard // the place looked at that it goes with best
}

const (
	outlineFrom = 14   // coarse candidates looked at closely
	settledKept = 160  // outlines whose foot is looked at closely
	quickKept   = 32   // outlines whose traits are measured
	sideEnough  = 0.45 // a side stronger than this counts no more: tape and shadows are stronger than glass
)

// outlines traces the sides and the foot of coarse candidates and pairs every
// left side with every right side, best first. focal is the focal length in
// relief pixels.
func outlines(rf *relief, t *thumb, cands []candidate, focal float64) []outline {
	lefts, rights := traceSides(rf, t.scale/rf.scale, cands)
	long := float64(max(rf.w, rf.h))
	var out []outline
	for _, l := range lefts {
		for _, r := range rights {
			if math.Abs(l.Slope-r.Slope) > 0.07 {
				continue
			}
			for _, y := range commonHeads(l, r) {
				w := r.at(y) - l.at(y)
				if w < minWidth*long || w > maxWidth*long {
					continue
				}
				o := outline{left: l.sideLine, right: r.sideLine, foot: seekArc(rf, l.sideLine, r.sideLine, y-0.06*w, y+0.06*w)}
				o.sides = sidesScore(l.sideLine, r.sideLine, y, w, rf)
				o.score = o.atFirstSight()
				out = append(out, o)
			}
		}
	}
	out = order.Best(out, settledKept, scoreOf)
	for i := range out {
		o := &out[i]
		o.foot = settleArc(rf, o.left, o.right, o.foot)
		o.score = o.atFirstSight()
	}
	out = order.Best(out, quickKept, scoreOf)
	for i := range out {
		out[i].score = traitsOf(rf, t, out[i], focal).score()
	}
	return order.Best(out, quickKept, scoreOf)
}

func scoreOf(o *outline) float64 { return o.score }

// atFirstSight scores an outline by what is quickly measured.
func (o *outline) atFirstSight() float64 {
	w := o.right.at(o.foot.Y) - o.left.at(o.foot.Y)
	return o.sides + math.Log(o.foot.strength+0.02) - 3*math.Max(0, 0.17-2*o.foot.Bow/w)
}

// tracedSide is a side with the rows at which its jar's foot may stand.
type tracedSide struct {
	sideLine
	heads []float64
}

// traceSides traces the sides of coarse candidates. k is relief pixels per
// thumb pixel.
func traceSides(rf *relief, k float64, cands []candidate) (lefts, rights []tracedSide) {
	for _, c := range cands[:min(len(cands), outlineFrom)] {
		half, mid := (c.xr-c.xl)/2*k, (c.top+c.bottom)/2*k
		y1 := (c.head - c.bow) * k
		y0 := y1 - 1.6*half
		heads := []float64{c.head * k}
		if c.otherHead > 0 {
			heads = append(heads, c.otherHead*k)
		}
		for _, l := range fitSides(rf, sideLine{X: c.xl * k, Y: mid, Slope: c.slope}, y0, y1, 0.15*half) {
			lefts = addSide(lefts, l, heads)
		}
		for _, r := range fitSides(rf, sideLine{X: c.xr * k, Y: mid, Slope: c.slope}, y0, y1, 0.15*half) {
			rights = addSide(rights, r, heads)
		}
	}
	return lefts, rights
}

// addSide adds a side, or its heads to one that is almost the same.
func addSide(in []tracedSide, l sideLine, heads []float64) []tracedSide {
	for i, o := range in {
		if math.Abs(o.at(l.Y)-l.X) < 2.5 && math.Abs(o.Slope-l.Slope) < 0.012 {
			in[i].heads = addHeads(o.heads, heads)
			return in
		}
	}
	return append(in, tracedSide{l, addHeads(nil, heads)})
}

func addHeads(in, heads []float64) []float64 {
	for _, y := range heads {
		near := false
		for _, o := range in {
			near = near || math.Abs(o-y) < 8
		}
		if !near {
			in = append(in, y)
		}
	}
	return in
}

// commonHeads are the feet that both sides were seen with.
func commonHeads(l, r tracedSide) []float64 {
	var out []float64
	for _, a := range l.heads {
		for _, b := range r.heads {
			if math.Abs(a-b) < 8 {
				out = append(out, (a+b)/2)
				break
			}
		}
	}
	return out
}

// sidesScore is what is known of an outline at first sight, before its foot is
// looked at: the strength of its sides and how usual its place and size are.
// What fits a part of a foot fits the whole less well, hence the width.
func sidesScore(l, r sideLine, y, w float64, rf *relief) float64 {
	long := float64(max(rf.w, rf.h))
	side := math.Min(math.Sqrt(l.strength*r.strength), sideEnough)
	return 1.5*math.Log(w/long) + 0.6*math.Log(side+0.05) + prior(w/2, (l.at(y)+r.at(y))/2/float64(rf.w), long)
}

// prior is what a photo of a jar usually looks like, before looking at this
// one: the jar stands near the middle and fills a fair part of the picture.
func prior(half, centre, long float64) float64 {
	return -2*math.Max(0, math.Abs(centre-0.5)-0.12) - 4*math.Max(0, 0.22-2*half/long)
}
