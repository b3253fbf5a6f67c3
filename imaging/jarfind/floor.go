package jarfind

import (
	"image"
	"math"
	"sort"

	"mudline/imaging/colour"
	"mudline/imaging/order"
	"mudline/internal/equations"
)

// floorLine is the inner floor of the jar as the picture shows it, in working
// pixels: the circle where the deposit stands on the glass.
type floorLine struct {
	Y, Bow float64 // its middle, and how far that hangs below its ends
	Tilt   float64 // rows per pixel to the right
	sd     float64 // of Y
}

const (
	floorColumns = 33
	floorSpan    = 0.78 // of the half width on either side
)

// findFloor reads the inner floor near the foot arc of an outline: below the
// deposit the thick foot of the glass is seen end on and is dark, so the floor
// is where, going up from that dark band, the deposit's brightness begins.
func findFloor(pic *image.RGBA, l, r sideLine, foot arc) floorLine {
	half := (r.at(foot.Y) - l.at(foot.Y)) / 2
	fl := floorLine{Y: foot.Y, Bow: foot.Bow, Tilt: -(l.Slope + r.Slope) / 2}
	up, down := 0.30*half, 0.20*half
	for pass := range 3 {
		if pass > 0 {
			up, down = 0.14*half, 0.12*half
		}
		cols := floorProfiles(pic, l, r, fl, up, down)
		band := darkBand(meanProfile(cols), int(up), pass == 0)
		if band < 0 {
			break
		}
		var us, offs []float64
		reach := int(0.09 * half)
		for _, c := range cols {
			if o, rise := climb(c.v, band, reach); rise > 3 {
				us = append(us, c.u)
				offs = append(offs, o-float64(int(up)))
			}
		}
		if len(us) < 9 {
			break
		}
		fl = refitFloor(fl, us, offs, half)
	}
	return settleFloor(pic, l, r, fl)
}

// settleFloor reads the final height of the floor from the mean of all
// columns. A bright line inside the dark foot, where the glass bends the light
// of the table, must not be taken for the deposit: it is narrow, brighter than
// the deposit, and dark again above.
func settleFloor(pic *image.RGBA, l, r sideLine, fl floorLine) floorLine {
	half := (r.at(fl.Y) - l.at(fl.Y)) / 2
	up, down := int(0.35*half), int(0.08*half)
	m := meanProfile(floorProfiles(pic, l, r, fl, float64(up), float64(down)))
	dark := lowest(m, up, len(m)-1)
	line := highest(m, up-int(0.03*half), up)
	dip := lowest(m, line-int(0.03*half), line)
	soil := m[highest(m, dip-int(0.05*half), dip)]
	if soil-m[dip] < math.Max(3, 0.12*(m[line]-m[dark])) || m[line] < m[dip]+3 {
		return fl
	}
	level := (m[dip] + soil) / 2
	for i := dip; i > 1; i-- {
		if m[i-1] >= level {
			f := (level - m[i]) / math.Max(m[i-1]-m[i], 1e-6)
			fl.Y += float64(i) + 0.5 - f - float64(up)
			fl.sd = math.Max(fl.sd, 1)
			break
		}
	}
	return fl
}

// highest and lowest give the position of the extreme value in m[from..to].
func highest(m []float64, from, to int) int {
	best := max(to, 0)
	for i := to; i >= max(from, 0); i-- {
		if m[i] > m[best] {
			best = i
		}
	}
	return best
}

func lowest(m []float64, from, to int) int {
	best := max(to, 0)
	for i := to; i >= max(from, 0); i-- {
		if m[i] < m[best] {
			best = i
		}
	}
	return best
}

// floorColumn is the L* of the picture down one column; index 0 is "up" above
// the expected floor.
type floorColumn struct {
	u float64
	v []float64
}

func floorProfiles(pic *image.RGBA, l, r sideLine, fl floorLine, up, down float64) []floorColumn {
	cl, cr := l.at(fl.Y), r.at(fl.Y)
	half, cx := (cr-cl)/2, (cl+cr)/2
	out := make([]floorColumn, floorColumns)
	n := int(up) + int(down)
	for j := range out {
		u := floorSpan * (2*float64(j)/(floorColumns-1) - 1)
		y := fl.Y - fl.Bow*(1-math.Sqrt(1-u*u)) + fl.Tilt*u*half
		v := make([]float64, n)
		for i := range v {
			v[i] = rowL(pic, cx+u*half, y-float64(int(up))+float64(i)+0.5)
		}
		out[j] = floorColumn{u: u, v: v}
	}
	return out
}

// rowL is L* averaged over five pixels side by side.
func rowL(pic *image.RGBA, x, y float64) float64 {
	w, h := pic.Rect.Dx(), pic.Rect.Dy()
	row := pic.Pix[min(max(int(y), 0), h-1)*pic.Stride:][:4*w]
	var r, g, b int
	if at := 4 * (int(x) - 2); at >= 0 && at+20 <= len(row) {
		p := (*[20]uint8)(row[at:])
		r = int(p[0]) + int(p[4]) + int(p[8]) + int(p[12]) + int(p[16])
		g = int(p[1]) + int(p[5]) + int(p[9]) + int(p[13]) + int(p[17])
		b = int(p[2]) + int(p[6]) + int(p[10]) + int(p[14]) + int(p[18])
	} else {
		for d := -2; d <= 2; d++ {
			p := row[4*min(max(int(x)+d, 0), w-1):]
			r, g, b = r+int(p[0]), g+int(p[1]), b+int(p[2])
		}
	}
	return float64(colour.Lightness(linearOfFive[r], linearOfFive[g], linearOfFive[b]))
}

// linearOfFive is the light of the mean of five sRGB values, by their sum.
var linearOfFive = func() (t [5*255 + 1]float32) {
	for i := range t {
		t[i] = colour.Linear(float32(i) / 5)
	}
	return t
}()

func meanProfile(cols []floorColumn) []float64 {
	m := make([]float64, len(cols[0].v))
	col := make([]float64, len(cols))
	for i := range m {
		for j, c := range cols {
			col[j] = c.v[i]
		}
		m[i] = order.Nth(col, len(col)/2)
	}
	return m
}

// darkBand finds the row of the dark foot in a profile: the first row, coming
// down from the deposit, that is about as dark as the darkest near the middle.
func darkBand(m []float64, centre int, wide bool) int {
	lo, hi := 0, len(m)
	if !wide {
		lo = centre / 2
	}
	low, bright := math.Inf(1), 0.0
	for i := lo; i < hi; i++ {
		low = math.Min(low, m[i])
		bright = math.Max(bright, m[i])
	}
	if bright-low < 4 {
		return -1
	}
	limit := low + math.Max(2, 0.18*(bright-low))
	for i := lo; i < hi; i++ {
		if m[i] <= limit {
			return i
		}
	}
	return -1
}

// climb goes up one column from the dark band to where it has risen half way
// to the brightest within reach rows. It returns the position of the half rise
// and the rise itself in L*.
func climb(v []float64, band, reach int) (at, rise float64) {
	// Settle in the darkest row near the band first.
	b := band
	for i := max(band-reach/2, 0); i <= min(band+reach/2, len(v)-1); i++ {
		if v[i] < v[b] {
			b = i
		}
	}
	top := v[b]
	for i := b; i >= max(b-reach-4, 0); i-- {
		top = math.Max(top, v[i])
	}
	half := v[b] + 0.5*(top-v[b])
	for i := b; i > 0; i-- {
		if v[i-1] >= half {
			f := (half - v[i]) / math.Max(v[i-1]-v[i], 1e-6)
			return float64(i) + 0.5 - f, top - v[b]
		}
	}
	return 0, 0
}

// refitFloor moves the floor to fit the offsets found at positions u across
// the jar, by least squares with outliers dropped twice.
func refitFloor(fl floorLine, us, offs []float64, half float64) floorLine {
	use := make([]bool, len(us))
	for i := range use {
		use[i] = true
	}
	var c [3]float64
	var sd float64
	for range 3 {
		c = fit3(us, offs, use, half)
		var res []float64
		for i, u := range us {
			res = append(res, math.Abs(offs[i]-c[0]-c[1]*u*half+c[2]*(1-math.Sqrt(1-u*u))))
		}
		s := append([]float64(nil), res...)
		sort.Float64s(s)
		sd = math.Max(1.5*s[len(s)/2], 0.5)
		for i := range use {
			use[i] = res[i] < 2.5*sd
		}
	}
	fl.Y += c[0]
	fl.Tilt += c[1]
	fl.Bow += c[2]
	fl.sd = math.Max(sd/math.Sqrt(float64(len(us))/4), 0.4)
	return fl
}

// fit3 solves off = c0 + c1 u half - c2 (1-sqrt(1-u^2)) in least squares.
func fit3(us, offs []float64, use []bool, half float64) [3]float64 {
	var a [3][4]float64
	for i, u := range us {
		if !use[i] {
			continue
		}
		f := [3]float64{1, u * half, -(1 - math.Sqrt(1-u*u))}
		for p := range 3 {
			for q := range 3 {
				a[p][q] += f[p] * f[q]
			}
			a[p][3] += f[p] * offs[i]
		}
	}
	// A weak pull of tilt and bow to no change keeps the system solvable.
	a[1][1] += 1e-3 * half * half
	a[2][2] += 0.02
	return equations.Solve3(a)
}
