// Mudline reads timed photographs of a settling soil jar: it finds the layers,
// and says what share of the soil is sand, silt and clay.
package main

import (
	"context"
	"io"
	"os"
	"os/signal"

	"mudline/internal/jar"
	"mudline/internal/record"
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

// run executes the command line and gives the exit status. It is the one place
// where errors reach the person.
func (a app) run(ctx context.Context, args []string, stdout, stderr io.Writer) int {
	out, told := &terminal{to: stdout}, &terminal{to: stderr}
	l := languageOf(args)
	root, started := a.root(l)
	root.SetArgs(args)
	root.SetOut(out)
	root.SetErr(told)
	err := root.ExecuteContext(ctx)
	if err == nil {
		return statusOK
	}
	if !*started {
		err = wrongCommand(root, err)
	}
	e := endedBy(ctx, err, *started)
	if !out.used && asksJSON(args) {
		_ = e.encode(out) // what cannot be told here is told below
	}
	e.tell(told, l)
	return e.status
}
