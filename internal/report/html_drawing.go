package report

import (
	"fmt"
	"math"
	"strings"

	"mudline/imaging"
	"mudline/internal/jar"
	"mudline/internal/reading"
	"mudline/internal/words"
)

// drawing is a photo with what was read on it, in units of its picture.
type drawing struct {
	picture
	// ID names the picture in the page; Again shows it without holding it twice.
	ID    string
	Again bool
	Alt   string
	Lines []drawnLine
	Ticks []drawnTick
}

// drawnLine is one line on the photo; Name is empty for the glass.
type drawnLine struct {
	Path, Band   string
	Kind, Colour string // Kind is its name in package look
	Name, Value  string
	// The label's leader runs from the line's end to the photo's edge.
	FromX, FromY, ToX, Y float64
}

type drawnTick struct {
	X, Y, Long float64
	Label      string
}

// The distances of labels and the length of ticks, in units of the drawing.
const (
	labelApart  = 74
	labelTop    = 20
	labelBottom = drawHeight - 30
	labelGap    = 14
	tickLong    = 10
)

func newDrawing(p picture, s jar.Scene, photo reading.Photo, r reading.Reading, o Options) drawing {
	d := drawing{picture: p}
	if s.Frame == (imaging.Frame{}) {
		d.Alt = o.say("report.alt-as-taken", words.Name("file", s.File))
		return d
	}
	scene := Scene(s.Picture, s.Frame, photo, r, o)
	for _, c := range scene.Curves {
		l := drawnLine{Path: p.path(c.Points), Kind: string(c.Line.Name), Colour: c.Line.Colour}
		if len(c.Upper) > 0 {
			l.Band = p.path(c.Upper)
			for i := len(c.Lower) - 1; i >= 0; i-- {
				l.Band += " " + p.point(c.Lower[i])
			}
		}
		l.Name, l.Value = c.Label, plusMinus(c.Height)
		end := p.at(c.Points[len(c.Points)-1])
		l.FromX, l.FromY, l.ToX = end.X, end.Y, p.W+labelGap
		d.Lines = append(d.Lines, l)
	}
	for _, t := range scene.Scale {
		q := p.at(t.At)
		long := tickLong / 2.0
		if t.Label != "" {
			long = tickLong
		}
		d.Ticks = append(d.Ticks, drawnTick{q.X, q.Y, q.X - long, t.Label})
	}
	d.spread()
	d.Alt = d.alt(photo, o)
	return d
}

// spread moves the labels apart.
func (d *drawing) spread() {
	var list []label
	for _, l := range d.named() {
		list = append(list, label{text: l.Name, y: min(max(l.FromY, labelTop), labelBottom)})
	}
	spread1D(list, labelApart, labelTop, labelBottom)
	for i := range d.Lines {
		for _, l := range list {
			if l.text == d.Lines[i].Name {
				d.Lines[i].Y = l.y
			}
		}
	}
}

// named are the lines that have a name, from the lowest up.
func (d drawing) named() []drawnLine {
	var out []drawnLine
	for _, l := range d.Lines {
		if l.Name != "" {
			out = append(out, l)
		}
	}
	return out
}

// scale is the line that carries the ticks.
func (d drawing) scale() string {
	if len(d.Ticks) < 2 {
		return ""
	}
	a, b := d.Ticks[0], d.Ticks[len(d.Ticks)-1]
	return fmt.Sprintf("%.1f,%.1f %.1f,%.1f", a.X, a.Y, b.X, b.Y)
}

// alt states what is seen on the photo.
func (d drawing) alt(p reading.Photo, o Options) string {
	var seen words.Message
	for _, l := range d.named() {
		if l.Value != "" {
			seen = words.Then(seen, words.Say("report.line-at", words.Name("line", l.Name), words.Name("height", l.Value)))
		}
	}
	after := words.Name("time", o.elapsed(p.ElapsedS))
	if seen.IsZero() {
		return o.say("report.alt-bare", after)
	}
	return o.say("report.alt", after, words.Told("lines", seen))
}

// plusMinus writes +- as one sign.
func plusMinus(s string) string { return strings.ReplaceAll(s, "+-", "±") }

func (p picture) point(q Point) string {
	q = p.at(q)
	return fmt.Sprintf("%s,%s", tenth(q.X), tenth(q.Y))
}

func (p picture) path(points []Point) string {
	out := make([]string, len(points))
	for i, q := range points {
		out[i] = p.point(q)
	}
	return strings.Join(out, " ")
}

func tenth(v float64) string { return fmt.Sprintf("%g", math.Round(10*v)/10) }
