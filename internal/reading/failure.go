package reading

import (
	"io"

	"mudline/internal/words"
)

// FailureKind says whose the fault is that nothing came of a command.
type FailureKind string

// The kinds of failures.
const (
	OfInput   FailureKind = "mistake" // in what the person gave
	OfDisk    FailureKind = "disk"    // a file cannot be read or written
	OfProgram FailureKind = "fault"   // of the program
	Stopped   FailureKind = "stopped" // by the person
)

// Failure is why nothing came of a command, where that is no refusal.
type Failure struct {
	Kind FailureKind `json:"kind"`
	Text string      `json:"text"`
	// Remedy says what to do about it; empty where that is plain.
	Remedy string `json:"remedy,omitempty"`
	// File, Line, Photo and Key are where a record states what cannot be, as far as known.
	File  string `json:"file,omitempty"`
	Line  int    `json:"line,omitempty"`
	Photo string `json:"photo,omitempty"`
	Key   string `json:"key,omitempty"`
	// Said and Todo are Text and Remedy as messages.
	Said *words.Message `json:"said,omitempty"`
	Todo *words.Message `json:"todo,omitempty"`
}

// Fail makes a failure; a zero todo is nothing to do.
func Fail(kind FailureKind, said, todo words.Message) Failure {
	return Failure{Kind: kind, Text: said.String(), Remedy: todo.String(), Said: said.Ptr(), Todo: todo.Ptr()}
}

// Message is what went wrong, Help what to do.
func (f Failure) Message() words.Message { return message(f.Said, f.Text) }

// Help is what to do about it; nothing where nothing is.
func (f Failure) Help() words.Message { return message(f.Todo, f.Remedy) }

// FailureDocument is the JSON that is written in place of what was asked for.
type FailureDocument struct {
	Version int     `json:"version"`
	Error   Failure `json:"error"`
}

// Failed wraps a failure for writing.
func Failed(f Failure) FailureDocument { return FailureDocument{Version, f} }

// Encode writes the failure as indented JSON.
func (d FailureDocument) Encode(w io.Writer) error { return encode(w, d) }
