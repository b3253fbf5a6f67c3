package look

import (
	"image/color"
	"strconv"

	"mudline/imaging/colour"
)

// Contrast is the contrast ratio of two colours "#rrggbb", 1 to 21, by WCAG 2.2
// (definitions of contrast ratio and relative luminance). It is 0 where one is no
// colour.
func Contrast(a, b string) float64 {
	x, okA := RGBA(a)
	y, okB := RGBA(b)
	if !okA || !okB {
		return 0
	}
	lo, hi := luminance(x), luminance(y)
	if lo > hi {
		lo, hi = hi, lo
	}
	return (hi + 0.05) / (lo + 0.05)
}

// InkOn is black or white, whichever stands out more on a colour: at least 4.5
// to 1 on any.
func InkOn(hex string) string {
	if Contrast(hex, "#000000") >= Contrast(hex, "#ffffff") {
		return "#000000"
	}
	return "#ffffff"
}

func luminance(c color.RGBA) float64 {
	return 0.2126*colour.LightOf(c.R) + 0.7152*colour.LightOf(c.G) + 0.0722*colour.LightOf(c.B)
}

// RGBA is a colour "#rrggbb" without transparency; false where the text is none.
func RGBA(s string) (color.RGBA, bool) {
	if len(s) != 7 || s[0] != '#' {
		return color.RGBA{}, false
	}
	v, err := strconv.ParseUint(s[1:], 16, 24)
	if err != nil {
		return color.RGBA{}, false
	}
	return color.RGBA{uint8(v >> 16), uint8(v >> 8), uint8(v), 255}, true
}
