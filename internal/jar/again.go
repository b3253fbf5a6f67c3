package jar

import (
	"context"
	"errors"
	"image"

	"mudline/imaging"
	"mudline/imaging/sheetmark"
	"mudline/internal/reading"
	"mudline/internal/record"
	"mudline/internal/words"
	"mudline/texture"
)

// Opened is one photo decoded and looked at: the costly part of a reading. A
// front end keeps it while what is stated of the jar changes.
type Opened struct {
	file     string
	photo    *imaging.Photo
	box      image.Rectangle
	sighting *imaging.Sighting
	sheets   []*sheetmark.Sheet
	marks    int
}

// Open decodes one photo and looks for the jar in it. The error is a
// *reading.Refusal where that cannot be done. A photo on its side is refused, not
// turned: the front end shows it as it is.
func Open(f File, rec record.Record, eng imaging.Engine) (*Opened, error) {
	s, err := open(f, &rec, eng, false)
	if err != nil {
		return nil, err
	}
	box, err := boxOf(f.Name, &rec, s.photo)
	return &Opened{file: s.file, photo: s.photo, box: box, sighting: s.sighting, sheets: s.sheets, marks: s.marks}, err
}

// Photo is the decoded photo.
func (o *Opened) Photo() *imaging.Photo { return o.photo }

// Stands is where the jar stands in this photo taken by itself, in working
// pixels; nil where none is likely to stand there.
func (o *Opened) Stands() *imaging.Placement {
	return imaging.Settle([]*imaging.Sighting{o.sighting})[0]
}

// Combine makes a reading from opened photos, as Analyse does from files. It
// may be called again and again with other records.
func Combine(ctx context.Context, opened []*Opened, rec record.Record, opt Options) (*Result, error) {
	if opt.Engine == nil {
		opt.Engine = imaging.PureGo{}
	}
	if len(opened) == 0 {
		return nil, reading.Refuse(reading.NoPhotos, words.Say("jar.no-photos"), words.Say("do.add-photos"))
	}
	if err := rec.Check(); err != nil {
		return nil, err
	}
	shots := make([]*shot, len(opened))
	for i, o := range opened {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		box, err := boxOf(o.file, &rec, o.photo)
		if err != nil {
			return nil, err
		}
		if box != o.box {
			o.box, o.sighting = box, imaging.Look(blank(o.sheets, o.photo.Picture), o.photo.Focal35MM, box)
		}
		shots[i] = &shot{file: o.file, photo: o.photo, sighting: o.sighting, sheets: o.sheets, marks: o.marks}
	}
	if len(shots) >= FilmFrom {
		frames := make([]*frame, len(shots))
		for i, s := range shots {
			frames[i] = &frame{file: s.file, photo: s.photo, seen: s.sighting}
		}
		if res, err := readFilm(ctx, frames, &rec, opt); !errors.Is(err, errNoFilm) {
			return res, err
		}
		if len(shots) > texture.MaxPhotos {
			return nil, tooManySingle(len(shots))
		}
	}
	return combine(shots, &rec, opt.Engine)
}

// Preview makes the reading anew while a person drags a line: nothing is looked
// for again, and the physics starts from what it found. The lines are those that Combine
// gives.
func (r *Result) Preview(rec record.Record, eng imaging.Engine) (*Result, error) {
	if err := rec.Check(); err != nil {
		return nil, err
	}
	shots := make([]*shot, len(r.shots))
	for i, old := range r.shots {
		s := *old
		shots[i] = &s
	}
	behind, err := framed(shots, &rec)
	if err != nil {
		return nil, err
	}
	known := behind.known(&rec)
	if err := tellLines(shots, known); err != nil {
		return nil, err
	}
	res, err := assemble(shots, known, behind, eng, nil, r)
	if err == nil && r.Film != nil {
		res.Film, res.Reading.LeftOut = r.Film, r.Reading.LeftOut
		res.Reading.Warnings = oncePerCode(res.Reading.Warnings)
	}
	return res, err
}
