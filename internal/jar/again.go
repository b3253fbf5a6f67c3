package jar

import (
	"context"
	"image"
	"math"

	"mudline/imaging"
	"mudline/internal/reading"
	"mudline/internal/record"
	"mudline/layers"
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

// Preview makes the reading anew while a person drags a line: every line that
// is not stated in rec stays at the row where it was found, nothing is looked
// for again, and the physics takes fewer draws. What Combine makes of the same
// record may differ a little; a front end calls it when the line is let go.
func (r *Result) Preview(rec record.Record, eng imaging.Engine) (*Result, error) {
	if err := rec.Check(); err != nil {
		return nil, err
	}
	shots := make([]*shot, len(r.shots))
	for i, old := range r.shots {
		s := *old
		place := *old.place
		s.place, s.stated = &place, nil
		s.frame = s.baseFrame(&rec)
		if err := s.applyStatedFrame(&rec); err != nil {
			return nil, err
		}
		if err := s.moveLines(old.frame, r.depthMM, &rec); err != nil {
			return nil, err
		}
		shots[i] = &s
	}
	yieldToStated(shots, func(l *layers.Reading) **layers.Boundary { return &l.SandTop })
	yieldToStated(shots, func(l *layers.Reading) **layers.Boundary { return &l.SiltTop })
	return assemble(shots, &rec, eng, nil, quick)
}

// yieldToStated takes back a line found in other photos where it lies far from
// the same line as a person placed it: it was another line that was seen.
func yieldToStated(shots []*shot, line func(*layers.Reading) **layers.Boundary) {
	for _, s := range shots {
		placed := *line(&s.layers)
		if placed == nil || !placed.Stated {
			continue
		}
		for _, o := range shots {
			found := line(&o.layers)
			if *found == nil || (*found).Stated {
				continue
			}
			if math.Abs((*found).HeightMM-placed.HeightMM) > 3*math.Hypot((*found).SDMM, placed.SDMM) {
				*found = nil
			}
		}
	}
}

// moveLines keeps the lines found in a frame, at a water depth, at their rows
// in the present frame, and puts the stated ones where they are stated.
func (s *shot) moveLines(found imaging.Frame, foundDepthMM float64, rec *record.Record) error {
	depth := depthOf(rec)
	if err := s.applyStatedLayers(rec); err != nil {
		return err
	}
	stated := s.strip.Stated
	s.strip = layers.Strip{}
	for _, line := range []**layers.Boundary{&s.layers.DepositTop, &s.layers.SandTop, &s.layers.SiltTop, &s.layers.HazeTop} {
		if *line == nil {
			continue
		}
		moved := **line
		h := s.frame.HeightOfRow(found.At(0, moved.HeightMM/foundDepthMM).Y)
		if math.IsNaN(h) || h < 0 || h > 1.2 {
			*line = nil
			continue
		}
		moved.HeightMM, moved.SDMM = h*depth, moved.SDMM*depth/foundDepthMM
		*line = &moved
	}
	s.layers = s.layers.With(stated, layers.StatedSDMM(s.frameSDMM(depth), depth))
	return nil
}
