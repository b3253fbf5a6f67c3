package report

import (
	"bytes"
	"encoding/base64"
	"fmt"
	"html/template"
	"image"
	"image/jpeg"
	"math"

	"golang.org/x/image/draw"

	"mudline/imaging"
	"mudline/internal/jar"
)

// The part of a photo that a report shows, in jar coordinates: the jar with a
// little of what is around it, the lid and the scale.
const (
	cutLeft   = -1.75
	cutRight  = 1.42
	cutTop    = 1.3
	cutBottom = -0.14
)

// The sizes of a report's pictures. All together stay under pictureBytes, so
// that a report stays under 2 MB with what is written in it.
const (
	pictureHeight = 800
	pictureLeast  = 240
	pictureBytes  = 1_150_000
	jpegQuality   = 82
)

// cut is the part of a picture to show.
func cut(s jar.Scene) image.Rectangle {
	bounds := s.Picture.Rect
	f := s.Frame
	if f == (imaging.Frame{}) {
		return bounds
	}
	box := image.Rectangle{}
	// The middle of an arc hangs below its ends, or stands above them.
	for _, p := range []imaging.Point{f.At(cutLeft, cutBottom), f.At(cutRight, cutBottom), f.At(cutLeft, cutTop), f.At(cutRight, cutTop),
		f.At(0, cutBottom), f.At(0, cutTop)} {
		x, y := int(math.Round(p.X)), int(math.Round(p.Y))
		box = box.Union(image.Rect(x, y, x+1, y+1))
	}
	if box = box.Intersect(bounds); box.Empty() {
		return bounds
	}
	return box
}

// encodePictures reduces the cuts of all scenes and encodes them, as large as
// the bytes allow.
func encodePictures(scenes []jar.Scene) ([]picture, error) {
	for height := float64(pictureHeight); ; height *= 0.8 {
		total := 0
		out := make([]picture, len(scenes))
		for i, s := range scenes {
			p, err := encodePicture(s, height)
			if err != nil {
				return nil, fmt.Errorf("%s: %w", s.File, err)
			}
			out[i] = p
			total += base64.StdEncoding.EncodedLen(len(p.jpeg))
		}
		if total <= pictureBytes || height < pictureLeast {
			return out, nil
		}
	}
}

// picture is a cut as the report holds it: W and H are its units in the
// drawing, whose height is always drawHeight.
type picture struct {
	jpeg []byte
	box  image.Rectangle
	W, H float64
}

// drawHeight is the height of a photo in the units of its drawing, so that line
// widths and type are the same in all.
const drawHeight = 600

func encodePicture(s jar.Scene, height float64) (picture, error) {
	box := cut(s)
	w, h := float64(box.Dx()), float64(box.Dy())
	k := math.Min(1, height/math.Max(w, h))
	small := image.NewRGBA(image.Rect(0, 0, max(1, int(w*k)), max(1, int(h*k))))
	draw.BiLinear.Scale(small, small.Rect, s.Picture, box, draw.Src, nil)
	var b bytes.Buffer
	if err := jpeg.Encode(&b, small, &jpeg.Options{Quality: jpegQuality}); err != nil {
		return picture{}, err
	}
	return picture{jpeg: b.Bytes(), box: box, W: math.Round(drawHeight * w / h), H: drawHeight}, nil
}

// source is the picture as a data URL.
func (p picture) source() template.URL {
	return template.URL("data:image/jpeg;base64," + base64.StdEncoding.EncodeToString(p.jpeg))
}

// at turns a pixel of the working picture into units of the drawing.
func (p picture) at(q Point) Point {
	k := p.H / float64(p.box.Dy())
	return Point{X: (q.X - float64(p.box.Min.X)) * k, Y: (q.Y - float64(p.box.Min.Y)) * k}
}
