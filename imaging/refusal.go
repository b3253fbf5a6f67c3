package imaging

import "mudline/internal/words"

// Refusal says why a picture cannot be read and what the person can do about
// it. It is the error type of Inspect, Open and Quality.Refuse.
type Refusal struct {
	// Code is one of the Code constants of this package, for programs.
	Code string `json:"code"`
	// Text says what was wrong, with the value found and the range allowed.
	Text words.Message `json:"text"`
	// Remedy says what to do.
	Remedy words.Message `json:"remedy"`
}

// The codes of a Refusal.
const (
	CodeEmpty       = "empty_file"
	CodeNotImage    = "not_an_image"
	CodeUnsupported = "unsupported_format"
	CodeTruncated   = "truncated"
	CodeDamaged     = "damaged"
	CodeTooSmall    = "too_small"
	CodeTooLarge    = "too_large"
	CodeTooDark     = "too_dark"
	CodeOutOfFocus  = "out_of_focus"
)

// Error gives the reason; the remedy is for whoever shows it to a person.
func (r *Refusal) Error() string { return r.Text.String() }

// in names the file the refusal is about.
func (r *Refusal) in(name string) *Refusal {
	if name == "" {
		return r
	}
	named := *r
	named.Text = words.In(name, r.Text)
	return &named
}

func refuse(code string, text, remedy words.Message) *Refusal {
	return &Refusal{Code: code, Text: text, Remedy: remedy}
}

// What to do about most files that cannot be read.
var (
	copyAgain = words.Say("do.copy-photo-again")
	useJPEG   = words.Say("do.save-as-jpeg")
)

// damaged refuses a file with something wrong in it, raw a camera's raw file.
func damaged(text words.Message) *Refusal { return refuse(CodeDamaged, text, copyAgain) }

func raw() *Refusal {
	return refuse(CodeUnsupported, words.Say("photo.raw"), useJPEG)
}
