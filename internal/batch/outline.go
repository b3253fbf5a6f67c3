package batch

import (
	"errors"
	"path"
	"time"

	"mudline/imaging"
	"mudline/internal/files"
	"mudline/internal/reading"
	"mudline/internal/record"
	"mudline/internal/words"
)

// Outline is a jar as a dry run shows it.
type Outline struct {
	Jar    *Jar
	Photos []Timed
	// Problems are the refusals that are likely, found without decoding.
	Problems []reading.Refusal
}

// Timed is a photo with its time.
type Timed struct {
	File string
	// Elapsed is the time since the jar was set down, From where it comes from:
	// "stated", "name" or "exif"; both empty when not known.
	Elapsed, From string
	// Taken is the camera's clock; empty when not known.
	Taken string
}

// Outline looks at a jar's record and the heads of its photos.
func (p *Plan) Outline(j *Jar) Outline {
	out := Outline{Jar: j}
	if j.Bad != nil {
		out.Problems = append(out.Problems, *j.Bad)
	}
	taken := make([]record.Taken, 0, len(j.Photos))
	for _, rel := range j.Photos {
		file := path.Base(rel)
		one := record.Taken{File: file}
		if info, err := p.head(rel); err != nil {
			out.add(err, file)
		} else {
			one.At = record.Moment{Time: info.Taken, HasOffset: info.HasOffset}
		}
		taken = append(taken, one)
	}
	var refusal *reading.Refusal
	if _, _, err := j.Record.Resolve(taken); err != nil && !(errors.As(err, &refusal) && refusal.Code == reading.SameTime) { // found below, every pair
		out.add(err, "")
	}
	seen := map[time.Duration]string{}
	for i, t := range taken {
		shown := Timed{File: t.File}
		if !t.At.IsZero() {
			shown.Taken = t.At.String()
		}
		if own, _, err := j.Record.Resolve(taken[i : i+1]); err == nil { // whatever is wrong with the others
			elapsed := own[0].Time
			shown.Elapsed, shown.From = record.FormatElapsed(elapsed), own[0].From
			if other := seen[elapsed]; other != "" {
				out.Problems = append(out.Problems, *record.OneTime(other, t.File, elapsed))
			}
			seen[elapsed] = t.File
		}
		out.Photos = append(out.Photos, shown)
	}
	return out
}

// head inspects a photo without decoding it.
func (p *Plan) head(rel string) (imaging.Info, error) {
	data, err := files.Read(p.abs(rel), files.MaxPhotoBytes)
	if err != nil {
		return imaging.Info{}, unreadable(rel, err)
	}
	return imaging.Inspect(data)
}

// add notes what would be refused.
func (o *Outline) add(err error, file string) {
	var bad *imaging.Refusal
	var no *reading.Refusal
	switch {
	case errors.As(err, &bad):
		o.Problems = append(o.Problems, *refuse(reading.RefusalCode(bad.Code), words.In(file, bad.Text), bad.Remedy))
	case errors.As(err, &no):
		o.Problems = append(o.Problems, *o.Jar.remedied(no))
	default:
		o.Problems = append(o.Problems, *unreadable(file, err))
	}
}
