package jar

import (
	"image"

	"mudline/imaging"
	"mudline/imaging/jarfind"
	"mudline/imaging/sheetmark"
	"mudline/internal/reading"
	"mudline/internal/words"
)

// seek searches a photo for the jar, the right way up.
func seek(name string, p *imaging.Photo, box image.Rectangle, mayTurn bool) (*Opened, error) {
	return sight(name, p, box).upright(mayTurn)
}

// upright is the photo as the jar in it stands. Where none is seen and the file does
// not tell which way is up, the picture is tried on its sides too. A photo that lies is
// turned where the front end shows what was turned; one that stands on its head is
// refused, since nobody can tell a picture upside down from a jar turned over. A box
// was drawn on the picture as it lies, so a photo with one is refused rather than turned.
func (o *Opened) upright(mayTurn bool) (*Opened, error) {
	if o.photo.Oriented || o.sighting.Odds() >= jarfind.LikelyJar {
		return o, nil
	}
	var found *Opened
	if !o.box.Empty() { // read whatever is seen in it: a likely jar must do
		found = o.lying(o.box, jarfind.LikelyJar)
	}
	if found == nil {
		found = o.lying(image.Rectangle{}, jarfind.SureJar)
	}
	switch {
	case found == nil:
		return o, nil
	case (found.photo.TurnedDeg-o.photo.TurnedDeg+360)%360 == 180:
		return nil, reading.Refuse(reading.NotUpright, words.In(o.file, words.Say("jar.upside-down")), words.Say("do.turn-over"))
	case !mayTurn || !o.box.Empty():
		return nil, reading.Refuse(reading.NotUpright, words.In(o.file, words.Say("jar.on-its-side")), words.Say("do.turn-upright"))
	}
	return found, nil
}

// lying is the photo turned the way in which a jar is most likely to be seen; nil where
// the log odds are not above least in any.
func (o *Opened) lying(box image.Rectangle, least float64) (found *Opened) {
	for _, deg := range []int{90, 270, 180} {
		s := sight(o.file, o.photo.Turned(deg), turnedBox(box, o.photo.Picture.Rect.Size(), deg))
		if odds := s.sighting.Odds(); odds > least {
			least, found = odds, s
		}
	}
	return found
}

// turnedBox is a box in a picture of a size once the picture is turned clockwise.
func turnedBox(b image.Rectangle, size image.Point, deg int) image.Rectangle {
	if b.Empty() {
		return b
	}
	switch deg {
	case 90:
		return image.Rect(size.Y-b.Max.Y, b.Min.X, size.Y-b.Min.Y, b.Max.X)
	case 180:
		return image.Rect(size.X-b.Max.X, size.Y-b.Max.Y, size.X-b.Min.X, size.Y-b.Min.Y)
	case 270:
		return image.Rect(b.Min.Y, size.X-b.Max.X, b.Max.Y, size.X-b.Min.X)
	}
	return b
}

// sight looks for printed sheets and, as if they were blank, for the jar.
func sight(name string, p *imaging.Photo, box image.Rectangle) *Opened {
	o := &Opened{source: source{file: name, photo: p}, box: box}
	o.sheets, o.marks = sheetmark.Find(p.Picture, sheetmark.LensOf(p.Focal35MM, p.Picture.Rect.Dx(), p.Picture.Rect.Dy()))
	o.sighting = look(p, o.sheets, box)
	return o
}

// look looks for the jar in the photo's own light or, where a sheet tells that this is
// unusual, in usual light; and where none is surely seen in the one, in the other.
func look(p *imaging.Photo, sheets []*sheetmark.Sheet, box image.Rectangle) *jarfind.Sighting {
	pic := blank(sheets, p.Picture)
	if len(sheets) == 0 {
		return jarfind.Look(pic, p.Focal35MM, box)
	}
	white := sheets[0].White(p.Picture)
	unusual := white != nil && !white.Usual()
	first := pic
	if unusual {
		first = white.Relit(pic)
	}
	found := jarfind.Look(first, p.Focal35MM, box)
	if white == nil || found.Odds() >= jarfind.SureJar {
		return found
	}
	if !unusual {
		pic = white.Relit(pic)
	}
	if other := jarfind.Look(pic, p.Focal35MM, box); other.Odds() > found.Odds() {
		return other
	}
	return found
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
	return reading.WarnOf(s.file, reading.PhotoTurned, words.Say("jar.turned", words.Whole("degrees", s.photo.TurnedDeg)), words.Say("do.check-turned")), true
}
