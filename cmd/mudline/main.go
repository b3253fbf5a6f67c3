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

	"github.com/spf13/cobra"

	"mudline/internal/jar"
	"mudline/internal/reading"
	"mudline/internal/record"
	"mudline/internal/words"
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
	hint words.Message
}

func (e *inputError) Error() string { return e.err.Error() }
func (e *inputError) Unwrap() error { return e.err }

func badInput(hint, said words.Message) error { return &inputError{said, hint} }

// run executes the command line and gives the exit status. It is the one place
// where errors reach the person.
func (a app) run(ctx context.Context, args []string, stdout, stderr io.Writer) int {
	root, started := a.root()
	root.SetArgs(args)
	root.SetOut(stdout)
	root.SetErr(stderr)
	err := root.ExecuteContext(ctx)
	l := spoken(root)
	tell := func(key string, m words.Message) {
		if !m.IsZero() {
			fmt.Fprintln(stderr, l.Text(key, words.Told("text", m)))
		}
	}
	var refusal *reading.Refusal
	var input *inputError
	switch {
	case err == nil:
		return statusOK
	case errors.As(err, &refusal):
		tell("command.refused", refusal.Message())
		tell("command.what-to-do", refusal.Help())
		return statusRefused
	case errors.As(err, &input):
		tell("command.error", words.Of(input.err))
		tell("command.hint", input.hint)
		return statusInput
	case !*started: // the words of the command line themselves
		tell("command.error", words.Of(err))
		tell("command.hint", words.Say("command.do-mudline-help"))
		return statusInput
	}
	tell("command.error", words.Of(err))
	return statusInternal
}

// spoken is the language that the command line asks for; English where it is none.
func spoken(cmd *cobra.Command) *words.Language {
	flag := cmd.Flag(languageFlag)
	if flag == nil {
		return nil
	}
	l, err := words.Find(flag.Value.String())
	if err != nil {
		return nil
	}
	return l
}
