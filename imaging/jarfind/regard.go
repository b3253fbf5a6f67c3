package jarfind

import (
	"math"

	"mudline/imaging"
	"mudline/imaging/jarnet"
	"mudline/imaging/order"
)

// regard is a place that package jarnet has looked at, with what it says of it.
type regard struct {
	place   Stance // where it looked last
	moved   Stance // with the sides and the floor where it says they are
	verdict *jarnet.Verdict
}

const (
	regardsMost = 6    // places of a picture that are looked at
	looksMost   = 3    // looks at a place, each from where the last one moved it
	sameSides   = 0.4  // half widths: places closer to each other are looked at once
	hopeless    = -4.0 // log odds below which a place is not looked at again
	settledBy   = 0.08 // half widths: a place that moves by less is settled
	sure        = 3.0  // log odds from which no more than sureMost places are looked at
	sureMost    = 3
)

// regards looks at the most different of some outlines, likeliest first. Places
// are in working pixels.
func regards(net *jarnet.Net, t *thumb, outs []outline, scale float64) []regard {
	var out []regard
	var seen []Stance
	most := regardsMost
	for _, o := range outs {
		if len(out) >= most {
			break
		}
		p := stanceOf(o, scale)
		if nearAny(p, seen) {
			continue
		}
		g := look(net, t, p)
		seen = append(seen, p, g.moved)
		out = append(out, g)
		if g.verdict.LogOdds > sure {
			most = sureMost
		}
	}
	return out
}

// look judges a place, moves it and judges it again.
func look(net *jarnet.Net, t *thumb, p Stance) (g regard) {
	for range looksMost {
		g.place, g.moved, g.verdict = p, p, net.Judge(t.patchOf(p))
		if g.verdict.LogOdds < hopeless {
			break
		}
		l, r, f := g.verdict.Offsets()
		if r-l < -1.2 {
			break // hardly anything would be left
		}
		g.moved = p.Moved(l, r, f)
		if math.Abs(l)+math.Abs(r)+math.Abs(f) < settledBy {
			break
		}
		p = g.moved
	}
	return g
}

func nearAny(p Stance, others []Stance) bool {
	for _, o := range others {
		if l, r, f := o.Off(p); math.Abs(l) < sameSides && math.Abs(r) < sameSides && math.Abs(f) < 2*sameSides {
			return true
		}
	}
	return false
}

// The logarithms of probability below which a side or a floor far from where the
// network sees it loses no more, and how far below the inner floor the foot of an
// outline may be, in half widths: there is glass between.
const (
	leastSide  = -9
	leastFloor = -6
	footRoom   = 0.12
)

// fit says how well a place agrees with a regard: the logarithm of how likely the
// jar stands there at all, and of how likely its sides and floor are those.
func (g *regard) fit(p Stance) float64 {
	l, r, f := g.place.Off(p)
	v := g.verdict
	floor := math.Inf(-1)
	for d := 0.0; d <= footRoom; d += footRoom / 3 {
		floor = math.Max(floor, jarnet.LogP(v.Floor[:], jarnet.RowBin(-f+d), leastFloor))
	}
	return oddsShare*v.LogOdds - math.Log1p(math.Exp(-v.LogOdds)) +
		jarnet.LogP(v.Left[:], jarnet.SideBin(l-1), leastSide) +
		jarnet.LogP(v.Right[:], jarnet.SideBin(r+1), leastSide) + floor
}

// tracedReach is how far from where the network sees a side it is traced, in half
// widths.
const tracedReach = 0.07

// traced finds outlines close to a regard, where the sides show as lines.
func (g *regard) traced(rf *relief) []outline {
	p := g.moved
	k := 1 / rf.scale
	half, foot := p.Half*k, p.Foot.Y*k
	mid := foot - refUp*half
	at := func(u float64) sideLine {
		q := p.At(u, refUp) // the side passes through q along the axis
		return sideLine{X: q.X*k + (mid-q.Y*k)*p.Lean, Y: mid, Slope: p.Lean}
	}
	side := func(u float64) []sideLine {
		found := fitSides(rf, at(u), foot-2.2*half, foot-0.15*half, math.Max(3, tracedReach*half))
		return append(found[:min(len(found), 3)], at(u))
	}
	var out []outline
	rights := side(1)
	for _, l := range side(-1) {
		for _, r := range rights {
			o := outline{left: l, right: r, foot: seekArc(rf, l, r, foot-0.05*half, foot+0.2*half)}
			o.foot = settleArc(rf, l, r, o.foot)
			out = append(out, o)
		}
	}
	return out
}

// weighed adds to the outlines those traced at the regards, and gives each its
// log odds by its traits and by the regard that it goes with best; best first.
func weighed(gs []regard, rf *relief, t *thumb, outs []outline, focal float64) []outline {
	for i := range gs {
		if gs[i].verdict.LogOdds < 0 {
			continue
		}
		for _, o := range gs[i].traced(rf) {
			o.score = traitsOf(rf, t, o, focal).score()
			outs = append(outs, o)
		}
	}
	for i := range outs {
		o := &outs[i]
		p := stanceOf(*o, rf.scale)
		fit := math.Inf(-1)
		for k := range gs {
			if f := gs[k].fit(p); f > fit {
				fit, o.odds, o.seen = f, calmed(gs[k].verdict.LogOdds), &gs[k]
			}
		}
		o.score = traitShare*math.Max(o.score, leastTraits) + fit
	}
	return order.Best(outs, len(outs), scoreOf)
}

// What traits and the odds of a jar count for in the log odds of an outline, and
// the score by traits below which nothing more is lost.
const (
	traitShare  = 0.5
	oddsShare   = 0.3
	leastTraits = -20
)

// leastWater is the logarithm of how much less likely than the likeliest row a row
// can be the water's surface.
const leastWater = -5

// waterLike says how likely the water's surface is seen at a place on the front,
// beside the likeliest row, 0..1.
func (g *regard) waterLike(at imaging.Point) float64 {
	if g == nil {
		return 1
	}
	w := g.verdict.Water[:]
	top := math.Inf(-1)
	for _, p := range w {
		top = math.Max(top, p)
	}
	_, v := g.place.placeOf(at)
	return math.Exp(math.Max(jarnet.LogP(w, jarnet.RowBin(v), top+leastWater)-top, leastWater))
}

// calmed brings the network's log odds to what jars and pictures that it was not
// fitted to bear out: of eight rendered jars' 24 photos the least sure one had 4.9,
// the next 8.5; of 199 ordinary pictures the surest had 1.2, the next -0.1.
func calmed(odds float64) float64 { return 0.8 * (odds - evenOdds) }

const evenOdds = 2.5
