package jarfind

import (
	"image"
	"math"

	"mudline/imaging"
	"mudline/imaging/pixels"
)

// View is what a camera that stays sees again in every photo: a small picture of
// how brightness changes from place to place, which slow changes of the light
// leave alone.
type View struct {
	w, h   int
	scale  float64 // working pixels per pixel of the view
	gx, gy []int8  // change of the logarithm of the light, bounded
}

const (
	viewSide  = 200  // longest side of a view
	viewReach = 0.05 // how far views may be shifted, as a share of that
	viewSteep = 0.5  // a stronger change counts no more
)

// NewView makes the view of an upright working picture.
func NewView(pic *image.RGBA) *View {
	pw, ph := pic.Rect.Dx(), pic.Rect.Dy()
	v := &View{scale: math.Max(1, float64(max(pw, ph))/viewSide)}
	v.w, v.h = int(float64(pw)/v.scale), int(float64(ph)/v.scale)
	luma := make([]float32, v.w*v.h)
	for y := range v.h {
		y0, y1 := int(float64(y)*v.scale), max(int(float64(y+1)*v.scale), int(float64(y)*v.scale)+1)
		for x := range v.w {
			x0, x1 := int(float64(x)*v.scale), max(int(float64(x+1)*v.scale), int(float64(x)*v.scale)+1)
			r, g, b := pixels.Mean(pic, x0, y0, min(x1, pw), min(y1, ph))
			luma[y*v.w+x] = float32(math.Log(float64(r+2*g+b)/4 + 8)) // 8 levels of haze keep noise in the dark down
		}
	}
	v.gx, v.gy = make([]int8, v.w*v.h), make([]int8, v.w*v.h)
	bounded := func(d float32) int8 { return int8(127 * max(-1, min(1, d/viewSteep))) }
	for y := 1; y+1 < v.h; y++ {
		for x := 1; x+1 < v.w; x++ {
			i := y*v.w + x
			v.gx[i], v.gy[i] = bounded(luma[i+1]-luma[i-1]), bounded(luma[i+v.w]-luma[i-v.w])
		}
	}
	return v
}

// The part of a view that is compared, in half widths of the glass and shares of
// the water depth: the glass with its foot and lid and what stands close to it,
// without the water and the soil.
const (
	rimOut            = 2.0
	rimIn             = 0.88
	rimLow, rimHigh   = -0.3, 1.6
	waterLow, waterUp = -0.03, 1.06
)

// Places are the pixels of a view that are compared.
type Places []image.Point

// Whole are all places of a view.
func (v *View) Whole() (at Places) {
	for y := 1; y+1 < v.h; y++ {
		for x := 1; x+1 < v.w; x++ {
			at = append(at, image.Pt(x, y))
		}
	}
	return at
}

// Rim are the places of a view that show a jar's rim and what stands about it.
func (v *View) Rim(f imaging.Frame) (at Places) {
	f = f.Scaled(1 / v.scale)
	half := (f.HalfWidthFloor + f.HalfWidthWater) / 2
	for y := 1; y+1 < v.h; y++ {
		h := f.HeightOfRow(float64(y) + 0.5)
		if h < rimLow || h > rimHigh {
			continue
		}
		mid := f.At(0, h).X
		for x := 1; x+1 < v.w; x++ {
			u := math.Abs(float64(x)+0.5-mid) / half
			if u < rimOut && (u > rimIn || h < waterLow || h > waterUp) {
				at = append(at, image.Pt(x, y))
			}
		}
	}
	return at
}

// Shift is how far, in working pixels, what v shows at some places lies further
// right and down in o, and how well the two agree there, -1 to 1.
func (v *View) Shift(o *View, at Places) (by imaging.Point, agree float64) {
	if v.w != o.w || v.h != o.h {
		return imaging.Point{}, 0
	}
	reach := int(math.Ceil(viewReach * viewSide))
	n := 2*reach + 1
	score := make([]float64, n*n)
	best := reach*n + reach
	for dy := -reach; dy <= reach; dy += 2 { // every other place, then those about the best
		for dx := -reach; dx <= reach; dx += 2 {
			i := (dy+reach)*n + dx + reach
			if score[i] = v.agree(o, at, dx, dy); score[i] > score[best] {
				best = i
			}
		}
	}
	for range 2 {
		cx, cy := best%n-reach, best/n-reach
		for dy := max(cy-1, -reach); dy <= min(cy+1, reach); dy++ {
			for dx := max(cx-1, -reach); dx <= min(cx+1, reach); dx++ {
				i := (dy+reach)*n + dx + reach
				if score[i] == 0 {
					score[i] = v.agree(o, at, dx, dy)
				}
				if score[i] > score[best] {
					best = i
				}
			}
		}
	}
	bx, by2 := best%n, best/n
	peak := func(before, mid, after float64) float64 {
		if curve := before - 2*mid + after; curve < 0 {
			return (before - after) / (2 * curve)
		}
		return 0
	}
	x, y := float64(bx-reach), float64(by2-reach)
	if bx > 0 && bx < n-1 {
		x += peak(score[best-1], score[best], score[best+1])
	}
	if by2 > 0 && by2 < n-1 {
		y += peak(score[best-n], score[best], score[best+n])
	}
	return imaging.Point{X: x * v.scale, Y: y * v.scale}, score[best]
}

// agree correlates the changes at some places of v with those of o, shifted.
func (v *View) agree(o *View, at Places, dx, dy int) float64 {
	var aa, bb, ab int
	for _, p := range at {
		x, y := p.X+dx, p.Y+dy
		if x < 1 || y < 1 || x+1 >= o.w || y+1 >= o.h {
			continue
		}
		i, j := p.Y*v.w+p.X, y*o.w+x
		ax, ay, bx, by := int(v.gx[i]), int(v.gy[i]), int(o.gx[j]), int(o.gy[j])
		aa += ax*ax + ay*ay
		bb += bx*bx + by*by
		ab += ax*bx + ay*by
	}
	if aa <= 0 || bb <= 0 {
		return 1e-9
	}
	return float64(ab) / math.Sqrt(float64(aa)*float64(bb))
}
