package jarfind

import (
	"image"
	"math"
	"sort"

	"mudline/imaging/colour"
	"mudline/imaging/order"
	"mudline/imaging/pixels"
)

// stand is a jar's outline with its floor and the camera's eye level: enough
// to say where any height on its front is seen. Working pixels.
type stand struct {
	left, right sideLine
	floor       floorLine
	focal       float64 // focal length, working pixels
	horizon     float64 // row of the camera's eye level
	middle      float64 // row of the middle of the picture
	score       float64
	odds        float64 // log odds that a jar stands here, by package jarnet
	seen        *regard
}

// defaultFocal35MM stands in where a photo does not tell its focal length: the
// main camera of a phone, held a little zoomed in (common practice).
const defaultFocal35MM = 32

func (s stand) half(y float64) float64   { return (s.right.at(y) - s.left.at(y)) / 2 }
func (s stand) centre(y float64) float64 { return (s.right.at(y) + s.left.at(y)) / 2 }

// bow is how far the middle of a circle on the front hangs below its ends when
// the middle is seen at row y.
func (s stand) bow(y float64) float64 {
	return flatter * (y - s.horizon) * s.half(y) / s.focal
}

// flatter is how much less a circle on the inner wall seems to bow than one on
// the outside of the glass would: the thick curved wall widens what is behind
// it. Measured on rendered jars.
const flatter = 0.86

// ratio is the height on the front seen at row y in units of the outer radius
// of the glass: the same in every photo of one jar.
//
// With the camera at a depression p, the floor's front seen at a depression a
// below the horizontal, the axis at distance d and k = radius/d, a height z on
// the front is seen s pixels above the floor where the silhouette is half
// pixels wide, and z/radius = s/half F sqrt(1-k^2)/(1+k), F = cos p + tan a
// sin p: the front is nearer than the silhouette, and a tilted camera sees the
// foot further away. It follows from the pinhole camera.
func (s stand) ratio(y float64) float64 {
	return (s.floor.Y - y) / s.half(y) * s.nearness()
}

func (s stand) nearness() float64 {
	p := math.Atan((s.middle - s.horizon) / s.focal)
	a := p + math.Atan((s.floor.Y-s.middle)/s.focal)
	f := math.Cos(p) + math.Tan(a)*math.Sin(p)
	t := f * s.half(s.floor.Y) / s.focal // k/sqrt(1-k^2)
	k := t / math.Sqrt(1+t*t)
	return f * math.Sqrt(1-k*k) / (1 + k)
}

// rowOf is the inverse of ratio.
func (s stand) rowOf(ratio float64) float64 {
	q := ratio / s.nearness()
	f := s.floor.Y
	c := s.half(f-1) - s.half(f) // half(y) = half(floor) + c (floor - y)
	return f - q*s.half(f)/(1-q*c)
}

// waterMark is a line across the whole front that may be the water surface.
type waterMark struct {
	Y, Ratio         float64
	strength, filled float64
	like             float64 // by package jarnet, beside the likeliest row, 0..1
}

const (
	minWaterRatio = 0.9
	maxWaterRatio = 6.0
	arcCols       = 31
)

// waterMarks lists the lines across the front of the jar, strongest first.
func waterMarks(rf *relief, s stand) []waterMark {
	y0, y1 := s.rowOf(maxWaterRatio), s.rowOf(minWaterRatio)
	lo, hi := int(math.Max(y0/rf.scale, 4)), int(y1/rf.scale)
	if hi <= lo {
		return nil
	}
	v := make([]float64, hi-lo)
	for i := range v {
		v[i] = frontChange(rf, s, float64(lo+i)+0.5)
	}
	var out []waterMark
	for i := 2; i < len(v)-2; i++ {
		if v[i] >= v[i-1] && v[i] > v[i+1] && v[i] >= v[i-2] && v[i] >= v[i+2] && v[i] > 0.02 {
			y := (float64(lo+i) + parabolaPeak(v[i-1], v[i], v[i+1])) * rf.scale
			out = append(out, waterMark{Y: y, Ratio: s.ratio(y), strength: v[i]})
		}
	}
	sort.Slice(out, func(i, j int) bool { return out[i].strength > out[j].strength })
	return out
}

// frontChange is how much the picture changes across a circle on the front of
// the jar whose middle is at row y (relief pixels): the lower quartile across
// the width.
func frontChange(rf *relief, s stand, y float64) float64 {
	wy := y * rf.scale
	half, cx, bow := s.half(wy)/rf.scale, s.centre(wy)/rf.scale, s.bow(wy)/rf.scale
	tilt := s.floor.Tilt * half
	var v [arcCols]uint8
	for j, c := range &frontShape {
		x, yy := int(cx+c[0]*half), int(y-bow*c[1]+tilt*c[0])
		if uint(x) >= uint(rf.w) || uint(yy+1) >= uint(rf.h+2) {
			continue
		}
		at := x*rf.tall + margin + yy
		near := rf.y[at-1 : at+2]
		v[j] = max(near[0], near[1], near[2])
	}
	order.Nth(v[:], 12)
	order.SortFew(v[:12])
	return (float64(v[6]) + float64(v[8]) + float64(v[10]) + float64(v[12])) / (4 * 255)
}

// frontShape holds u and 1-sqrt(1-u^2) of columns across the front.
var frontShape = func() (c [arcCols][2]float64) {
	for j := range c {
		u := 0.86 * (2*float64(j)/(arcCols-1) - 1)
		c[j] = [2]float64{u, 1 - math.Sqrt(1-u*u)}
	}
	return c
}()

// frontProfile holds the colour of the front of the jar by row, every profileStep
// working rows from the floor upward: the median over the width.
type frontProfile struct {
	floor float64
	lab   [][3]float32
}

// profileStep is the rows between two samples of a frontProfile.
const profileStep = 4

func newFrontProfile(pic *image.RGBA, s stand) frontProfile {
	p := frontProfile{floor: s.floor.Y}
	top := math.Max(s.rowOf(maxWaterRatio), 2)
	const cols = 13
	var u, rise [cols]float64
	for j := range u {
		u[j] = 0.7 * (2*float64(j)/(cols-1) - 1)
		rise[j] = 1 - math.Sqrt(1-u[j]*u[j])
	}
	right, below := float64(pic.Rect.Dx()-1), float64(pic.Rect.Dy()-1)
	var v [3][cols]float32
	for y := s.floor.Y; y > top; y -= profileStep {
		half, cx, bow := s.half(y), s.centre(y), s.bow(y)
		for j := range cols {
			x, yy := cx+u[j]*half, y-bow*rise[j]+s.floor.Tilt*u[j]*half
			v[0][j], v[1][j], v[2][j] = colour.LabOfLight(pixels.Between(pic, pixels.Clamp(x-0.5, right), pixels.Clamp(yy-0.5, below)))
		}
		for k := range v {
			order.SortFew(v[k][:])
		}
		p.lab = append(p.lab, [3]float32{v[0][cols/2], v[1][cols/2], v[2][cols/2]})
	}
	return p
}

// mean is the mean colour between two rows (y0 above y1).
func (p frontProfile) mean(y0, y1 float64) (c [3]float32) {
	i0, i1 := int((p.floor-y1)/profileStep), int((p.floor-y0)/profileStep)
	i0, i1 = max(i0, 0), min(i1, len(p.lab)-1)
	n := float32(0)
	for i := i0; i <= i1; i++ {
		for k := range c {
			c[k] += p.lab[i][k]
		}
		n++
	}
	for k := range c {
		c[k] /= max(n, 1)
	}
	return c
}

// filled says how much a mark looks like the top of what fills the jar, 0..1:
// the colour below it is that further down, the colour above it is another.
func (p frontProfile) filled(y float64) float64 {
	h := p.floor - y
	above := p.mean(y-0.06*h, y-0.02*h)
	below := p.mean(y+0.02*h, y+0.08*h)
	deep := p.mean(y+0.12*h, y+0.35*h)
	d := labDistance(above, below)
	return float64(d / (d + labDistance(below, deep) + 4))
}
