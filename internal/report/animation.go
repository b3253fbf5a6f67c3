package report

import (
	"image"
	"image/color"
	"io"
	"math"
	"time"

	"golang.org/x/image/draw"

	"mudline/internal/apng"
	"mudline/internal/jar"
	"mudline/internal/raster"
	"mudline/internal/reading"
	"mudline/internal/words"
)

const (
	animationRows    = 330 // of the jar
	animationText    = 26  // below it
	animationColours = 128
	animationShown   = 220 * time.Millisecond // of one moment; the last is shown longer
	animationLast    = 2 * time.Second
)

// Animation writes the straightened jar moment by moment as an animated PNG picture,
// with the top of the soil and the time. It writes nothing where there is no film.
func Animation(w io.Writer, res jar.Result, l *words.Language) error {
	if res.Film == nil || len(res.Film.Frames) < 2 {
		return nil
	}
	var pictures []*image.RGBA
	for _, f := range res.Film.Frames {
		f.Wide = res.Film.Frames[0].Wide // a hair's breadth of difference is the finder's
		pictures = append(pictures, moment(f, res.Reading, l))
	}
	palette := apng.Palette(pictures, animationColours)
	var frames []apng.Frame
	for _, p := range pictures {
		frames = append(frames, apng.Frame{Picture: apng.Reduced(p, palette), Shown: animationShown})
	}
	frames[len(frames)-1].Shown = animationLast
	return apng.Encode(w, frames)
}

// moment draws one moment of the animation.
func moment(f jar.FilmFrame, r reading.Reading, l *words.Language) *image.RGBA {
	wide := int(math.Round(min(max(f.Wide, 0.3), 2) * animationRows))
	pic := image.NewRGBA(image.Rect(0, 0, wide, animationRows+animationText))
	c := raster.Canvas{Pic: pic}
	ground, ink := color.NRGBA{255, 253, 248, 255}, color.NRGBA{43, 33, 25, 255}
	c.Box(0, 0, float64(wide), animationRows+animationText, ground)
	draw.BiLinear.Scale(pic, image.Rect(0, 0, wide, animationRows), f.Front, f.Front.Rect, draw.Src, nil)
	if p, ok := photoNamed(r, f.File); ok && p.HeightsPercent != nil {
		mark := func(h *reading.Height, from float64) {
			if h == nil {
				return
			}
			y := animationRows * (f.Top - h.Value/100) / (f.Top - f.Bottom)
			line := []raster.Point{{X: from * float64(wide), Y: y}, {X: float64(wide), Y: y}}
			c.Stroke(line, 4, ground)
			c.Stroke(line, 2, ink)
		}
		mark(p.HeightsPercent.DepositTop, 0.9)
		mark(p.HeightsPercent.SandTop, 0.95)
	}
	letters := raster.Bold(15)
	text := l.Text("as-it-is", words.Arg{Name: "text", Value: words.Elapsed{Seconds: f.ElapsedS}})
	outline := letters.Outline(text)
	for _, path := range outline.Outlines {
		for i := range path {
			path[i].X += (float64(wide) - letters.Width(text)) / 2
			path[i].Y += animationRows + 19
		}
	}
	c.Fill(outline, ink)
	return pic
}

func photoNamed(r reading.Reading, file string) (reading.Photo, bool) {
	for _, p := range r.Photos {
		if p.File == file {
			return p, true
		}
	}
	return reading.Photo{}, false
}
