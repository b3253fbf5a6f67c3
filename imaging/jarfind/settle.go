package jarfind

import (
	"math"
	"sort"

	"mudline/imaging"
)

// Placement is where the jar stands in one photo.
type Placement struct {
	Frame imaging.Frame
	// FloorSD and WaterSD are the standard deviations of the rows of the floor
	// and of the water surface, in shares of the water depth.
	FloorSD, WaterSD float64
	// WaterSeen is false when the water surface of this photo was placed by
	// the other photos of the same jar.
	WaterSeen bool
	// Odds is the logarithm of the odds that a jar stands here at all, upright
	// and whole, by package jarnet.
	Odds float64
	// WaterLike is how likely package jarnet holds the water's row for, beside the
	// row it holds likeliest, 0..1. Where photos of one jar were made to agree on
	// wrong sides, the water is where it does not look like water.
	WaterLike float64
	// Boxed says that a person drew a box round the jar.
	Boxed bool
	// Ratio is the height of the visible water line over the inner floor in
	// units of the outer radius of the glass. It is the same for one jar in
	// every photo.
	Ratio float64
}

const (
	ratioSpread    = 0.006 // of the water line's ratio between photos of one jar
	ratioTail      = 0.02  // and where a side of the glass was traced wrongly,
	tailShare      = 0.15  // which happens this often
	farthest       = 0.025 // a line further from the common ratio is another line
	usualRatio     = 2.8   // water height over outer radius: between a squat and a tall jar
	usualRatioLog  = 0.40  // and its spread, in natural logarithms
	noWaterMark    = 0.025 // weight of a photo in which the line does not show
	meniscusGap    = 0.012 // lines this close above another belong to the same meniscus
	meniscusShare  = 0.35  // and are at least this strong beside it
	strongEnough   = 0.4   // a line stronger than this counts no more
	filledMid      = 0.72  // waterMark.filled from which a line looks like a filled jar's top
	filledWidth    = 0.03
	unfilledWeight = 0.10 // of a line that does not
	laterFilled    = 0.06 // how much filled counts after the first photo: clear water looks like air
	likeShare      = 0.35 // what package jarnet counts for beside the rest
	lowerGain      = 0.4  // log weight a photo that a lower common line may lack
)

// Settle holds the sightings of one jar against each other and decides where
// it stands in each: the water line, and the lid or shoulder above it, are at
// the same heights in units of the jar's radius in all of them. Sightings are
// in order of time. A nil entry in the result means that no jar was found in
// that photo.
func Settle(sightings []*Sighting) []*Placement {
	spots := chooseSpots(sightings)
	ratio := commonRatio(spots)
	var seen []float64
	for i, v := range spots {
		if v == nil {
			continue
		}
		if m := v.topMark(ratio, i == 0); m != nil {
			seen = append(seen, m.Ratio)
		}
	}
	if len(seen) > 0 {
		sort.Float64s(seen)
		ratio = seen[len(seen)/2]
	}
	out := make([]*Placement, len(sightings))
	for i, v := range spots {
		if v == nil {
			continue
		}
		p := v.place(ratio, i == 0, len(spots) == 1)
		p.Boxed = sightings[i].boxed
		if p.Boxed || p.Odds >= LikelyJar || p.Odds >= BorneOutJar && sureOthers(spots, i) {
			out[i] = p
		}
	}
	return out
}

// Log odds that a jar stands where it was seen: from LikelyJar on a place is read,
// from SureJar on it is sure. A photo whose jar is hidden in part is read from
// BorneOutJar on where most of the other photos are sure.
const (
	LikelyJar   = 0.0
	SureJar     = 2.2
	BorneOutJar = -3.0
)

// sureOthers says whether most of the other photos surely show a jar.
func sureOthers(spots []*spot, i int) bool {
	sure := 0
	for k, v := range spots {
		if k != i && v != nil && v.odds >= SureJar {
			sure++
		}
	}
	return 2*sure > len(spots)-1
}

// commonRatio finds the height of the water line that all photos agree on
// best. The shoulder and the lid are common to all photos too, and may stand
// out more; but they lie above the water, so a common line somewhat lower is
// preferred when it is almost as good.
func commonRatio(spots []*spot) float64 {
	type scored struct{ ratio, score float64 }
	var all []scored
	best := scored{ratio: usualRatio, score: math.Inf(-1)}
	for _, v := range spots {
		if v == nil {
			continue
		}
		for _, m := range v.marks {
			z := math.Log(m.Ratio/usualRatio) / usualRatioLog
			c := scored{m.Ratio, -z * z / 2}
			for i, o := range spots {
				if o != nil {
					c.score += math.Log(o.waterWeight(m.Ratio, i == 0))
				}
			}
			all = append(all, c)
			if c.score > best.score {
				best = c
			}
		}
	}
	limit := best.score - lowerGain*float64(len(spots))
	for again := true; again; {
		again = false
		low := scored{score: limit}
		for _, c := range all {
			if c.ratio < 0.9*best.ratio && c.ratio > 0.68*best.ratio && c.score > low.score {
				low, again = c, true
			}
		}
		if again {
			best = low
		}
	}
	return best.ratio
}

// waterWeight says how well a spot goes with a water line at a ratio, 0..1.
func (v *spot) waterWeight(ratio float64, first bool) float64 {
	w := noWaterMark
	for _, m := range v.marks {
		w = math.Max(w, m.weight(first)*agreement(m.Ratio, ratio))
	}
	return w
}

// weight says how much a mark looks like a water surface, by itself.
func (m waterMark) weight(first bool) float64 {
	f := 1 / (1 + math.Exp(-(m.filled-filledMid)/filledWidth))
	if !first {
		f *= laterFilled
	}
	return math.Sqrt(math.Min(m.strength/strongEnough, 1)) * (unfilledWeight + f) * math.Pow(m.like, likeShare)
}

// topMark is the water line of this photo: the line nearest to the common
// ratio, or one just above it. Water climbs the glass, and the thin meniscus
// has a lower and an upper edge.
func (v *spot) topMark(ratio float64, first bool) *waterMark {
	var m *waterMark
	bestW := 0.0
	for i := range v.marks {
		c := &v.marks[i]
		if w := c.weight(first) * agreement(c.Ratio, ratio); math.Abs(c.Ratio/ratio-1) < farthest && w > bestW {
			m, bestW = c, w
		}
	}
	if m == nil {
		return nil
	}
	top := m
	for i := range v.marks {
		c := &v.marks[i]
		if c.Ratio > top.Ratio && c.Ratio < m.Ratio*(1+meniscusGap) && c.strength >= meniscusShare*m.strength {
			top = c
		}
	}
	return top
}

// waterGuessSD is the standard deviation of the water's row, as a share of the
// depth, where a photo stands alone and its water is clear: the shoulder or lid
// may have been taken for the surface.
const waterGuessSD = 0.06

// place turns a spot into a frame whose height 1 is the visible water line.
func (v *spot) place(ratio float64, first, alone bool) *Placement {
	p := &Placement{FloorSD: 0.004, WaterSD: 0.012, Odds: v.odds, Ratio: ratio}
	y := v.rowOf(ratio)
	if m := v.topMark(ratio, first); m != nil {
		y, p.WaterSeen, p.WaterSD = m.Y, true, 0.004
		if alone && m.filled < filledMid {
			p.WaterSD = waterGuessSD
		}
	}
	p.WaterLike = v.seen.waterLike(imaging.Point{X: v.centre(y), Y: y})
	f := v.floor
	if math.IsInf(f.sd, 0) || f.sd == 0 {
		p.FloorSD = 0.02
	} else {
		p.FloorSD = math.Hypot(0.003, f.sd/(f.Y-y))
	}
	p.Frame = imaging.Frame{
		Floor: imaging.Point{X: v.centre(f.Y), Y: f.Y}, Water: imaging.Point{X: v.centre(y), Y: y},
		HalfWidthFloor: v.half(f.Y), HalfWidthWater: v.half(y),
		BowFloor: v.bow(f.Y) / flatter, BowWater: v.bow(y) / flatter,
	}
	return p
}

// agreement weighs how well two ratios of one jar agree, 0..1.
func agreement(a, b float64) float64 {
	d := a/b - 1
	z, t := d/ratioSpread, d/ratioTail
	return (1-tailShare)*math.Exp(-z*z/2) + tailShare*math.Exp(-t*t/2)
}
