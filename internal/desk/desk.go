// Package desk is one jar being worked on in a front end that keeps it open:
// photos come one by one, lines are dragged, and every change gives a new
// reading. It speaks JSON, so that a page can use it from a worker. It is not
// safe for use by several goroutines at once.
package desk

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"

	"mudline/imaging"
	"mudline/internal/jar"
	"mudline/internal/reading"
	"mudline/internal/record"
	"mudline/internal/sorting"
	"mudline/internal/words"
)

// Desk holds the photos of one jar, decoded.
type Desk struct {
	engine imaging.Engine
	opened map[string]*jar.Opened
	whole  *jar.Result // of the last Read
	shown  *jar.Result // of the last Read or Preview
	// language is that of all that is said.
	language *words.Language
	bundle   *Bundle                 // the file of jars opened last
	unpacked []NamedFile             // the photos of one of its jars, on their way into the page
	backup   *Backup                 // being made
	shots    map[string]sorting.Shot // of photos that are to be sorted
}

// New is a desk without photos.
func New(engine imaging.Engine) *Desk {
	return &Desk{engine: engine, opened: map[string]*jar.Opened{}, language: (*words.Language)(nil).In(words.Setting{Surface: words.Page})}
}

// Opened says what is known of a photo before the jar is read.
type Opened struct {
	File   string `json:"file"`
	SizePx [2]int `json:"size_px"`
	// Taken is the camera's time of the photo, empty where the file has none.
	Taken string `json:"taken,omitempty"`
	// ElapsedS is what the name says of the time since shaking; absent if nothing.
	ElapsedS *float64 `json:"elapsed_s,omitempty"`
}

// Open decodes one photo, or takes the picture a browser decoded, and looks for
// the jar in it. rec is the record as JSON. The error is a *reading.Refusal
// where the file cannot be used.
func (d *Desk) Open(name string, data []byte, decoded *jar.Decoded, rec []byte) (Opened, error) {
	r, err := parse(rec)
	if err != nil {
		return Opened{}, err
	}
	f := jar.File{Name: name, Data: func() ([]byte, error) { return data, nil }, Decoded: decoded}
	o, err := jar.Open(f, *r, d.engine)
	if err != nil {
		return Opened{}, err
	}
	d.opened[name] = o
	return openedAs(name, o.Photo()), nil
}

// openedAs says what is known of a decoded photo.
func openedAs(name string, p *imaging.Photo) Opened {
	out := Opened{File: name, SizePx: [2]int{p.FullW, p.FullH}}
	if !p.Taken.IsZero() {
		out.Taken = record.Moment{Time: p.Taken, HasOffset: p.HasOffset}.String()
	}
	if t, _, ok := record.ElapsedFromName(name); ok {
		out.ElapsedS = reading.Ptr(t.Seconds())
	}
	return out
}

// Holds says whether a photo is open.
func (d *Desk) Holds(name string) bool { return d.opened[name] != nil }

// Forget puts a photo away.
func (d *Desk) Forget(name string) { delete(d.opened, name) }

// Clear puts the jar away. What several jars are about stays, as the language does.
func (d *Desk) Clear() {
	d.opened, d.whole, d.shown = map[string]*jar.Opened{}, nil, nil
}

// Answer is a reading with its lines on the photos, or why there is none.
type Answer struct {
	Reading json.RawMessage  `json:"reading,omitempty"`
	Photos  []PhotoLines     `json:"lines,omitempty"`
	Refused *reading.Refusal `json:"refused,omitempty"`
	// Mistake is what is wrong with what was stated, in the person's language.
	Mistake string `json:"mistake,omitempty"`
}

// Read makes the reading from the named photos, all of them open.
func (d *Desk) Read(ctx context.Context, rec []byte, names []string) (Answer, error) {
	d.whole, d.shown = nil, nil
	r, err := parse(rec)
	if err != nil {
		return d.answerTo(err)
	}
	opened, err := d.all(names)
	if err != nil {
		return Answer{}, err
	}
	res, err := jar.Combine(ctx, opened, *r, jar.Options{Engine: d.engine})
	if err != nil {
		return d.answerTo(err)
	}
	d.whole, d.shown = res, res
	return answer(res)
}

// Preview makes the reading anew while a line of the last Read is dragged.
func (d *Desk) Preview(rec []byte) (Answer, error) {
	if d.whole == nil {
		return Answer{}, words.Say("desk.nothing-to-drag")
	}
	r, err := parse(rec)
	if err != nil {
		return d.answerTo(err)
	}
	res, err := d.whole.Preview(*r, d.engine)
	if err != nil {
		return d.answerTo(err)
	}
	d.shown = res
	return answer(res)
}

func parse(rec []byte) (*record.Record, error) {
	t, err := record.TreeFromJSON(rec)
	if err != nil {
		return nil, err
	}
	return t.Record(record.FileName)
}

// answerTo tells a refusal and a mistake in what was stated, which are answers, from
// faults and interruptions.
func (d *Desk) answerTo(err error) (Answer, error) {
	var refusal *reading.Refusal
	if errors.As(err, &refusal) {
		return Answer{Refused: refusal}, nil
	}
	var mistake *record.Mistake
	if errors.As(err, &mistake) {
		return Answer{Mistake: d.sentence(words.Of(err))}, nil
	}
	return Answer{}, err
}

func answer(res *jar.Result) (Answer, error) {
	var b bytes.Buffer
	if err := res.Reading.Encode(&b); err != nil {
		return Answer{}, err
	}
	return Answer{Reading: b.Bytes(), Photos: lines(res)}, nil
}
