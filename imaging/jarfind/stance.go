package jarfind

import (
	"image"
	"math"

	"mudline/imaging"
	"mudline/imaging/jarnet"
	"mudline/imaging/pixels"
)

// Stance is a place in a picture where a jar may stand, with straight sides: what
// package jarnet judges. Pixels of the picture it was found in.
type Stance struct {
	// Foot is the middle of the front of the inner floor, Half half the width of
	// the glass, one and a half Half above it.
	Foot imaging.Point
	Half float64
	// Lean is how many pixels the axis goes to the right for each row downward.
	Lean float64
}

// refUp is how far above the floor the sides of a stance are measured, in half
// widths.
const refUp = 1.5

// At gives the pixel at u half widths right of the axis and v above the floor.
func (s Stance) At(u, v float64) imaging.Point {
	return imaging.Point{X: s.Foot.X + s.Half*(u-v*s.Lean), Y: s.Foot.Y - s.Half*(v+u*s.Lean)}
}

// placeOf is the inverse of At.
func (s Stance) placeOf(p imaging.Point) (u, v float64) {
	dx, dy := (p.X-s.Foot.X)/s.Half, (p.Y-s.Foot.Y)/s.Half
	n := 1 + s.Lean*s.Lean
	return (dx - s.Lean*dy) / n, -(dy + s.Lean*dx) / n
}

// Moved is the stance with its sides and floor moved, in half widths: to the
// right and down.
func (s Stance) Moved(left, right, floor float64) Stance {
	m := s
	m.Half = s.Half * (1 + (right-left)/2)
	// The middle of the sides moves along the row at refUp, the foot follows the axis.
	du := (left + right) / 2
	m.Foot = s.At(du, -floor)
	return m
}

// Off tells how far right of the sides of s those of o are, and how far below its
// floor that of o, in half widths of s.
func (s Stance) Off(o Stance) (left, right, floor float64) {
	// The axis of o at the height of refUp of s.
	ref := s.At(0, refUp)
	ov := (o.Foot.Y - ref.Y) / o.Half
	mid := o.Foot.X - ov*o.Half*o.Lean
	du := (mid - ref.X) / s.Half
	k := o.Half / s.Half
	return du - (k - 1), du + (k - 1), (o.Foot.Y - s.Foot.Y) / s.Half
}

// patchOf cuts out what the network sees of a stance in working pixels.
func (t *thumb) patchOf(s Stance) *jarnet.Patch {
	p := new(jarnet.Patch)
	const plane = jarnet.PatchW * jarnet.PatchH
	k := 1 / t.scale
	s.Foot.X, s.Foot.Y, s.Half = s.Foot.X*k, s.Foot.Y*k, s.Half*k
	bw, bh := jarnet.CellU*s.Half/2, jarnet.CellV*s.Half/2
	for r := range jarnet.PatchH {
		v := (jarnet.PatchH-0.5-float64(r))*jarnet.CellV - jarnet.Below
		for c := range jarnet.PatchW {
			u := (float64(c)+0.5)*jarnet.CellU - jarnet.USpan
			at := s.At(u, v)
			if at.X < 0 || at.Y < 0 || at.X >= float64(t.w) || at.Y >= float64(t.h) {
				continue
			}
			lab := t.box(at.X-bw, at.Y-bh, at.X+bw, at.Y+bh)
			i := r*jarnet.PatchW + c
			p[i] = (lab[0] - 50) / 25
			p[plane+i] = lab[1] / 20
			p[2*plane+i] = lab[2] / 20
			p[3*plane+i] = 1
		}
	}
	return p
}

// box is the mean colour of a box; smaller ones than a pixel are blended from the
// pixels about them.
func (t *thumb) box(x0, y0, x1, y1 float64) (c [3]float32) {
	if d := 1 - (x1 - x0); d > 0 {
		x0, x1 = x0-d/2, x1+d/2
	}
	if d := 1 - (y1 - y0); d > 0 {
		y0, y1 = y0-d/2, y1+d/2
	}
	w, h := float64(t.w), float64(t.h)
	x0, x1, y0, y1 = pixels.Clamp(x0, w), pixels.Clamp(x1, w), pixels.Clamp(y0, h), pixels.Clamp(y1, h)
	area := (x1 - x0) * (y1 - y0)
	if area <= 1e-6 {
		return t.mean(int(x0), int(y0), int(x0)+1, int(y0)+1)
	}
	for k := range c {
		v := t.within(k, x1, y1) - t.within(k, x0, y1) - t.within(k, x1, y0) + t.within(k, x0, y0)
		c[k] = float32(v / area)
	}
	return c
}

// within is the sum of a plane over everything above and left of x,y, fractions
// of pixels counted.
func (t *thumb) within(k int, x, y float64) float64 {
	xi, yi := min(int(x), t.w-1), min(int(y), t.h-1)
	fx, fy := x-float64(xi), y-float64(yi)
	s := t.w + 1
	a := t.sum[k][yi*s+xi:]
	b := t.sum[k][(yi+1)*s+xi:]
	return (a[0]*(1-fx)+a[1]*fx)*(1-fy) + (b[0]*(1-fx)+b[1]*fx)*fy
}

// stanceOf is the place of an outline, in working pixels.
func stanceOf(o outline, scale float64) Stance {
	y := o.foot.Y
	half := (o.right.at(y) - o.left.at(y)) / 2
	lean := (o.left.Slope + o.right.Slope) / 2
	ref := y - refUp*half
	l, r := o.left.at(ref), o.right.at(ref)
	half = (r - l) / 2
	return Stance{Foot: imaging.Point{X: ((l+r)/2 + (y-ref)*lean) * scale, Y: y * scale}, Half: half * scale, Lean: lean}
}

// Proposals lists places where the finder would look for a jar, likeliest first,
// for the training of package jarnet; see Look for focal35MM.
func Proposals(pic *image.RGBA, focal35MM float64) []Stance {
	focal := focalPixels(pic, focal35MM)
	small, step := smaller(pic)
	rf := newRelief(small, step)
	t := newThumb(small, step, thumbSide)
	edges := sideEdges(t)
	var out []Stance
	for _, o := range outlines(rf, t, rank(t, edges, coarse(t, edges, 0, float64(t.w))), focal/rf.scale) {
		out = append(out, stanceOf(o, rf.scale))
	}
	return out
}

// Patches cuts out what the network sees of places in a picture.
func Patches(pic *image.RGBA, places []Stance) []*jarnet.Patch {
	small, step := smaller(pic)
	t := newThumb(small, step, thumbSide)
	out := make([]*jarnet.Patch, len(places))
	for i, s := range places {
		out[i] = t.patchOf(s)
	}
	return out
}

func focalPixels(pic *image.RGBA, focal35MM float64) float64 {
	if focal35MM < leastFocal35MM {
		focal35MM = defaultFocal35MM
	}
	return focal35MM * math.Max(float64(pic.Rect.Dx()), float64(pic.Rect.Dy())) / 36
}
