package jar

import (
	"context"
	"image"

	"mudline/imaging"
	"mudline/internal/reading"
	"mudline/internal/record"
)

// Opened is one photo decoded and looked at: the costly part of a reading. A
// front end keeps it while what is stated of the jar changes.
type Opened struct {
	file     string
	photo    *imaging.Photo
	box      image.Rectangle
	sighting *imaging.Sighting
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
	return &Opened{file: s.file, photo: s.photo, box: box, sighting: s.sighting}, err
}

// Photo is the decoded photo.
func (o *Opened) Photo() *imaging.Photo { return o.photo }

// Combine makes a reading from opened photos, as Analyse does from files. It
// may be called again and again with other records.
func Combine(ctx context.Context, opened []*Opened, rec record.Record, opt Options) (*Result, error) {
	if opt.Engine == nil {
		opt.Engine = imaging.PureGo{}
	}
	if len(opened) == 0 {
		return nil, &reading.Refusal{Code: reading.NoPhotos, Text: "no photos were given", Remedy: "add the photos of one jar"}
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
			o.box, o.sighting = box, imaging.Look(o.photo.Picture, o.photo.Focal35MM, box)
		}
		shots[i] = &shot{file: o.file, photo: o.photo, sighting: o.sighting}
	}
	return combine(shots, &rec, opt.Engine)
}

// Preview makes the reading anew while a person drags a line: nothing is looked
// for again, and the physics takes fewer draws. The lines are those that Combine
// gives.
func (r *Result) Preview(rec record.Record, eng imaging.Engine) (*Result, error) {
	if err := rec.Check(); err != nil {
		return nil, err
	}
	shots := make([]*shot, len(r.shots))
	for i, old := range r.shots {
		s := *old
		if err := s.inFrame(&rec); err != nil {
			return nil, err
		}
		shots[i] = &s
	}
	if err := tellLines(shots, &rec); err != nil {
		return nil, err
	}
	return assemble(shots, &rec, eng, nil, quick)
}
