package jar

import (
	"image"

	"mudline/imaging"
	"mudline/imaging/sheetmark"
	"mudline/internal/reading"
	"mudline/internal/words"
)

// seek searches a photo for the jar. Where none is seen and the file does not
// tell which way is up, the picture is tried on its sides too. A photo that lies is
// turned where the front end shows what was turned; one that stands on its head is
// refused, since nobody can tell a picture upside down from a jar turned over.
func seek(name string, p *imaging.Photo, box image.Rectangle, mayTurn bool) (*shot, error) {
	found := sight(name, p, box)
	if p.Oriented || !box.Empty() || found.sighting.Odds() >= imaging.LikelyJar {
		return found, nil
	}
	best := imaging.SureJar
	for _, deg := range []int{90, 270, 180} {
		if s := sight(name, p.Turned(deg), box); s.sighting.Odds() > best {
			best, found = s.sighting.Odds(), s
		}
	}
	switch turned := found.photo.TurnedDeg; {
	case turned == 180:
		return nil, reading.Refuse(reading.NotUpright, words.In(name, words.Say("jar.upside-down")), words.Say("do.turn-over"))
	case turned != 0 && !mayTurn:
		return nil, reading.Refuse(reading.NotUpright, words.In(name, words.Say("jar.on-its-side")), words.Say("do.turn-upright"))
	}
	return found, nil
}

// sight looks for printed sheets and, as if they were blank, for the jar.
func sight(name string, p *imaging.Photo, box image.Rectangle) *shot {
	s := &shot{file: name, photo: p}
	s.sheets, s.marks = sheetmark.Find(p.Picture, sheetmark.LensOf(p.Focal35MM, p.Picture.Rect.Dx(), p.Picture.Rect.Dy()))
	s.sighting = imaging.Look(blank(s.sheets, p.Picture), p.Focal35MM, box)
	return s
}

// blank is a picture with the print of sheets painted over.
func blank(sheets []*sheetmark.Sheet, pic *image.RGBA) *image.RGBA {
	for _, s := range sheets {
		pic = s.Blank(pic)
	}
	return pic
}

// turnDoubt says that a photo was turned.
func turnDoubt(s *shot) (reading.Warning, bool) {
	if s.photo.TurnedDeg == 0 {
		return reading.Warning{}, false
	}
	return reading.WarnOf(s.file, "photo_turned", words.Say("jar.turned", words.Whole("degrees", s.photo.TurnedDeg)), words.Say("do.check-turned")), true
}
