package jarfind

import (
	"math"
	"slices"
)

// The traits by which an outline is judged, see traitsOf.
const (
	traitFoot      = iota // log of how well the foot's arc shows over its weaker half
	traitFootMean         // log of how well it shows on the mean
	traitFootEnds         // log of how evenly it shows at both ends
	traitWidth            // log of the width as a share of the picture's longer side
	traitSides            // log of how strongly both sides show, up to enough
	traitWeakSide         // log of the same for the weaker side
	traitOffCentre        // how far from the middle the jar stands, beyond a little
	traitNarrow           // how much narrower it is than jars usually are in photos
	traitFlat             // how much flatter its foot is than seen from a little above
	traitBelow            // how much of the sides goes on under the foot
	traitEyeLevel         // how unusual the eye level is that the foot's bow implies
	traitOutside          // how much the colour changes across the sides
	traitCount
)

type traits [traitCount]float64

// traitsOf measures an outline. focal is the focal length in relief pixels.
func traitsOf(rf *relief, t *thumb, o outline, focal float64) (f traits) {
	long := float64(max(rf.w, rf.h))
	y := o.foot.Y
	w := o.right.at(y) - o.left.at(y)
	half := w / 2
	l, r := o.left.strength, o.right.strength
	f[traitFoot] = math.Log(o.foot.strength + 0.02)
	f[traitFootMean] = math.Log(arcMean(rf, o.left, o.right, y, o.foot.Bow) + 0.02)
	f[traitFootEnds] = math.Log(balance(rf, o) + 0.1)
	f[traitWidth] = math.Log(w / long)
	f[traitSides] = math.Log(math.Min(math.Sqrt(l*r), sideEnough) + 0.05)
	f[traitWeakSide] = math.Log(math.Min(math.Min(l, r), 0.4) + 0.05)
	f[traitOffCentre] = math.Max(0, math.Abs((o.left.at(y)+o.right.at(y))/2/float64(rf.w)-0.5)-0.12)
	f[traitNarrow] = math.Max(0, 0.22-w/long)
	f[traitFlat] = math.Max(0, 0.17-o.foot.Bow/half)
	f[traitBelow] = below(rf, o)
	horizon := y - focal*o.foot.Bow/flatter/half
	e := (horizon/float64(rf.h) - 0.45) / 0.12
	f[traitEyeLevel] = math.Min(e*e/4, 2)
	f[traitOutside] = outsideChange(t, o, rf.scale/t.scale)
	return f
}

// outsideChange is how much the colour changes across the less clear of both
// sides over the lowest part of the jar, 0..1. k is thumb pixels per relief
// pixel.
func outsideChange(t *thumb, o outline, k float64) float64 {
	y := o.foot.Y
	half := (o.right.at(y) - o.left.at(y)) / 2
	sum, n := 0.0, 0.0
	for yy := y - o.foot.Bow - 1.4*half; yy < y-o.foot.Bow; yy += 2 / k {
		l, r := o.left.at(yy), o.right.at(yy)
		h, c := (r-l)/2, (l+r)/2
		ty := int(yy * k)
		at := func(u0, u1 float64) [3]float32 {
			return t.mean(int(math.Round((c+u0*h)*k)), ty-1, int(math.Round((c+u1*h)*k)), ty+2)
		}
		left := labDistance(at(-1.16, -1.03), at(-0.97, -0.84))
		right := labDistance(at(1.03, 1.16), at(0.84, 0.97))
		sum += float64(min(left, right, edgeClip))
		n += edgeClip
	}
	return sum / math.Max(n, 1)
}

// arcMean is the mean change across the whole arc, 0..1.
func arcMean(rf *relief, l, r sideLine, y, bow float64) float64 {
	cl, cr := l.at(y), r.at(y)
	half, cx := (cr-cl)/2, (cl+cr)/2
	slope := (l.Slope + r.Slope) / 2
	sum := 0
	for _, s := range arcShape {
		sum += int(rf.atY(int(cx+s[0]*half), int(y-bow*s[1]-slope*s[0]*half+0.5)))
	}
	return float64(sum) / (255 * arcSamples)
}

// below says how much of the sides goes on under the foot, 0..1: a jar's do
// not, those of a layer taken for the foot do.
func below(rf *relief, o outline) float64 {
	w := o.right.at(o.foot.Y) - o.left.at(o.foot.Y)
	y0, y1 := o.foot.Y+0.02*w, o.foot.Y+0.16*w
	a := math.Sqrt(along(rf, o.left, y0, y1) * along(rf, o.right, y0, y1))
	b := math.Sqrt(o.left.strength * o.right.strength)
	return math.Min(1, a/(b+0.02))
}

// along is the mean change across a side between two rows, 0..1.
func along(rf *relief, l sideLine, y0, y1 float64) float64 {
	var sum, n float64
	for y := max(int(y0), 0); y < min(int(y1), rf.h); y++ {
		x := int(math.Round(l.at(float64(y))))
		var m uint8
		for d := -2; d <= 2; d++ {
			if x+d >= 0 && x+d < rf.w {
				m = max(m, rf.x[y*rf.w+x+d])
			}
		}
		sum += float64(m) / 255
		n++
	}
	return sum / math.Max(n, 1)
}

// balance compares how well the foot shows at its two ends, 0..1.
func balance(rf *relief, o outline) float64 {
	y := o.foot.Y
	cl, cr := o.left.at(y), o.right.at(y)
	half, cx := (cr-cl)/2, (cl+cr)/2
	slope := (o.left.Slope + o.right.Slope) / 2
	var end [2][7]uint8
	for i := range 7 {
		for side := range 2 {
			s := arcShape[i]
			if side == 1 {
				s = arcShape[arcSamples-1-i]
			}
			x, yy := int(cx+s[0]*half), int(y-o.foot.Bow*s[1]-slope*s[0]*half+0.5)
			end[side][i] = max(rf.atY(x, yy), rf.atY(x, yy-1), rf.atY(x, yy+1))
		}
	}
	a, b := medianOf(end[0]), medianOf(end[1])
	return float64(min(a, b)+8) / float64(max(a, b)+8)
}

func medianOf(v [7]uint8) int {
	slices.Sort(v[:])
	return int(v[3])
}

// weights turn traits into the log odds of an outline, see traitWeights.
func (f traits) score() (s float64) {
	for i, v := range f {
		s += traitWeights[i] * v
	}
	return s
}

// traitWeights are a conditional logit model (McFadden 1974) of which outline
// is the jar's, fitted to rendered jars as rendered, mirrored, cropped, rolled,
// reduced and lit otherwise.
var traitWeights = traits{
	traitFoot:      2.17,
	traitFootMean:  1.97,
	traitFootEnds:  2.12,
	traitWidth:     0.22,
	traitSides:     3.15,
	traitWeakSide:  3.29,
	traitOffCentre: -1.79,
	traitNarrow:    -23.83,
	traitFlat:      -21.43,
	traitBelow:     -3.25,
	traitEyeLevel:  -0.47,
	traitOutside:   2.48,
}
