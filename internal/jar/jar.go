// Package jar reads one jar: it joins the photos, what a person states, the
// jar's place in each photo, its layers and the settling physics into a
// reading.
package jar

import (
	"context"
	"errors"
	"image"

	"mudline/imaging"
	"mudline/internal/reading"
	"mudline/internal/record"
	"mudline/internal/words"
	"mudline/texture"
)

// File is one photo file, read when it is needed.
type File struct {
	// Name is the file name without folder.
	Name string
	// Data reads the whole file.
	Data func() ([]byte, error)
	// Decoded is the picture where a front end has decoded it already, as a
	// browser does; nil otherwise.
	Decoded *Decoded
}

// Decoded is an upright picture reduced to imaging.WorkingSide, with its upright
// size in the file.
type Decoded struct {
	Picture *image.RGBA
	Full    image.Point
}

// Options are how to read, as against what is known of the jar.
type Options struct {
	// Engine is the image engine; nil means imaging.PureGo.
	Engine imaging.Engine
	// Workers is how many photos are opened at a time; 0 means as many as there
	// are processors.
	Workers int
	// Progress, when set, is called as each photo is opened, never from two
	// goroutines at once.
	Progress func(done, total int)
	// Store, when set, keeps what is made of the photos of a film.
	Store Store
}

// Scene is where the jar stands in one photo, for drawing.
type Scene struct {
	File string
	// Picture is the upright working picture, Scale full pixels to one of its.
	Picture *image.RGBA
	Scale   float64
	// Frame is in pixels of Picture; height 1 is the water surface.
	Frame imaging.Frame
}

// Result is a reading with the scenes it was made from, both in order of time.
type Result struct {
	Reading reading.Reading
	Scenes  []Scene

	// Film is what a film shows; nil where the photos were read as single ones.
	Film *Film

	shots []*shot         // for Preview
	tex   *texture.Result // nil where no line was seen
}

// Analyse reads the photos of one jar. The error is a *reading.Refusal where
// the photos give no reading; ctx ends the work early.
func Analyse(ctx context.Context, files []File, rec record.Record, opt Options) (*Result, error) {
	opt, err := opt.begin(len(files), &rec, words.Say("do.name-photos"))
	if err != nil {
		return nil, err
	}
	frames := make([]*frame, len(files))
	for i, f := range files {
		frames[i] = &frame{file: f.Name, data: f.Data}
	}
	if res, err := asFilm(ctx, frames, &rec, opt); !errors.Is(err, errNoFilm) {
		return res, err
	}
	opened, out, err := openAll(ctx, files, &rec, opt)
	if err != nil {
		return nil, err
	}
	return combine(opened, out, &rec, opt.Engine)
}

// begin fills in what was left out of the options, and refuses a reading of no photos,
// with what to do, or of a record that cannot be.
func (opt Options) begin(photos int, rec *record.Record, todo words.Message) (Options, error) {
	if opt.Engine == nil {
		opt.Engine = imaging.PureGo{}
	}
	if photos == 0 {
		return opt, reading.Refuse(reading.NoPhotos, words.Say("jar.no-photos"), todo)
	}
	return opt, rec.Check()
}

// combine makes the reading from photos opened and looked at, stage by stage; out are those
// that were left out before.
func combine(opened []*Opened, out leftOut, rec *record.Record, eng imaging.Engine) (*Result, error) {
	all := len(opened) + len(out)
	inOrder, warnings, err := inTime(opened, rec)
	if err != nil {
		return nil, err
	}
	stands, err := locate(inOrder, rec, &out)
	if err != nil {
		return nil, err
	}
	jars, behind, err := frameAll(stands, rec)
	if err != nil {
		return nil, err
	}
	stay, whole, err := judgeJars(jars, &out)
	if err == nil && !whole {
		jars, behind, err = frameAll(stay, rec)
	}
	if err != nil {
		return nil, err
	}
	maybe, err := differentJars(jars)
	if err != nil {
		return nil, err
	}
	warnings = append(maybe, warnings...)
	known := behind.known(rec)
	found, err := readLayers(jars, known, eng)
	if err != nil {
		return nil, err
	}
	shots, err := tellLines(found, known)
	if err != nil {
		return nil, err
	}
	res, err := assemble(shots, known, behind, eng, warnings, nil)
	if err != nil {
		return nil, err
	}
	r := &res.Reading
	r.LeftOut, r.Warnings = out, append(out.doubt(all, false), r.Warnings...)
	return res, nil
}
