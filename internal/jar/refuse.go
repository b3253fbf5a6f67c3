package jar

import (
	"errors"
	"fmt"
	"time"

	"mudline/imaging"
	"mudline/internal/reading"
	"mudline/layers"
)

// pictureRefusal turns a refusal of package imaging into one of the reading;
// other errors stay what they are.
func pictureRefusal(err error) error {
	var r *imaging.Refusal
	if errors.As(err, &r) {
		return &reading.Refusal{Code: r.Code, Text: r.Text, Remedy: r.Remedy}
	}
	return err
}

// qualityRefusal names the photo in a refusal for its quality.
func qualityRefusal(file string, r *imaging.Refusal) error {
	return &reading.Refusal{Code: r.Code, Text: file + ": " + r.Text, Remedy: r.Remedy}
}

const bottomRemedy = "check that this is the jar with the soil in it and that its bottom is in the picture"

// mudExpected is how long after shaking a jar full of mud is what to expect.
const mudExpected = time.Hour

// layersRefusal turns a refusal of package layers into one of the reading that
// names the photo. A stated line that makes no sense is a mistake of the
// person, not a refusal.
func layersRefusal(err error, shots []*shot) error {
	var r *layers.Refusal
	if !errors.As(err, &r) || r.Photo < 0 || r.Photo >= len(shots) {
		return err
	}
	file := shots[r.Photo].file
	switch r.Code {
	case layers.RefusedStated, layers.RefusedStrip:
		return fmt.Errorf("%s: %s: %s", file, r.Text, r.Remedy)
	}
	if r.Code == layers.RefusedStillMixed && shots[r.Photo].elapsed.Time > mudExpected && shots[r.Photo].seenThrough() {
		return &reading.Refusal{Code: reading.NoDeposit, Text: file + ": the room behind is seen through the jar and there is no deposit at its bottom",
			Remedy: bottomRemedy + "; " + placeTop(file)}
	}
	return &reading.Refusal{Code: r.Code, Text: file + ": " + r.Text, Remedy: r.Remedy + "; " + placeTop(file)}
}

// placeTop is what a person can do who sees the deposit that the program does not.
func placeTop(file string) string {
	return fmt.Sprintf("or, if you see the top of the soil, place it: --line %s:deposit-top=...px", file)
}
