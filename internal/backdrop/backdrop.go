// Package backdrop draws the sheet that stands behind a jar: what is printed where,
// as boxes and words, and as SVG. Package press makes PDF and PNG of it.
package backdrop

import (
	"strconv"
	"strings"
	"unicode/utf8"

	"mudline/imaging/sheetmark"
	"mudline/internal/words"
)

// Sheet is what is told of a sheet to print.
type Sheet struct {
	Identity sheetmark.Identity
	Paper    sheetmark.Paper
	// Name is the jar's; it may be empty.
	Name string
	// Language is that of the words; nil is English.
	Language *words.Language
}

// Print is what is printed on a sheet, in sheet coordinates; see package sheetmark.
type Print struct {
	Paper sheetmark.Paper
	Boxes []Box
	Words []Word
}

// Box is a filled rectangle. Ink is how much of black it has, 0 to 1.
type Box struct{ X0, Y0, X1, Y1, Ink float64 }

// Word is a line of text with its baseline at Y.
type Word struct {
	X, Y float64
	// SizeMM is the size of the font, its em.
	SizeMM float64
	Bold   bool
	// Side is where X is: -1 the start of the text, 0 its middle, 1 its end.
	Side int
	Ink  float64
	Text string
}

const (
	black = 1.0
	soft  = 0.62 // of words and ticks that shall not catch the eye
)

// Draw lays the sheet out. The error says why its code cannot hold the name.
func Draw(s Sheet) (*Print, error) {
	t := textsIn(s.Language)
	p := &Print{Paper: s.Paper}
	for i := range sheetmark.Marks {
		p.mark(sheetmark.Code{Identity: s.Identity, Paper: s.Paper, Mark: i})
	}
	for _, c := range sheetmark.Patches() {
		const h = sheetmark.PatchMM / 2
		p.box(c.Mid.X-h, c.Mid.Y-h, c.Mid.X+h, c.Mid.Y+h, c.Ink)
	}
	p.scales(t)
	if err := p.code(s); err != nil {
		return nil, err
	}
	p.head(s, t)
	p.foot(t)
	return p, nil
}

func (p *Print) box(x0, y0, x1, y1, ink float64) {
	p.Boxes = append(p.Boxes, Box{x0, y0, x1, y1, ink})
}

// overlap is how far the rows of a code lie over the next, so that no hair of paper
// shows between them.
const overlap = 0.03

// mark is a black square with its white fields, a box for each row's stretch.
func (p *Print) mark(c sheetmark.Code) {
	const field, n = sheetmark.MarkMM / sheetmark.Modules, sheetmark.Modules - 2
	m, f := sheetmark.Mark(c.Mark), c.Fields()
	left, top := m.X-sheetmark.MarkMM/2, m.Y+sheetmark.MarkMM/2
	p.box(left, top-sheetmark.MarkMM, left+sheetmark.MarkMM, top, black)
	for r := range n {
		y := top - field*float64(r+1)
		eachStretch(n, func(i int) bool { return !f[r*n+i] }, func(from, to int) {
			p.box(left+field*float64(from+1), y-field-overlap, left+field*float64(to+1), y, 0)
		})
	}
}

// eachStretch calls found for each longest stretch, from up to to, of what holds.
func eachStretch(n int, holds func(int) bool, found func(from, to int)) {
	for i := 0; i < n; i++ {
		from := i
		for i < n && holds(i) {
			i++
		}
		if i > from {
			found(from, i)
		}
	}
}

// Ticks of the scales: how thick, and how long.
const (
	tickWide          = 0.25
	tickShort         = 1.6
	tickMid           = 2.6
	tickLong          = 4.0
	millimetresAnInch = 25.4
)

// scales are ticks of millimetres on the left and of eighths of an inch on the right,
// counted from the paper's lower edge, which stands on the table.
func (p *Print) scales(t texts) {
	for mm := sheetmark.ScaleLow; mm <= sheetmark.ScaleTop; mm++ {
		long := tickShort
		switch {
		case mm%10 == 0:
			long = tickLong
			p.word(-sheetmark.ScaleX+tickLong+0.8, float64(mm)-0.9, 2.6, -1, strconv.Itoa(mm))
		case mm%5 == 0:
			long = tickMid
		}
		p.box(-sheetmark.ScaleX, float64(mm)-tickWide/2, -sheetmark.ScaleX+long, float64(mm)+tickWide/2, soft)
	}
	for k := 4; float64(k)*millimetresAnInch/8 <= sheetmark.ScaleTop; k++ {
		y, long := float64(k)*millimetresAnInch/8, tickShort
		switch {
		case k%8 == 0:
			long = tickLong
			p.word(sheetmark.ScaleX-tickLong-0.8, y-0.9, 2.6, 1, strconv.Itoa(k/8))
		case k%4 == 0:
			long = tickMid
		}
		p.box(sheetmark.ScaleX-long, y-tickWide/2, sheetmark.ScaleX, y+tickWide/2, soft)
	}
	p.word(-sheetmark.ScaleX, sheetmark.ScaleTop+2.2, 2.6, -1, t.mm)
	p.word(sheetmark.ScaleX, sheetmark.ScaleTop+2.2, 2.6, 1, t.inch)
}

func (p *Print) word(x, y, size float64, side int, text string) {
	p.Words = append(p.Words, Word{X: x, Y: y, SizeMM: size, Side: side, Ink: soft, Text: text})
}

// code is the square code with identity and name.
func (p *Print) code(s Sheet) error {
	c, err := sheetmark.EncodeName(s.Identity, s.Name)
	if err != nil {
		return err
	}
	field := sheetmark.QRMM / float64(c.Size)
	left, top := sheetmark.QRMid.X-sheetmark.QRMM/2, sheetmark.QRMid.Y+sheetmark.QRMM/2
	for r := range c.Size {
		y := top - field*float64(r)
		eachStretch(c.Size, func(i int) bool { return c.Black(i, r) }, func(from, to int) {
			p.box(left+field*float64(from), y-field-overlap, left+field*float64(to), y, black)
		})
	}
	return nil
}

const (
	headX     = -75.5
	headRoom  = 104.0 // millimetres from headX to what stands right of it
	nameMost  = 19.0
	nameLeast = 4.5
	// letterWide is how wide letters are on the mean, in sizes of the bold font: wide
	// enough for the fonts of browsers.
	letterWide = 0.64
)

// head is the jar's name, the identity, the line to measure and how to use the sheet.
func (p *Print) head(s Sheet, t texts) {
	lines, size := fitName(s.Name)
	y := 263.0 - 0.74*size
	for _, l := range lines {
		p.Words = append(p.Words, Word{X: headX, Y: y, SizeMM: size, Bold: true, Side: -1, Ink: black, Text: l})
		y -= 1.1 * size
	}
	p.Words = append(p.Words, Word{X: headX, Y: 240, SizeMM: 4.2, Side: -1, Ink: soft, Text: t.sheet + " " + s.Identity.String()})
	const lineY, half = 233.5, 0.15
	p.box(headX, lineY-half, headX+sheetmark.CheckMM, lineY+half, black)
	for _, x := range []float64{headX, headX + sheetmark.CheckMM} {
		inward := 2 * half
		if x > headX {
			inward = -inward
		}
		p.box(min(x, x+inward), lineY-1.6, max(x, x+inward), lineY+1.6, black)
	}
	p.word(headX+sheetmark.CheckMM/2, lineY+1.3, 3, 0, t.check)
	for i, l := range t.how {
		p.word(headX+0.8, lineY-4.8-3.9*float64(i), 2.9, -1, l)
	}
}

// fitName breaks a name into at most two lines and gives the size at which they fit.
func fitName(name string) (lines []string, size float64) {
	name = strings.Join(strings.Fields(name), " ")
	if name == "" {
		return nil, nameMost
	}
	fits := func(s string) float64 { return headRoom / (letterWide * float64(max(utf8.RuneCountInString(s), 1))) }
	if one := fits(name); one >= 10 || !strings.Contains(name, " ") {
		return []string{name}, max(nameLeast, min(nameMost, one))
	}
	best := 0.0
	for i, c := range name {
		if c != ' ' {
			continue
		}
		if f := min(fits(name[:i]), fits(name[i+1:])); f > best {
			best, lines = f, []string{name[:i], name[i+1:]}
		}
	}
	return lines, max(nameLeast, min(nameMost/2, best))
}

// foot shows where the jar stands; a jar hides it.
func (p *Print) foot(t texts) {
	p.word(0, 9, 3.4, 0, t.foot)
	p.box(-26, 6.4, 26, 6.7, soft)
}
