// Mudline reads timed photographs of a settling soil jar: it finds the layers,
// and says what share of the soil is sand, silt and clay.
package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/signal"

	"mudline/internal/jar"
	"mudline/internal/reading"
	"mudline/internal/record"
)

// The exit statuses.
const (
	statusOK       = 0
	statusInternal = 1
	statusInput    = 2
	statusRefused  = 3
)

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
	defer stop()
	os.Exit(app{analyse: jar.Analyse}.run(ctx, os.Args[1:], os.Stdout, os.Stderr))
}

// app is the program with what its commands stand on.
type app struct {
	analyse func(context.Context, []jar.File, record.Record, jar.Options) (*jar.Result, error)
}

// inputError is a fault in what the person gave: a flag, a file, a value.
type inputError struct {
	err  error
	hint string
}

func (e *inputError) Error() string { return e.err.Error() }
func (e *inputError) Unwrap() error { return e.err }

func badInput(hint, format string, args ...any) error {
	return &inputError{fmt.Errorf(format, args...), hint}
}

// run executes the command line and gives the exit status. It is the one place
// where errors reach the person.
func (a app) run(ctx context.Context, args []string, stdout, stderr io.Writer) int {
	root, started := a.root()
	root.SetArgs(args)
	root.SetOut(stdout)
	root.SetErr(stderr)
	err := root.ExecuteContext(ctx)
	var refusal *reading.Refusal
	var input *inputError
	switch {
	case err == nil:
		return statusOK
	case errors.As(err, &refusal):
		fmt.Fprintf(stderr, "refused: %s\n", refusal.Text)
		fmt.Fprintf(stderr, "what to do: %s\n", refusal.Remedy)
		return statusRefused
	case errors.As(err, &input):
		fmt.Fprintf(stderr, "error: %v\n", err)
		if input.hint != "" {
			fmt.Fprintf(stderr, "hint: %s\n", input.hint)
		}
		return statusInput
	case !*started: // the words of the command line themselves
		fmt.Fprintf(stderr, "error: %v\nhint: mudline --help lists the commands\n", err)
		return statusInput
	}
	fmt.Fprintf(stderr, "error: %v\n", err)
	return statusInternal
}
