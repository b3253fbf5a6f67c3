package imaging

import (
	"errors"
	"fmt"
	"image"
	"time"
)

// Photo is one decoded picture, upright and reduced to the working size.
type Photo struct {
	// Name says which file it was, for messages.
	Name string
	// Picture is upright, at origin 0,0, its longer side at most WorkingSide.
	Picture *image.RGBA
	// FullW, FullH are the size of the upright picture in the file.
	FullW, FullH int
	// Scale is full pixels per working pixel, FullW / Picture width.
	Scale float64
	// Taken is EXIF DateTimeOriginal; zero when the file has none. HasOffset
	// says whether the file also gave the offset from UTC; without it Taken is
	// the wall clock, held in UTC.
	Taken     time.Time
	HasOffset bool
	// Focal35MM is the focal length in 35 mm terms from EXIF, 0 when unknown.
	Focal35MM float64
	// Oriented says whether the file tells which way is up; where it does not,
	// the picture may lie on its side.
	Oriented bool
	// TurnedDeg is by how many degrees clockwise Turned has turned the picture.
	TurnedDeg int
	Quality   Quality
}

// WorkingSide is the longest side of a working picture, in pixels.
const WorkingSide = 1600

// Engine is what a faster or better image library can do in place of the
// program's own Go. Everything else is shared by both engines.
type Engine interface {
	// Name is "go" or "opencv".
	Name() string
	// Decode reads an encoded picture and reduces it so that its longer side
	// is at most side pixels; not upright yet. full is the size before the
	// reduction. data has already passed Inspect. The error is a *Refusal.
	Decode(data []byte, info Info, side int) (pic *image.RGBA, full image.Point, err error)
	// CutStrip lays the front of the jar straight; see the function CutStrip.
	CutStrip(pic *image.RGBA, f Frame, top, bottom float64) *Strip
}

// Open inspects, decodes and reduces one encoded picture, turns it upright and
// assesses it. name is used in messages only. The error is a *Refusal that
// names the file. A picture too dark or blurred to be read is opened all the
// same: see Quality.Refuse.
func Open(eng Engine, name string, data []byte) (*Photo, error) {
	return OpenAt(eng, name, data, WorkingSide)
}

// OpenAt is Open with a working picture whose longer side is at most side, for less
// work: many photos of one view need not be large.
func OpenAt(eng Engine, name string, data []byte, side int) (*Photo, error) {
	info, err := Inspect(data)
	if err != nil {
		return nil, nameRefusal(name, err)
	}
	stored, full, err := eng.Decode(data, info, side)
	if err != nil {
		return nil, nameRefusal(name, err)
	}
	if info.Orientation >= 5 {
		full.X, full.Y = full.Y, full.X
	}
	return newPhoto(name, upright(stored, info.Orientation), full, info), nil
}

func newPhoto(name string, pic *image.RGBA, full image.Point, info Info) *Photo {
	return &Photo{
		Name: name, Picture: pic, FullW: full.X, FullH: full.Y,
		Scale: float64(full.X) / float64(pic.Rect.Dx()),
		Taken: info.Taken, HasOffset: info.HasOffset, Focal35MM: info.Focal35MM, Oriented: info.Oriented,
		Quality: Assess(pic),
	}
}

// nameRefusal puts the file's name before the reason.
func nameRefusal(name string, err error) error {
	var r *Refusal
	if errors.As(err, &r) {
		return r.in(name)
	}
	return fmt.Errorf("%s: %w", name, err)
}

// Turned is the photo turned clockwise by 90, 180 or 270 degrees.
func (p *Photo) Turned(deg int) *Photo {
	orientation := map[int]int{90: 6, 180: 3, 270: 8}[deg]
	if orientation == 0 {
		return p
	}
	q := *p
	q.Picture = upright(p.Picture, orientation)
	if deg != 180 {
		q.FullW, q.FullH = p.FullH, p.FullW
	}
	q.TurnedDeg = (p.TurnedDeg + deg) % 360
	return &q
}
