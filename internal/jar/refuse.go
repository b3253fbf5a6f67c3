package jar

import (
	"errors"
	"time"

	"mudline/imaging"
	"mudline/imaging/appearance"
	"mudline/internal/reading"
	"mudline/internal/record"
	"mudline/internal/words"
	"mudline/layers"
)

// pictureRefusal turns a refusal of package imaging into one of the reading;
// other errors stay what they are.
func pictureRefusal(err error) error {
	var r *imaging.Refusal
	if errors.As(err, &r) {
		return reading.Refuse(reading.RefusalCode(r.Code), r.Text, r.Remedy)
	}
	return err
}

// qualityRefusal names the photo in a refusal for its quality.
func qualityRefusal(file string, r *imaging.Refusal) error {
	return reading.Refuse(reading.RefusalCode(r.Code), words.In(file, r.Text), r.Remedy)
}

// mudExpected is how long after shaking a jar full of mud is what to expect.
const mudExpected = time.Hour

// layersRefusal turns a refusal of package layers into one of the reading that
// names the photo. A stated line that makes no sense is a mistake of the
// person, not a refusal.
func layersRefusal(err error, shots []*framed) error {
	var r *layers.Refusal
	if !errors.As(err, &r) || r.Photo < 0 || r.Photo >= len(shots) {
		return err
	}
	file := shots[r.Photo].file
	switch r.Code {
	case layers.RefusedStated:
		return unsound(file, r.Text, r.Remedy)
	case layers.RefusedStrip:
		return err // a fault of this package
	}
	if r.Code == layers.RefusedStillMixed && shots[r.Photo].elapsed.Time > mudExpected && appearance.SeenThrough(shots[r.Photo].photo.Picture, shots[r.Photo].frame) {
		return reading.Refuse(reading.NoDeposit, words.In(file, words.Say("jar.seen-through")), words.Then(words.Say("do.check-bottom"), placeTop(file)))
	}
	return reading.Refuse(reading.RefusalCode(r.Code), words.In(file, r.Text), words.Then(r.Remedy, placeTop(file)))
}

// placeTop is what a person can do who sees the deposit that the program does not.
func placeTop(file string) words.Message {
	return words.Say("do.or-place-soil-top", record.PhotoArgs(file)...)
}

// unsound is the error of stated lines that make no sense, with what would.
func unsound(file string, wrong, todo words.Message) error {
	return record.MistakeIn(file, "lines", words.Say("jar.unsound", words.Told("wrong", wrong), words.Told("todo", todo)))
}
