package main

import (
	"fmt"
	"image"
	"math"
	"slices"
	"strings"

	"mudline/imaging/colour"
	"mudline/internal/jartest"
)

// light is another light or camera that rendered photos are seen in: what was fitted to
// them as they are has not seen them so.
type light struct {
	name    string
	change  func(*image.RGBA) *image.RGBA // nil for none
	quality int                           // of the JPEG they are saved as
}

// lights are those that photos can be seen in. Sizes are our own: what a kitchen lamp, a
// window at one side, a cheap lens or a messenger do.
var lights = []light{
	{"again", nil, 90}, // saved once more, to compare with
	{"dim", byLight(func(_ float64, c [3]float64) [3]float64 { return times(c, 0.3, 0.3, 0.3) }), 90},
	{"bright", byLight(func(_ float64, c [3]float64) [3]float64 { return times(c, 2.2, 2.2, 2.2) }), 90},
	{"lamp", byLight(func(_ float64, c [3]float64) [3]float64 { return times(c, 1.5, 1, 0.5) }), 90},
	{"shade", byLight(func(_ float64, c [3]float64) [3]float64 { return times(c, 0.7, 1, 1.5) }), 90},
	{"window", byLight(func(x float64, c [3]float64) [3]float64 { g := 0.45 + 1.1*x; return times(c, g, g, g) }), 90},
	{"hazy", byLevel(func(v float64) float64 { return 0.27 + 0.55*v }), 90},
	{"hard", byLevel(func(v float64) float64 { return 0.8*v*v*(3-2*v) + 0.2*v }), 90},
	{"grey", byLight(func(_ float64, c [3]float64) [3]float64 {
		y := 0.2126*c[0] + 0.7152*c[1] + 0.0722*c[2] // IEC 61966-2-1
		return [3]float64{y, y, y}
	}), 90},
	{"soft", func(pic *image.RGBA) *image.RGBA {
		return jartest.Blurred(pic, 1.6*float64(max(pic.Rect.Dx(), pic.Rect.Dy()))/1200)
	}, 90},
	{"grainy", func(pic *image.RGBA) *image.RGBA { return jartest.Exposed(pic, 1, 8) }, 60},
	{"rough", nil, 30},
}

// lightNamed finds a light; the error lists all.
func lightNamed(name string) (*light, error) {
	names := make([]string, len(lights))
	for i := range lights {
		if names[i] = lights[i].name; names[i] == name {
			return &lights[i], nil
		}
	}
	slices.Sort(names)
	return nil, fmt.Errorf("no light %q: use one of %s", name, strings.Join(names, ", "))
}

// seen is a photo's file as it would be in that light.
func (l *light) seen(data []byte) ([]byte, error) {
	if l == nil {
		return data, nil
	}
	return jartest.Changed(data, l.change, l.quality)
}

func times(c [3]float64, r, g, b float64) [3]float64 {
	return [3]float64{r * c[0], g * c[1], b * c[2]}
}

// byLight changes the light, 0 to 1, of every pixel; x is its place from left to right, 0 to 1.
func byLight(change func(x float64, c [3]float64) [3]float64) func(*image.RGBA) *image.RGBA {
	return func(pic *image.RGBA) *image.RGBA {
		w := pic.Rect.Dx()
		for i := 0; i < len(pic.Pix); i += 4 {
			p := pic.Pix[i : i+3 : i+3]
			c := change(float64(i/4%w)/float64(w), [3]float64{colour.LightOf(p[0]), colour.LightOf(p[1]), colour.LightOf(p[2])})
			for k := range p {
				p[k] = uint8(min(colour.Level(c[k])+0.5, 255))
			}
		}
		return pic
	}
}

// byLevel changes the levels, 0 to 1, of every pixel as a camera's tone curve does.
func byLevel(change func(v float64) float64) func(*image.RGBA) *image.RGBA {
	var to [256]uint8
	for v := range to {
		to[v] = uint8(math.Round(255 * min(max(change(float64(v)/255), 0), 1)))
	}
	return func(pic *image.RGBA) *image.RGBA {
		for i := range pic.Pix {
			if i%4 < 3 {
				pic.Pix[i] = to[pic.Pix[i]]
			}
		}
		return pic
	}
}
