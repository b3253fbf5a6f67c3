package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"

	"mudline/internal/files"
	"mudline/internal/reading"
	"mudline/internal/record"
	"mudline/internal/words"
)

// The exit statuses, as help/en/topics/status.txt tells them.
const (
	statusOK       = 0
	statusInternal = 1   // a fault of the program
	statusInput    = 2   // a mistake in what the person gave
	statusRefused  = 3   // no reading can be made
	statusDisk     = 4   // a file cannot be read or written
	statusStopped  = 130 // as shells have it for Ctrl-C
)

// inputError is an error with what to do about it: a mistake in what the person gave (an
// option, a file, a value), or the disk's where that is the cause.
type inputError struct {
	err  error
	hint words.Message
}

func (e *inputError) Error() string { return e.err.Error() }
func (e *inputError) Unwrap() error { return e.err }

func badInput(hint, said words.Message) error { return &inputError{said, hint} }

// badOption is a mistake in the value of an option.
func badOption(option string, err error) error {
	return &inputError{ofOption(option, err), words.Message{}}
}

// outside is a number that an option cannot have.
func outside[N int | float64](option string, given, low, high N) error {
	return badInput(words.Message{}, words.Say("command.number-outside", words.Name("option", option), words.Figures("given", float64(given), 6), words.Figures("low", float64(low), 6), words.Figures("high", float64(high), 6)))
}

// ending is how a command ended that did not do what it was asked.
type ending struct {
	status  int
	refusal *reading.Refusal // nil for all but statusRefused
	failure reading.Failure
}

// endedBy sorts an error by its type. started says that a command's own work had begun:
// what is wrong before lies in the command line.
func endedBy(ctx context.Context, err error, started bool) ending {
	var refusal *reading.Refusal
	var input *inputError
	var mistake *record.Mistake
	var unread *files.ReadError
	failed := func(status int, kind reading.FailureKind, hint words.Message) ending {
		return ending{status: status, failure: reading.Fail(kind, words.Of(err), hint)}
	}
	switch {
	case errors.As(err, &refusal):
		return ending{status: statusRefused, refusal: refusal}
	case errors.Is(err, context.Canceled):
		return ending{status: statusStopped, failure: reading.Fail(reading.Stopped, words.Say("command.interrupted"), words.Message{})}
	case ctx.Err() != nil, errors.Is(err, errStopped):
		return failed(statusStopped, reading.Stopped, words.Message{})
	case errors.As(err, &input):
		if files.OfDisk(err) {
			return failed(statusDisk, reading.OfDisk, input.hint)
		}
		return failed(statusInput, reading.OfInput, input.hint)
	case errors.As(err, &mistake):
		e := failed(statusInput, reading.OfInput, mistakeHint(mistake))
		e.failure.File, e.failure.Line, e.failure.Photo, e.failure.Key = mistake.File, mistake.Line, mistake.Photo, mistake.Key
		return e
	case files.OfDisk(err):
		return failed(statusDisk, reading.OfDisk, words.Say("command.do-see-disk"))
	case errors.As(err, &unread):
		return failed(statusInput, reading.OfInput, words.Message{})
	case !started:
		return failed(statusInput, reading.OfInput, words.Say("command.do-mudline-help"))
	}
	return failed(statusInternal, reading.OfProgram, words.Say("command.do-report-fault"))
}

// mistakeHint says where to put right what was stated.
func mistakeHint(m *record.Mistake) words.Message {
	if m.File != "" {
		return words.Say("command.do-mudline-new-help-shows", words.Name("file", record.FileName))
	}
	return words.Say("command.do-correct-it", words.Name("file", record.FileName))
}

// tell says it to the person.
func (e ending) tell(w io.Writer, l *words.Language) {
	say := func(key string, m words.Message) {
		if !m.IsZero() {
			fmt.Fprintln(w, l.Text(key, words.Told("text", m)))
		}
	}
	if e.refusal != nil {
		say("command.refused", e.refusal.Message())
		say("command.what-to-do", e.refusal.Help())
		return
	}
	say("command.error", e.failure.Message())
	say("command.hint", e.failure.Help())
}

// encode writes it as JSON.
func (e ending) encode(w io.Writer) error {
	if e.refusal != nil {
		return reading.Refused(e.refusal).Encode(w)
	}
	return reading.Failed(e.failure).Encode(w)
}

// asksJSON says whether the command line asks for JSON, even where it cannot be read.
func asksJSON(args []string) bool {
	if i := slices.Index(args, "--"); i >= 0 {
		args = args[:i]
	}
	return slices.Contains(args, "--json") || slices.Contains(args, "--json=true") || strings.Contains(" "+strings.ReplaceAll(strings.Join(args, " "), "=", " ")+" ", " --format json ")
}
