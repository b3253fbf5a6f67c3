package imaging

import "fmt"

// Refusal says why a picture cannot be read and what the person can do about
// it. It is the error type of Inspect, Open and Quality.Refuse.
type Refusal struct {
	// Code is one of the Code constants of this package, for programs.
	Code string `json:"code"`
	// Text says what was wrong, with the value found and the range allowed.
	Text string `json:"text"`
	// Remedy says what to do.
	Remedy string `json:"remedy"`
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
func (r *Refusal) Error() string { return r.Text }

// in names the file the refusal is about.
func (r *Refusal) in(name string) *Refusal {
	if name == "" {
		return r
	}
	named := *r
	named.Text = name + ": " + r.Text
	return &named
}

func refuse(code, remedy, format string, args ...any) *Refusal {
	return &Refusal{Code: code, Text: fmt.Sprintf(format, args...), Remedy: remedy}
}
