package reading

import "mudline/internal/words"

// The codes of refusals; those about a single picture are package
// imaging's, those about what the jar holds package layers'.
const (
	NoPhotos       = "no_photos"
	EmptyFile      = "empty_file"
	NotAnImage     = "not_an_image"
	Unsupported    = "unsupported_format"
	Truncated      = "truncated"
	Damaged        = "damaged"
	TooSmall       = "too_small"
	TooLarge       = "too_large"
	TooDark        = "too_dark"
	OutOfFocus     = "out_of_focus"
	NoJar          = "no_jar"
	NotUpright     = "not_upright"
	NoDeposit      = "no_deposit"
	StillMixed     = "still_mixed"
	DifferentJars  = "different_jars"
	NoTime         = "no_time"
	TimesBackwards = "times_backwards"
	SameTime       = "same_time"

	// Of single photos of a film.
	OtherView = "other_view"
	OutOfLine = "out_of_line"

	NoFilm = "no_film"
)

// Refusal is the answer where no reading can be made: why, and what to do.
type Refusal struct {
	// Code is one of the constants above.
	Code string `json:"code"`
	// Text says what was seen, with the file or value.
	Text string `json:"text"`
	// Remedy says what to do about it.
	Remedy string `json:"remedy"`
	// Said and Todo are Text and Remedy as messages.
	Said *words.Message `json:"said,omitempty"`
	Todo *words.Message `json:"todo,omitempty"`
}

// Error gives the reason.
func (r *Refusal) Error() string { return r.Text }

// RefusalDocument is the JSON that is written in place of a Reading.
type RefusalDocument struct {
	Version int      `json:"version"`
	Refused *Refusal `json:"refused"`
}

// Refused wraps a refusal for writing.
func Refused(r *Refusal) RefusalDocument { return RefusalDocument{Version, r} }
