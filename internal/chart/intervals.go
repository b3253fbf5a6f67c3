package chart

import (
	"math"
	"strconv"
	"strings"

	"mudline/internal/look"
	"mudline/internal/reading"
	"mudline/internal/words"
)

// part is sand, silt or clay in a chart.
type part struct {
	look.Part
	name, letter string
	e            reading.Estimate
}

// partsOf are the three parts from the coarsest, with what was measured of them;
// false where a number cannot be drawn.
func partsOf(r reading.Reading, o Options) ([]part, bool) {
	if r.Fractions == nil || !isSoil((Soil{Fractions: *r.Fractions}).middle()) {
		return nil, false
	}
	return partsIn(*r.Fractions, o), true
}

// partsIn are the three parts with what was measured of them.
func partsIn(f reading.Fractions, o Options) []part {
	var out []part
	for i, p := range look.Parts() {
		out = append(out, part{p, o.say("part." + p.Name), o.letter(p.Name), sane([]reading.Estimate{f.Sand, f.Silt, f.Clay}[i])})
	}
	return out
}

// ink is what to write on a part.
func (p part) ink() string { return look.InkOn(p.Colour) }

// letter stands for a part where its name has no room.
func (o Options) letter(part string) string { return o.say("part-letter-" + part) }

func partsWords(parts []part, o Options) string {
	var list []string
	for _, p := range parts {
		list = append(list, p.name+" "+spanWords(p.e, o))
	}
	return strings.Join(list, ", ")
}

// Intervals draws sand, silt and clay as three bars from 0 to 100 %: each from
// the low to the high end of its 90 % interval, with a mark at the middle.
func Intervals(r reading.Reading, o Options) *Drawing {
	title := o.say("chart.intervals-title")
	parts, ok := partsOf(r, o)
	if !ok {
		return nothing(o, title, o.say("chart.no-shares"))
	}
	const row, top, big = 46, 12, 20
	d := newDrawing(o, top+3*row+20, title)
	names := 0.0
	for _, p := range parts {
		names = math.Max(names, widthOf(p.name, 14*heavy))
	}
	left := 16 + math.Min(names, 90) + 10 + widthOf("100 %", big*heavy) + 10
	x := scale{lo: 0, hi: 100, from: left, to: d.Width - 22}
	base := float64(top + 3*row)
	for v := 0.0; v <= 100; v += 25 {
		at := x.at(v)
		d.stroke(rule, 1, nil, segment(at, top, at, base))
		d.write(text{at: Point{X: at, Y: base + 15}, words: strconv.Itoa(int(v)), size: smallSize, anchor: middle}, soft)
	}
	d.legend([]note{{o.say("chart.bars"), func(d *Drawing, at Point) {
		d.add(mark{paths: [][]Point{rectangle(at.X, at.Y-4, at.X+keyWide, at.Y+4)}, closed: true, line: soft, width: 1.4})
		d.stroke(ink, 2.5, nil, segment(at.X+keyWide/2, at.Y-6, at.X+keyWide/2, at.Y+6))
	}}}, base+37)
	for i, p := range parts {
		mid := top + row*(float64(i)+0.5)
		d.write(text{at: Point{X: 16, Y: mid + 5}, words: fit(p.name, 14, 90), size: 14, bold: true}, ink)
		d.write(text{at: Point{X: left - 12, Y: mid + 7}, words: o.say("chart.percent-sign", words.Whole("v", p.e.Percent)), size: big, bold: true, anchor: end}, ink)
		d.interval(p, x, mid, o)
	}
	d.Desc = o.say("chart.intervals-words") + " " + partsWords(parts, o) + "."
	return d
}

// interval draws one bar. However narrow, it stays as wide as its middle mark.
func (d *Drawing) interval(p part, x scale, mid float64, o Options) {
	const half = 8
	lo, hi := x.at(p.e.Low), x.at(p.e.High)
	at := x.at(p.e.Percent)
	lo, hi = math.Min(lo, at-2), math.Max(hi, at+2)
	d.patterned(p, lo, mid-half, hi, mid+half, box{at - 4, mid - half, at + 4, mid + half})
	d.stroke(soft, 1.4, nil, closed(rectangle(lo, mid-half, hi, mid+half)))
	d.area(card, rectangle(at-3.2, mid-half-5, at+3.2, mid+half+5))
	d.area(ink, rectangle(at-1.7, mid-half-4, at+1.7, mid+half+4))
	if p.e.High > p.e.Low {
		span := o.say("chart.span", words.Whole("low", p.e.Low), words.Whole("high", p.e.High))
		wide := widthOf(span, smallSize)
		t := text{at: Point{X: hi + 7, Y: mid + 4}, words: span, size: smallSize, halo: true}
		if hi+7+wide > d.Width-4 {
			t.at.X, t.anchor = lo-7, end
			if lo-7-wide < x.from { // no room on either side
				t.at, t.anchor = Point{X: (x.from + x.to) / 2, Y: mid + half + 12}, middle
			}
		}
		d.write(t, ink)
	}
}

func closed(path []Point) []Point { return append(path, path[0]) }
