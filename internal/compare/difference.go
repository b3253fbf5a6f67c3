package compare

import (
	"cmp"
	"math"
	"slices"

	"mudline/internal/reading"
	"mudline/internal/words"
)

// level is the share of chance findings that is put up with: 1 minus 90 %.
const level = 0.10

// gap is the difference of two uncertain values: its 90 % interval, the
// probability that it is above 0, and twice the smaller tail at 0.
type gap struct{ low, high, more, tail float64 }

// pair is the difference of fraction k between entries i and j.
type pair struct {
	Difference
	i, j, k int
	tail    float64
}

func pairOf(in []entry, i, j, k int) *pair {
	a, b := in[i], in[j]
	p := &pair{i: i, j: j, k: k}
	p.A, p.B, p.Fraction, p.From = a.Name, b.Name, fractionNames[k], "intervals"
	g := ofIntervals(a.estimate(k), b.estimate(k))
	if a.soils[k] != nil && b.soils[k] != nil {
		p.From, g = "soils", ofSoils(a.soils[k], b.soils[k])
	}
	p.Low, p.High, p.ProbabilityMore, p.tail = g.low, g.high, g.more, g.tail
	p.Points = min(max(a.percent(k)-b.percent(k), g.low), g.high)
	return p
}

// resolved is the tail that a cloud of some 200 soils still resolves: four of
// them. Smaller tails are taken from the normal law where that gives more.
const resolved = 0.02

// ofSoils compares two clouds, each sorted, over all pairs of their soils.
func ofSoils(a, b []float64) gap {
	pairs := float64(len(a)) * float64(len(b))
	notMore, notLess := pairsUpTo(a, b, 0)/pairs, pairsUpTo(b, a, 0)/pairs
	tied := notMore + notLess - 1
	g := gap{low: quantile(a, b), high: -quantile(b, a), more: 1 - notMore + tied/2}
	half := min(notMore, notLess)
	if half < resolved {
		ma, va := moments(a)
		mb, vb := moments(b)
		half = max(half, min(resolved, above(math.Abs(ma-mb)/math.Sqrt(va+vb))))
	}
	g.tail = min(2*half, 1)
	return g
}

// pairsUpTo counts the pairs with a - b <= x; both lists are sorted.
func pairsUpTo(a, b []float64, x float64) float64 {
	count, j := 0, 0
	for _, v := range a {
		for j < len(b) && b[j] < v-x {
			j++
		}
		count += len(b) - j
	}
	return float64(count)
}

// quantile returns the 5 % quantile of a - b over all pairs, on the same side of
// 0 as the count of pairs says.
func quantile(a, b []float64) float64 {
	want := level/2*float64(len(a)*len(b)) - 1e-6 // a hair, for the product is not exact
	lo, hi := a[0]-b[len(b)-1]-1, a[len(a)-1]-b[0]
	for range 60 {
		if mid := (lo + hi) / 2; pairsUpTo(a, b, mid) >= want {
			hi = mid
		} else {
			lo = mid
		}
	}
	if pairsUpTo(a, b, 0) >= want {
		return min(hi, 0)
	}
	return hi
}

func moments(v []float64) (mean, variance float64) {
	for _, x := range v {
		mean += x / float64(len(v))
	}
	for _, x := range v {
		variance += (x - mean) * (x - mean) / float64(len(v))
	}
	return mean, variance
}

// z90 is the standard normal number that leaves 5 % above it.
const z90 = 1.6448536269514722

// above is the probability that a standard normal number lies above z.
func above(z float64) float64 { return math.Erfc(z/math.Sqrt2) / 2 }

// ofIntervals compares two estimates by their 90 % intervals alone, whose arms
// to the near side are added in squares (Zou & Donner 2008, Statistics in
// Medicine 27:1693-1702, from memory).
func ofIntervals(a, b reading.Estimate) gap {
	d := a.Percent - b.Percent
	down := math.Hypot(a.Percent-a.Low, b.High-b.Percent)
	up := math.Hypot(a.High-a.Percent, b.Percent-b.Low)
	g := gap{low: d - down, high: d + up, more: 0.5, tail: 1}
	arm := down
	if d < 0 {
		arm = up
	}
	if d != 0 {
		less := above(z90 * math.Abs(d) / arm)
		g.tail, g.more = 2*less, 1-less
		if d < 0 {
			g.more = less
		}
	}
	return g
}

// holm marks those of a family that differ: the smallest tail is held to the
// level divided by the number of pairs, the next to one pair fewer, and so on
// up to the first that fails.
func holm(family []*pair) {
	order := slices.Clone(family)
	slices.SortStableFunc(order, func(a, b *pair) int { return cmp.Compare(a.tail, b.tail) })
	for n, d := range order {
		if d.tail >= level/float64(len(order)-n) {
			return
		}
		d.Differs = true
	}
}

// moreOf says of what a jar has more.
var moreOf = map[string]words.Message{
	"sand": words.Say("compare-differs-sand"), "silt": words.Say("compare-differs-silt"), "clay": words.Say("compare-differs-clay"),
}

// Sure are the differences beyond the uncertainty in words, the largest first.
func (c Comparison) Sure() []words.Message {
	var sure []Difference
	for _, d := range c.Differences {
		if d.Differs {
			sure = append(sure, d)
		}
	}
	slices.SortStableFunc(sure, func(a, b Difference) int { return cmp.Compare(math.Abs(b.Points), math.Abs(a.Points)) })
	out := make([]words.Message, len(sure))
	for i, d := range sure {
		more, less, low, high := d.A, d.B, d.Low, d.High
		if d.Points < 0 {
			more, less, low, high = d.B, d.A, -d.High, -d.Low
		}
		out[i] = words.Say("compare-differs", words.Name("more", more), words.Name("less", less), words.Told("what", moreOf[d.Fraction]),
			words.Whole("points", math.Abs(d.Points)), words.Whole("low", max(low, 0)), words.Whole("high", high))
	}
	return out
}
