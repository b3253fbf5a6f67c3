package jar

import (
	"context"
	"errors"

	"mudline/imaging"
	"mudline/imaging/jarfind"
	"mudline/internal/record"
	"mudline/internal/words"
)

// Open decodes one photo and looks for the jar in it. The error is a
// *reading.Refusal where that cannot be done. A photo on its side is refused, not
// turned: the front end shows it as it is.
func Open(f File, rec record.Record, eng imaging.Engine) (*Opened, error) {
	return open(f, &rec, eng, false)
}

// Photo is the decoded photo.
func (o *Opened) Photo() *imaging.Photo { return o.photo }

// Stands is where the jar stands in this photo taken by itself, in working
// pixels; nil where none is likely to stand there.
func (o *Opened) Stands() *jarfind.Placement {
	return jarfind.Settle([]*jarfind.Sighting{o.sighting})[0]
}

// Combine makes a reading from opened photos, as Analyse does from files. It
// may be called again and again with other records.
func Combine(ctx context.Context, opened []*Opened, rec record.Record, opt Options) (*Result, error) {
	opt, err := opt.begin(len(opened), &rec, words.Say("do.add-photos"))
	if err != nil {
		return nil, err
	}
	if err := lookAgain(ctx, opened, &rec); err != nil {
		return nil, err
	}
	frames := make([]*frame, len(opened))
	for i, o := range opened {
		frames[i] = &frame{file: o.file, photo: o.photo, seen: o.sighting, sheets: o.sheets, marks: o.marks}
	}
	if res, err := asFilm(ctx, frames, &rec, opt); !errors.Is(err, errNoFilm) {
		return res, err
	}
	return combine(opened, nil, &rec, opt.Engine)
}

// lookAgain looks for the jar anew where another box is drawn round it.
func lookAgain(ctx context.Context, opened []*Opened, rec *record.Record) error {
	for _, o := range opened {
		if err := ctx.Err(); err != nil {
			return err
		}
		box, err := boxOf(o.file, rec, o.photo)
		if err != nil {
			return err
		}
		if box != o.box {
			anew := *o
			anew.box, anew.sighting = box, look(o.photo, o.sheets, box)
			if _, err := anew.upright(false); err != nil {
				return err
			}
			*o = anew
		}
	}
	return nil
}

// Preview makes the reading anew while a person drags a line: nothing is looked
// for again, and the physics starts from what it found. The lines are those that Combine
// gives.
func (r *Result) Preview(rec record.Record, eng imaging.Engine) (*Result, error) {
	if err := rec.Check(); err != nil {
		return nil, err
	}
	stands := make([]located, len(r.shots))
	for i, s := range r.shots {
		stands[i] = s.located
	}
	jars, behind, err := frameAll(stands, &rec)
	if err != nil {
		return nil, err
	}
	again := make([]*seen, len(jars))
	for i, j := range jars {
		again[i] = &seen{framed: *j, shown: r.shots[i].shown, outline: r.shots[i].outline}
	}
	known := behind.known(&rec)
	shots, err := tellLines(again, known)
	if err != nil {
		return nil, err
	}
	res, err := assemble(shots, known, behind, eng, nil, r)
	if err != nil {
		return nil, err
	}
	res.Reading.LeftOut = r.Reading.LeftOut
	if r.Film != nil {
		res.Film = r.Film
		res.Reading.Warnings = oncePerCode(res.Reading.Warnings)
	}
	return res, nil
}
