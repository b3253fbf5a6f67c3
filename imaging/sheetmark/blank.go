package sheetmark

import (
	"image"
	"math"
	"slices"
)

// box is an upright rectangle on the sheet.
type box struct{ x0, y0, x1, y1 float64 }

// kind says what must be seen in a printed box before it is painted over.
type kind uint8

const (
	ofMark  kind = iota // read as a mark already
	ofPatch             // an even grey
	ofLines             // mostly paper, with thin print
	ofHead              // anything: no jar reaches up there
)

type printedBox struct {
	box
	kind kind
	ink  float64 // of a patch
}

// printedBoxes are where something is printed outside the plain middle.
func (s *Sheet) printedBoxes() (out []printedBox) {
	const rim = 0.6 // of blur
	around := func(p Point, side float64) box {
		h := side/2 + rim
		return box{p.X - h, p.Y - h, p.X + h, p.Y + h}
	}
	for _, i := range s.Seen {
		out = append(out, printedBox{around(Mark(i), MarkMM), ofMark, 1})
	}
	for _, p := range Patches() {
		out = append(out, printedBox{around(p.Mid, PatchMM), ofPatch, p.Ink})
	}
	const piece = 15.0
	for y := ScaleLow - 2.0; y < ScaleTop+6; y += piece {
		for _, x := range []float64{-ScaleX - rim, ScaleX - scaleWide} {
			out = append(out, printedBox{box{x, y, x + scaleWide + rim, y + piece}, ofLines, 0})
		}
	}
	out = append(out, printedBox{box{-28, 5, 28, 13}, ofLines, 0})
	const top = 267.0
	for x := -ScaleX - rim; x < ScaleX; x += 38 {
		out = append(out, printedBox{box{x, PlainTop, x + 38.5, top}, ofHead, 0})
	}
	return out
}

// Blank is the picture with the print painted over in the colour of the paper about
// it, wherever nothing stands before it: what a blank sheet would have shown. The lines
// of the print would else be taken for those of a jar.
func (s *Sheet) Blank(pic *image.RGBA) *image.RGBA {
	out := image.NewRGBA(pic.Rect)
	copy(out.Pix, pic.Pix)
	for _, b := range s.printedBoxes() {
		if paper, ok := s.paperAbout(pic, b.box); ok && s.shows(pic, b, paper) {
			s.paint(out, b.box, paper)
		}
	}
	return out
}

// rgb is linear light, 0 to 1.
type rgb [3]float64

func (c rgb) light() float64 { return (c[0] + c[1] + c[2]) / 3 }

// corners4 are the colours at the corners of a box: top left, top right, bottom right,
// bottom left.
type corners4 [4]rgb

// at blends the corners, u and v from 0 at the top left to 1.
func (c corners4) at(u, v float64) (m rgb) {
	for k := range m {
		m[k] = (1-v)*((1-u)*c[0][k]+u*c[1][k]) + v*((1-u)*c[3][k]+u*c[2][k])
	}
	return m
}

// paperAbout is the colour of the paper just outside the corners of a box; ok is false
// where something else is seen there or the picture ends. A corner much darker than the
// lightest, or of another tint, is not paper: the one beside it stands in.
func (s *Sheet) paperAbout(pic *image.RGBA, b box) (c corners4, ok bool) {
	const away = 1.2
	places := [4]Point{{b.x0 - away, b.y1 + away}, {b.x1 + away, b.y1 + away}, {b.x1 + away, b.y0 - away}, {b.x0 - away, b.y0 - away}}
	lightest := 0.0
	for i, p := range places {
		c[i], ok = s.mean(pic, p, 0.8)
		if !ok {
			c[i] = rgb{}
		}
		lightest = math.Max(lightest, c[i].light())
	}
	if lightest == 0 {
		return c, false
	}
	good := 0
	for i := range c {
		if c[i].light() > 0.5*lightest {
			good++
		} else {
			c[i] = rgb{}
		}
	}
	for i := range c {
		for _, d := range [...]int{1, 3, 2} {
			if o := c[(i+d)%4]; c[i].light() == 0 && o.light() > 0 {
				c[i] = o
			}
		}
	}
	return c, good >= 2
}

// mean is the mean light within half millimetres of a place on the sheet.
func (s *Sheet) mean(pic *image.RGBA, at Point, half float64) (m rgb, ok bool) {
	const n = 5
	for i := range n * n {
		p := s.Stand.Picture(Point{at.X + half*(2*float64(i%n)/(n-1)-1), at.Y + half*(2*float64(i/n)/(n-1)-1)})
		q := image.Pt(int(math.Floor(p.X)), int(math.Floor(p.Y)))
		if !q.In(pic.Rect) {
			return m, false
		}
		c := lightAt(pic, q)
		for k := range m {
			m[k] += c[k] / (n * n)
		}
	}
	return m, true
}

func lightAt(pic *image.RGBA, p image.Point) (c rgb) {
	v := pic.Pix[pic.PixOffset(p.X, p.Y):]
	for k := range c {
		c[k] = float64(linearOf[v[k]]) / 65535
	}
	return c
}

// shows tells whether a box shows its print and nothing before it.
func (s *Sheet) shows(pic *image.RGBA, b printedBox, paper corners4) bool {
	if b.kind == ofMark || b.kind == ofHead {
		return true
	}
	const n = 12
	var left []float64 // share of the paper's light
	for i := range n * n {
		u, v := (float64(i%n)+0.5)/n, (float64(i/n)+0.5)/n
		p := s.Stand.Picture(Point{b.x0 + u*(b.x1-b.x0), b.y1 - v*(b.y1-b.y0)})
		q := image.Pt(int(math.Floor(p.X)), int(math.Floor(p.Y)))
		if !q.In(pic.Rect) {
			continue
		}
		left = append(left, lightAt(pic, q).light()/paper.at(u, v).light())
	}
	if len(left) < n*n/2 {
		return false
	}
	slices.Sort(left)
	part := func(share float64) float64 { return left[int(share*float64(len(left)-1))] }
	if b.kind == ofPatch {
		// Printers differ widely in what they make of a grey.
		expected := inkShare(b.ink)
		return part(0.5) > 0.3*expected && part(0.5) < min(4*expected, 0.93) && part(0.8)-part(0.2) < 0.25*part(0.5)+0.08
	}
	return part(0.4) > 0.8 && part(0.9) < 1.3
}

// paint fills a box.
func (s *Sheet) paint(pic *image.RGBA, b box, paper corners4) {
	corners := []Point{{b.x0, b.y1}, {b.x1, b.y1}, {b.x1, b.y0}, {b.x0, b.y0}}
	seen := make([]Point, 4)
	lo, hi := Point{math.Inf(1), math.Inf(1)}, Point{math.Inf(-1), math.Inf(-1)}
	for i, c := range corners {
		p := s.Stand.Picture(c)
		seen[i] = p
		lo, hi = Point{math.Min(lo.X, p.X), math.Min(lo.Y, p.Y)}, Point{math.Max(hi.X, p.X), math.Max(hi.Y, p.Y)}
	}
	for i := range paper { // blended as the picture's values, which is close enough
		for k := range paper[i] {
			paper[i][k] = float64(levelOf(paper[i][k])) + 0.5
		}
	}
	unit, ok := PlaneOf(seen, []Point{{0, 0}, {1, 0}, {1, 1}, {0, 1}})
	if !ok {
		return
	}
	area := image.Rect(int(lo.X), int(lo.Y), int(hi.X)+1, int(hi.Y)+1).Intersect(pic.Rect)
	for y := area.Min.Y; y < area.Max.Y; y++ {
		fy := float64(y) + 0.5
		// Along a row the map's numerators and denominator grow evenly.
		at := pic.PixOffset(area.Min.X, y)
		fx := float64(area.Min.X) + 0.5
		nu, nv, w := unit[0]*fx+unit[1]*fy+unit[2], unit[3]*fx+unit[4]*fy+unit[5], unit[6]*fx+unit[7]*fy+unit[8]
		for range area.Dx() {
			if u, v := nu/w, nv/w; u >= 0 && v >= 0 && u <= 1 && v <= 1 {
				c := paper.at(u, v)
				pic.Pix[at], pic.Pix[at+1], pic.Pix[at+2] = uint8(c[0]), uint8(c[1]), uint8(c[2])
			}
			nu, nv, w, at = nu+unit[0], nv+unit[3], w+unit[6], at+4
		}
	}
}

// levelOf is the sRGB value of linear light.
func levelOf(v float64) uint8 { return levels[int(within(v, 1)*4095+0.5)] }

var levels = levelTable()
