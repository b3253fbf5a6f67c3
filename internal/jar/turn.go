package jar

import (
	"fmt"
	"image"

	"mudline/imaging"
	"mudline/internal/reading"
)

// seek searches a photo for the jar. Where none is seen and the file does not
// tell which way is up, the picture is tried on its sides too: a photo that lies
// is turned, one that stands on its head is refused, since nobody can tell a
// picture upside down from a jar turned over.
func seek(name string, p *imaging.Photo, box image.Rectangle) (*imaging.Photo, *imaging.Sighting, error) {
	found := imaging.Look(p.Picture, p.Focal35MM, box)
	if p.Oriented || !box.Empty() || found.Odds() >= imaging.LikelyJar {
		return p, found, nil
	}
	best, turned := imaging.SureJar, p
	for _, deg := range []int{90, 270, 180} {
		q := p.Turned(deg)
		if s := imaging.Look(q.Picture, q.Focal35MM, box); s.Odds() > best {
			best, found, turned = s.Odds(), s, q
		}
	}
	if turned.TurnedDeg == 180 {
		return nil, nil, &reading.Refusal{Code: reading.UpsideDown,
			Text:   name + ": the jar stands upside down in this photo",
			Remedy: "turn the photo the right way up and read it again; a jar that was turned over must settle anew"}
	}
	return turned, found, nil
}

// turnDoubt says that a photo was turned.
func turnDoubt(s *shot) (reading.Warning, bool) {
	if s.photo.TurnedDeg == 0 {
		return reading.Warning{}, false
	}
	return reading.Warning{Code: "photo_turned",
		Text:   fmt.Sprintf("%s: the file does not tell which way is up, and a jar shows only when the photo is turned by %d degrees clockwise: it was read so", s.file, s.photo.TurnedDeg),
		Remedy: "look at the annotated photo (--out); pixels are those of the turned photo"}, true
}
