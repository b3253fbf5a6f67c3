package raster

import (
	"image"
	"image/color"
	"strings"
	"sync"

	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/opentype"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
)

// fonts are parsed where they are first used. Nothing at the start of a program
// refers to them, so that the linker leaves them out of one that draws no letters.
var fonts struct {
	regular, bold         *opentype.Font
	onceRegular, onceBold sync.Once
}

func regular() *opentype.Font {
	fonts.onceRegular.Do(func() { fonts.regular = mustParse(goregular.TTF) })
	return fonts.regular
}

func bold() *opentype.Font {
	fonts.onceBold.Do(func() { fonts.bold = mustParse(gobold.TTF) })
	return fonts.bold
}

// mustParse parses an embedded font, which cannot fail.
func mustParse(ttf []byte) *opentype.Font {
	f, err := opentype.Parse(ttf)
	if err != nil {
		panic(err)
	}
	return f
}

// Letters is a font at one size, in pixels.
type Letters struct {
	Size float64
	face font.Face
	font *opentype.Font
}

// Regular and Bold are the two fonts at a size in pixels, above 0.
func Regular(size float64) Letters { return newLetters(regular(), size) }

// Bold is the heavy font; see Regular.
func Bold(size float64) Letters { return newLetters(bold(), size) }

func newLetters(f *opentype.Font, size float64) Letters {
	face, err := opentype.NewFace(f, &opentype.FaceOptions{Size: size, DPI: 72, Hinting: font.HintingNone})
	if err != nil { // only for sizes that are not positive
		panic(err)
	}
	return Letters{size, face, f}
}

// Width is the width of a text in pixels.
func (l Letters) Width(text string) float64 {
	return float64(font.MeasureString(l.face, drawable(text))) / 64
}

// drawable puts a space that the font has in the place of the narrow one that it lacks.
func drawable(text string) string { return strings.ReplaceAll(text, "\u202f", "\u00a0") }

// Write draws text with its baseline starting at x, y.
func (l Letters) Write(pic *image.RGBA, text string, x, y float64, col color.Color) {
	d := font.Drawer{Dst: pic, Src: image.NewUniform(col), Face: l.face,
		Dot: fixed.Point26_6{X: fixed.Int26_6(x * 64), Y: fixed.Int26_6(y * 64)}}
	d.DrawString(drawable(text))
}

// curveSteps is how many lines stand for a curve of a letter.
const curveSteps = 4

// Outline is the text as an area with its baseline starting at 0, 0: it can be
// turned.
func (l Letters) Outline(text string) Area {
	var out Area
	var b sfnt.Buffer
	ppem := fixed.Int26_6(l.Size * 64)
	x := 0.0
	for _, r := range drawable(text) {
		// Errors are those of a broken font; the glyph is then left out.
		glyph, _ := l.font.GlyphIndex(&b, r)
		segments, err := l.font.LoadGlyph(&b, glyph, ppem, nil)
		if err == nil {
			out.Outlines = append(out.Outlines, flatten(segments, x)...)
		}
		advance, err := l.font.GlyphAdvance(&b, glyph, ppem, font.HintingNone)
		if err == nil {
			x += float64(advance) / 64
		}
	}
	return out
}

// flatten turns a glyph's outlines into straight pieces, moved right by x.
func flatten(segments sfnt.Segments, x float64) [][]Point {
	var out [][]Point
	for _, s := range segments {
		at := func(i int) Point { return Point{x + float64(s.Args[i].X)/64, float64(s.Args[i].Y) / 64} }
		if s.Op == sfnt.SegmentOpMoveTo {
			out = append(out, []Point{at(0)})
			continue
		}
		if len(out) == 0 {
			continue
		}
		line := &out[len(out)-1]
		from := (*line)[len(*line)-1]
		switch s.Op {
		case sfnt.SegmentOpLineTo:
			*line = append(*line, at(0))
		case sfnt.SegmentOpQuadTo: // TrueType has no other curves
			a, b := at(0), at(1)
			for i := 1; i <= curveSteps; i++ {
				t := float64(i) / curveSteps
				u := 1 - t
				*line = append(*line, Point{u*u*from.X + 2*u*t*a.X + t*t*b.X, u*u*from.Y + 2*u*t*a.Y + t*t*b.Y})
			}
		}
	}
	return out
}

// Fit shortens a text until it is at most so wide.
func (l Letters) Fit(text string, width float64) string {
	r := []rune(text)
	if l.Width(text) <= width {
		return text
	}
	for len(r) > 0 && l.Width(string(r)+"…") > width {
		r = r[:len(r)-1]
	}
	return string(r) + "…"
}

// Lines breaks a text into lines of at most that width, at spaces that may break.
func (l Letters) Lines(text string, width float64) []string {
	var out []string
	line := ""
	for _, word := range strings.FieldsFunc(text, func(r rune) bool { return r == ' ' || r == '\n' || r == '\t' }) {
		next := word
		if line != "" {
			next = line + " " + word
		}
		if line != "" && l.Width(next) > width {
			out = append(out, line)
			next = word
		}
		line = next
	}
	return append(out, line)
}
