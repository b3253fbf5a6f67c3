package chart

import (
	"bytes"
	"encoding/base64"
	"image"
	"image/jpeg"
	"math"
	"slices"

	"golang.org/x/image/draw"

	"mudline/internal/look"
	"mudline/internal/reading"
	"mudline/internal/words"
	"mudline/layers"
)

// Front is the straightened front of the jar at one moment.
type Front struct {
	ElapsedS float64
	Picture  *image.RGBA
	// Top and Bottom are the heights of its upper and lower edge, in shares of the
	// water depth.
	Top, Bottom float64
}

const (
	filmLow, filmHigh = -0.03, 1.06 // what is shown of the jar, in shares of the depth
	filmMiddle        = 0.35        // of its width
	widestStrip       = 42          // of one moment
	filmPixels        = 2           // of the picture to one unit
)

// clearing is the front of the clearing water, which sinks.
var clearing = series{"chart.clearing-water", look.LineOf(layers.HazeTop), diamond}

// Film draws a narrow strip of the jar's front for each moment side by side along a
// logarithmic axis of time, with the lines that were read laid over them.
func Film(r reading.Reading, fronts []Front, o Options) *Drawing {
	title := o.say("chart.film-title")
	fronts = shownFronts(fronts)
	if len(fronts) < 3 {
		return nothing(o, title, o.say("chart.no-film"))
	}
	percent, _, unit, _ := unitOf(r, o)
	d := newDrawing(o, math.Max(300, 0.72*o.width()), title)
	s := settledOf(r, o)
	up := o.decimals(steps(100*percent, 6))
	up = slices.DeleteFunc(up, func(t tick) bool { return t.at > 100.5*percent })
	names, left := 0.0, 0.0
	for _, l := range append(slices.Clone(lines), clearing) {
		names = math.Max(names, widthOf(o.say(l.name), smallSize*heavy))
	}
	for _, t := range up {
		left = math.Max(left, 12+widthOf(t.label, smallSize))
	}
	p := plot{d,
		scale{lo: fronts[0].ElapsedS / 1.2, hi: fronts[len(fronts)-1].ElapsedS * 1.2, from: left, to: d.Width - math.Min(names, d.Width/3) - 16, log: true},
		scale{lo: 100 * percent * filmLow, hi: 100 * percent * filmHigh, from: d.Height - 46, to: 34}}
	d.write(text{at: Point{X: 12, Y: 20}, words: o.say("chart.height-axis", words.Name("unit", o.say(unit))), size: smallSize}, soft)
	p.axes(up, p.x.room(clock(o), smallSize))
	p.strips(fronts)
	p.filmLines(r, s, percent, o)
	d.write(text{at: Point{X: (p.x.from + p.x.to) / 2, Y: p.y.from + 33}, words: o.say("chart.time-axis"), size: smallSize, anchor: middle}, soft)
	d.Desc = o.say("chart.film-words", words.Whole("moments", len(fronts)), words.Name("from", duration(fronts[0].ElapsedS, o)), words.Name("to", duration(fronts[len(fronts)-1].ElapsedS, o))) + " " + s.words(o)
	return d
}

// shownFronts are those that can be drawn, in order of time.
func shownFronts(all []Front) []Front {
	out := slices.DeleteFunc(slices.Clone(all), func(f Front) bool {
		return !isTime(f.ElapsedS) || f.Picture == nil || f.Picture.Rect.Empty() || !(f.Top > f.Bottom)
	})
	slices.SortStableFunc(out, func(a, b Front) int { return int(math.Copysign(1, a.ElapsedS-b.ElapsedS)) })
	return out
}

// strips lays the fronts side by side, each as wide as there is room up to its
// neighbours.
func (p plot) strips(fronts []Front) {
	x0, y0 := p.x.from, p.y.to
	pic := image.NewRGBA(image.Rect(0, 0, int(filmPixels*(p.x.to-x0)), int(filmPixels*(p.y.from-y0))))
	draw.Draw(pic, pic.Rect, image.NewUniform(card.rgba(1)), image.Point{}, draw.Src)
	for i, f := range fronts {
		at := p.x.at(f.ElapsedS)
		left, right := at-widestStrip/2, at+widestStrip/2
		if i > 0 {
			left = math.Max(left, (at+p.x.at(fronts[i-1].ElapsedS))/2)
		}
		if i+1 < len(fronts) {
			right = math.Min(right, (at+p.x.at(fronts[i+1].ElapsedS))/2)
		}
		to := image.Rect(int(filmPixels*(left-x0)), 0, int(filmPixels*(right-x0))-1, pic.Rect.Dy())
		rows, w := float64(f.Picture.Rect.Dy()), f.Picture.Rect.Dx()
		row := func(h float64) int { return int(math.Round(rows * (f.Top - h) / (f.Top - f.Bottom))) }
		from := image.Rect(int(float64(w)*(1-filmMiddle)/2), row(filmHigh), int(float64(w)*(1+filmMiddle)/2), row(filmLow)).Add(f.Picture.Rect.Min)
		draw.BiLinear.Scale(pic, to.Intersect(pic.Rect), f.Picture, from.Intersect(f.Picture.Rect), draw.Src, nil)
	}
	p.add(mark{picture: pic, paths: [][]Point{rectangle(x0, y0, p.x.to, p.y.from)}, closed: true})
}

// filmLines lays the lines over the strips.
func (p plot) filmLines(r reading.Reading, s settled, percent float64, o Options) {
	front := clearingOf(r, percent)
	shown := settled{points: s.points}
	for i, l := range lines {
		p.filmLine(s.points[i], l)
	}
	p.filmLine(front, clearing)
	p.lineNames(shown, o)
	if n := len(front); n > 1 {
		at := Point{X: p.x.at(front[0].seconds) + 10, Y: p.y.at(front[0].value)} // the line sinks away from it
		p.write(text{at: at, words: o.say(clearing.name), size: smallSize, bold: true, anchor: start, halo: true}, ink)
	}
}

// clearingOf are the heights of the clearing water's front.
func clearingOf(r reading.Reading, percent float64) (out []measured) {
	for _, p := range r.Photos {
		if h := p.HeightsPercent.Of(layers.HazeTop); h != nil && isTime(p.ElapsedS) && isHeight(h.Value*percent) {
			out = append(out, measured{p.ElapsedS, h.Value * percent, h.SD * percent})
		}
	}
	return out
}

func (p plot) filmLine(points []measured, l series) {
	if len(points) < 2 {
		return
	}
	var path []Point
	for i, m := range points {
		near := points[max(0, i-1):min(len(points), i+2)]
		v := []float64{}
		for _, n := range near {
			v = append(v, n.value)
		}
		slices.Sort(v)
		y := v[len(v)/2] // one photo read wrongly makes no spike
		if len(v) == 2 {
			y = m.value
		}
		path = append(path, Point{X: p.x.at(m.seconds), Y: p.y.at(y)})
	}
	p.seamed(l.look, 2, path)
}

// dataURL is a picture as it stands inside an SVG.
func dataURL(pic *image.RGBA) string {
	var b bytes.Buffer
	// The error is that of the writer, and a buffer has none.
	_ = jpeg.Encode(&b, pic, &jpeg.Options{Quality: 85})
	return "data:image/jpeg;base64," + base64.StdEncoding.EncodeToString(b.Bytes())
}
