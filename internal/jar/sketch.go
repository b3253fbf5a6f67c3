package jar

import (
	"context"
	"time"

	"mudline/imaging"
	"mudline/imaging/jarfind"
	"mudline/internal/record"
	"mudline/layers"
)

// Sketch is where the jar stands in one photo, as far as that can be told without a
// reading, with the lines that a person placed: what they begin with who show the
// program what it does not see.
type Sketch struct {
	File string
	// Elapsed is the time since shaking; 0 where no time is known.
	Elapsed time.Duration
	// Frame is in pixels of the upright full-size photo; height 1 is the level water
	// surface, Rim the height of the line that is seen of it.
	Frame imaging.Frame
	Rim   float64
	// Guessed says that no jar was seen: Frame is no more than a place to begin from.
	Guessed bool
	// Heights are the lines within the water that were placed, in shares of the depth.
	Heights map[layers.Line]float64
	// Stated are floor, water and edges that were placed.
	Stated []layers.Line
}

// Sketches are those of opened photos, in order of time where that is known.
func Sketches(ctx context.Context, opened []*Opened, rec record.Record) ([]Sketch, error) {
	if err := rec.Check(); err != nil {
		return nil, err
	}
	if err := lookAgain(ctx, opened, &rec); err != nil {
		return nil, err
	}
	photos, _, err := inTime(opened, &rec)
	if err != nil { // a photo without a time can be placed all the same
		photos = make([]timed, len(opened))
		for i, o := range opened {
			photos[i].Opened = o
		}
	}
	stands, guessed := sketchPlaces(photos, &rec)
	jars, behind, err := frameAll(stands, &rec)
	if err != nil {
		return nil, err
	}
	known := behind.known(&rec)
	out := make([]Sketch, len(jars))
	for i, j := range jars {
		if out[i], err = j.sketch(known); err != nil {
			return nil, err
		}
		out[i].Guessed = guessed[i]
	}
	return out, nil
}

// sketchPlaces puts a jar into every photo and says in which it is only guessed.
func sketchPlaces(photos []timed, rec *record.Record) (stands []located, guessed []bool) {
	stands = standing(photos, rec)
	var like *located // one whose jar was seen
	for i := range stands {
		if stands[i].found != nil {
			like = &stands[i]
		}
	}
	guessed = make([]bool, len(stands))
	for i := range stands {
		if s := &stands[i]; s.found == nil {
			s.found, guessed[i] = s.guess(rec, like), true
		}
	}
	return stands, guessed
}

// guess is a jar to begin from: where a box was drawn round it, else where it stands in
// a photo like this one, else in the middle; its ends and edges where they were stated.
func (s *source) guess(rec *record.Record, like *located) *jarfind.Placement {
	size := s.photo.Picture.Rect.Size()
	w, h := float64(size.X), float64(size.Y)
	half := min(0.2*w, 0.16*h)
	left, right, floor, water := w/2-half, w/2+half, 0.8*h, 0.8*h-2.6*half
	if box, err := boxOf(s.file, rec, s.photo); err == nil && !box.Empty() {
		high := float64(box.Dy())
		left, right, floor, water = float64(box.Min.X), float64(box.Max.X), float64(box.Max.Y)-0.06*high, float64(box.Min.Y)+0.25*high
	} else if like != nil && like.photo.Picture.Rect.Size() == size {
		f := like.found.Frame
		left, right, floor, water = f.At(-1, 0.5).X, f.At(1, 0.5).X, f.Floor.Y, f.Water.Y
	}
	lines := rec.Photos[s.file].Lines
	for _, l := range []struct {
		said *record.Line
		at   *float64
	}{{lines.Left, &left}, {lines.Right, &right}, {lines.Floor, &floor}, {lines.Water, &water}} {
		if l.said != nil && !l.said.MM {
			*l.at = l.said.Value / s.photo.Scale
		}
	}
	return s.placedAt(left, max(right, left+minSketch), max(floor, water+minSketch), water)
}

// minSketch is the least width and depth of a guessed jar, in working pixels: smaller
// ones cannot be taken hold of.
const minSketch = 24

func (s *framed) sketch(rec *record.Record) (Sketch, error) {
	depth := depthOf(rec).MM
	out := Sketch{File: s.file, Elapsed: s.elapsed.Time, Frame: s.frame.Scaled(s.photo.Scale), Rim: 1 + MeniscusMM/depth, Heights: map[layers.Line]float64{}, Stated: s.stated}
	lines := rec.Photos[s.file].Lines
	for _, name := range layers.Tops {
		said := *lines.Place(name)
		if said == nil || said.None {
			continue
		}
		h, err := s.heightOf(said, name, rec)
		if err != nil {
			return out, err
		}
		out.Heights[name] = h
	}
	return out, nil
}
