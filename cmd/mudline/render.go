package main

import (
	"bytes"
	"image"
	"image/jpeg"
	"math"

	"golang.org/x/image/draw"

	"mudline/imaging"
	"mudline/internal/advice"
	"mudline/internal/batch"
	"mudline/internal/files"
	"mudline/internal/jar"
	"mudline/internal/report"
	"mudline/internal/words"
)

// The sizes of a batch's pictures, in pixels: the longer side of an annotated
// photo, the height of a thumbnail.
const (
	annotatedSide = imaging.WorkingSide / 2
	thumbHeight   = 128
	pictureJPEG   = 80
)

// renderIn gives what makes the files of one jar of a batch beside its reading.json,
// with the report in a language.
func renderIn(l *words.Language) func(batch.Outcome) ([]files.File, error) {
	return func(o batch.Outcome) ([]files.File, error) { return renderJar(o, l) }
}

func renderJar(o batch.Outcome, l *words.Language) ([]files.File, error) {
	in := report.ReportInput{Cautions: advice.Cautions(), Options: report.Options{Inches: o.Jar.Record.Inches, Fahrenheit: o.Jar.Record.Fahrenheit, Language: l.In(words.Setting{Surface: words.Batch})}}
	if o.Refusal != nil {
		in = report.RefusedInput(o.Jar.Name, o.Refusal, o.Files, in.Options)
		in.Cautions = advice.Cautions()
	} else {
		in.Result = *o.Result
	}
	var page bytes.Buffer
	if err := report.HTML(&page, in); err != nil {
		return nil, err
	}
	list, err := drawn(in)
	return append(list, files.File{Name: batch.ReportName, Data: page.Bytes()}), err
}

// drawn makes the annotated photos, and a thumbnail of the last one.
func drawn(in report.ReportInput) (list []files.File, err error) {
	used := map[string]bool{batch.ThumbName: true}
	var last *image.RGBA
	for _, s := range in.Result.Scenes {
		if s.Picture == nil {
			continue
		}
		s = smaller(s)
		last = jarOf(s)
		photo, ok := photoOf(in.Result.Reading, s.File)
		if !ok {
			continue
		}
		f, err := picture(drawnName(s.File, ".read.jpg", used), report.Annotate(report.Scene(s.Picture, s.Frame, photo, in.Result.Reading, in.Options)))
		if err != nil {
			return nil, err
		}
		list = append(list, f)
	}
	if last == nil {
		return list, nil
	}
	f, err := picture(batch.ThumbName, thumbnail(last))
	return append(list, f), err
}

func picture(name string, pic image.Image) (files.File, error) {
	var b bytes.Buffer
	err := jpeg.Encode(&b, pic, &jpeg.Options{Quality: pictureJPEG})
	return files.File{Name: name, Data: b.Bytes()}, err
}

// smaller halves a scene that is larger than annotated photos are.
func smaller(s jar.Scene) jar.Scene {
	if max(s.Picture.Rect.Dx(), s.Picture.Rect.Dy()) <= annotatedSide {
		return s
	}
	k := float64(s.Picture.Rect.Dx()/2) / float64(s.Picture.Rect.Dx())
	s.Picture = halved(s.Picture)
	s.Frame, s.Scale = s.Frame.Scaled(k), s.Scale/k
	return s
}

// halved makes one pixel of every four; an odd last row or column is left out.
func halved(pic *image.RGBA) *image.RGBA {
	out := image.NewRGBA(image.Rect(0, 0, pic.Rect.Dx()/2, pic.Rect.Dy()/2))
	for y := range out.Rect.Dy() {
		upper := pic.Pix[2*y*pic.Stride:][: 4*pic.Rect.Dx() : 4*pic.Rect.Dx()]
		lower := pic.Pix[(2*y+1)*pic.Stride:][: 4*pic.Rect.Dx() : 4*pic.Rect.Dx()]
		row := out.Pix[y*out.Stride:][:4*out.Rect.Dx()]
		for i := 0; i+3 < len(row); i += 4 {
			u, l, to := upper[2*i:2*i+8:2*i+8], lower[2*i:2*i+8:2*i+8], row[i:i+4:i+4]
			for k := range to {
				to[k] = uint8((int(u[k]) + int(u[k+4]) + int(l[k]) + int(l[k+4]) + 2) / 4)
			}
		}
	}
	return out
}

// thumbnail reduces a part of a picture to the height of thumbnails.
func thumbnail(pic *image.RGBA) *image.RGBA {
	w := max(thumbHeight*pic.Rect.Dx()/max(pic.Rect.Dy(), 1), 1)
	out := image.NewRGBA(image.Rect(0, 0, w, thumbHeight))
	draw.BiLinear.Scale(out, out.Rect, pic, pic.Rect, draw.Src, nil)
	return out
}

// jarOf cuts the jar out of a scene; all of it where none was found.
func jarOf(s jar.Scene) *image.RGBA {
	if s.Frame == (imaging.Frame{}) {
		return s.Picture
	}
	box := image.Rectangle{}
	for _, p := range []imaging.Point{s.Frame.At(-1.15, -0.1), s.Frame.At(1.15, -0.1), s.Frame.At(-1.15, 1.15), s.Frame.At(1.15, 1.15)} {
		x, y := int(math.Round(p.X)), int(math.Round(p.Y))
		box = box.Union(image.Rect(x, y, x+1, y+1))
	}
	if box = box.Intersect(s.Picture.Rect); box.Dx() < 8 || box.Dy() < 8 {
		return s.Picture
	}
	return s.Picture.SubImage(box).(*image.RGBA)
}
