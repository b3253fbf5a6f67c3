package jar

import (
	"image"
	"math"
	"slices"
	"strings"

	"golang.org/x/image/draw"

	"mudline/imaging"
	"mudline/internal/reading"
	"mudline/internal/words"
)

// thinned stands for a front that was let go.
var thinned = image.NewRGBA(image.Rectangle{})

// finish makes the reading of a film from the photos that are left.
func (r *roll) finish(warnings []reading.Warning) (*Result, error) {
	stands := make([]located, len(r.photos))
	film := &Film{}
	for i, f := range r.photos {
		photo := f.got.Photo
		switch {
		case f.photo != nil:
			photo.Picture = f.photo.Picture
		case f.scene != nil:
			photo.Picture = f.scene.Picture
		}
		stands[i] = located{source: source{file: f.file, photo: &photo, sheets: f.sheets, marks: f.marks}, elapsed: f.elapsed, found: &f.got.Place}
	}
	frames, behind, err := frameAll(stands, r.given)
	if err != nil {
		return nil, err
	}
	known := behind.known(r.given)
	jars := make([]*seen, len(frames))
	for i, f := range r.photos {
		s := &seen{framed: *frames[i], shown: f.shown}
		s.outline = outline{s.frame, f.got.Widths, true}
		jars[i] = s
		if f.got.Front != thinned {
			film.Frames = append(film.Frames, FilmFrame{File: f.file, ElapsedS: f.elapsed.Time.Seconds(), Front: f.got.Front, Top: stripTop, Bottom: stripBottom, Wide: wide(s.frame)})
		}
	}
	shots, err := tellLines(jars, known)
	if err != nil {
		return nil, err
	}
	res, err := assemble(shots, known, behind, r.opt.Engine, append(r.leftOut.doubt(r.total, true), warnings...), nil)
	if err != nil {
		return nil, err
	}
	res.Film = film
	slices.SortStableFunc(r.leftOut, func(a, b reading.LeftOut) int { return strings.Compare(a.File, b.File) })
	res.Reading.LeftOut = r.leftOut
	res.Reading.Warnings = oncePerCode(res.Reading.Warnings)
	return res, nil
}

// wide is the width of a straightened front as a share of its height, as it is seen.
func wide(f imaging.Frame) float64 {
	height := math.Hypot(f.Water.X-f.Floor.X, f.Water.Y-f.Floor.Y) * (stripTop - stripBottom)
	return imaging.StripSpan * (f.HalfWidthFloor + f.HalfWidthWater) / height
}

// oncePerCode says of many photos with the same doubt that they have it, once.
func oncePerCode(all []reading.Warning) []reading.Warning {
	count := map[reading.WarningCode]int{}
	for _, w := range all {
		count[w.Code]++
	}
	var out []reading.Warning
	for _, w := range all {
		n := count[w.Code]
		if n == 0 {
			continue // said already
		}
		if n > 1 {
			w = reading.Warn(w.Code, words.Say("jar.more-like-this", words.Told("text", w.Message()), words.Whole("more", n-1)), w.Help())
		}
		count[w.Code] = 0
		out = append(out, w)
	}
	return out
}

func middle(v []float64) float64 {
	if len(v) == 0 {
		return math.NaN()
	}
	v = slices.Clone(v)
	slices.Sort(v)
	return v[len(v)/2]
}

// tallFront is how many rows a kept front has at most.
const tallFront = 400

// small is a front with at most tallFront rows, as wide as it was.
func small(front *image.RGBA) *image.RGBA {
	if front.Rect.Dy() <= tallFront {
		return front
	}
	out := image.NewRGBA(image.Rect(0, 0, front.Rect.Dx(), tallFront))
	draw.BiLinear.Scale(out, out.Rect, front, front.Rect, draw.Src, nil)
	return out
}
