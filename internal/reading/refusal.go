package reading

import "mudline/internal/words"

// Refusal is the answer where no reading can be made: why, and what to do.
type Refusal struct {
	Code RefusalCode `json:"code"`
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
