package report

import (
	"image"
	"image/color"
	"strings"

	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/opentype"
	"golang.org/x/image/math/fixed"
)

// The fonts are embedded in the program, so parsing them cannot fail.
var regular, bold = mustParse(goregular.TTF), mustParse(gobold.TTF)

func mustParse(ttf []byte) *opentype.Font {
	f, err := opentype.Parse(ttf)
	if err != nil {
		panic(err)
	}
	return f
}

// letters is a font at one size, in pixels.
type letters struct {
	face font.Face
	size float64
}

func newLetters(f *opentype.Font, size float64) letters {
	face, err := opentype.NewFace(f, &opentype.FaceOptions{Size: size, DPI: 72, Hinting: font.HintingNone})
	if err != nil { // only for sizes that are not positive
		panic(err)
	}
	return letters{face, size}
}

// width is the width of a text in pixels.
func (l letters) width(text string) float64 {
	return float64(font.MeasureString(l.face, text)) / 64
}

// write draws text with its baseline starting at x, y.
func (l letters) write(pic *image.RGBA, text string, x, y float64, col color.Color) {
	d := font.Drawer{Dst: pic, Src: image.NewUniform(col), Face: l.face,
		Dot: fixed.Point26_6{X: fixed.Int26_6(x * 64), Y: fixed.Int26_6(y * 64)}}
	d.DrawString(text)
}

// fit shortens a text until it is at most so wide.
func (l letters) fit(text string, width float64) string {
	r := []rune(text)
	if l.width(text) <= width {
		return text
	}
	for len(r) > 0 && l.width(string(r)+"…") > width {
		r = r[:len(r)-1]
	}
	return string(r) + "…"
}

// lines breaks a text into lines of at most that width.
func (l letters) lines(text string, width float64) []string {
	var out []string
	line := ""
	for _, word := range strings.Fields(text) {
		next := word
		if line != "" {
			next = line + " " + word
		}
		if line != "" && l.width(next) > width {
			out = append(out, line)
			next = word
		}
		line = next
	}
	return append(out, line)
}
