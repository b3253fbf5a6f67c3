package main

import (
	"context"
	"errors"
	"fmt"
	"math"
	"path/filepath"
	"runtime"
	"strconv"
	"strings"
	"syscall"

	"github.com/spf13/cobra"

	"mudline/internal/batch"
	"mudline/internal/engine"
	"mudline/internal/files"
	"mudline/internal/reading"
	"mudline/internal/words"
)

// batchOptions are the options of the batch command.
type batchOptions struct {
	out, memory, shard string
	jobs               int
	dryRun             bool
	recheck, prune     bool
}

func (a app) batchCommand() *cobra.Command {
	var o batchOptions
	cmd := &cobra.Command{
		Use: "batch",
		Example: `  mudline batch class-5b/ --dry-run
  mudline batch class-5b/
  mudline batch class-5b/ --out read/ --jobs 2 --memory 1G
  mudline batch plots/ --out read-$K/ --shard $K/8`,
		Args: func(_ *cobra.Command, args []string) error {
			if len(args) != 1 {
				return badInput(words.Say("command.do-mudline-batch-folder"), words.Say("command.folder-jars-needed-named", words.Whole("n", len(args))))
			}
			return nil
		},
		RunE: func(cmd *cobra.Command, args []string) error { return a.batch(cmd, args[0], o) },
	}
	f := cmd.Flags()
	f.StringVar(&o.out, "out", "", "")
	f.BoolVar(&o.dryRun, "dry-run", false, "")
	f.IntVar(&o.jobs, "jobs", runtime.GOMAXPROCS(0), "")
	f.StringVar(&o.memory, "memory", "2G", "")
	f.StringVar(&o.shard, "shard", "1/1", "")
	f.BoolVar(&o.recheck, "recheck", false, "")
	f.BoolVar(&o.prune, "prune", false, "")
	return cmd
}

func (a app) batch(cmd *cobra.Command, dir string, o batchOptions) error {
	l := spoken(cmd).In(words.Setting{Surface: words.Batch})
	opt, err := a.options(dir, o, spoken(cmd))
	if err != nil {
		return err
	}
	if err := mustExist(dir, words.Say("command.do-name-folder-holds-jars")); err != nil {
		return err
	}
	if err := mayReplace(cmd, inFolder(opt.Out, "index.html", "results.csv")...); err != nil {
		return err
	}
	plan, err := batch.Find(dir, opt.Engine, opt.Out)
	var common *batch.RecordError
	if errors.As(err, &common) {
		return &inputError{err, words.Say("command.do-correct-holds-all-jars")}
	}
	if err != nil {
		return &inputError{err, words.Say("command.do-name-folder-holds-jars")}
	}
	if o.dryRun {
		return showPlan(cmd.OutOrStdout(), plan, opt, l)
	}
	for _, n := range plan.Notes {
		fmt.Fprintln(cmd.ErrOrStderr(), l.Text("command.note", words.Told("text", n)))
	}
	if len(plan.Jars) == 0 {
		return noJars(dir, plan)
	}
	// A worker more would not be a jar more: each jar keeps to one processor.
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(min(opt.Jobs, runtime.GOMAXPROCS(0))))
	bar := newProgress(cmd.ErrOrStderr(), spoken(cmd))
	opt.Progress = bar.step
	sum, err := batch.Run(cmd.Context(), plan, opt)
	bar.finish()
	if err != nil {
		return batchError(cmd.Context(), err, sum, opt.Out)
	}
	return summed(cmd.OutOrStdout(), sum, plan, opt, l)
}

// options checks the options.
func (a app) options(dir string, o batchOptions, language *words.Language) (opt batch.Options, err error) {
	if o.jobs < 1 {
		return opt, badInput(words.Say("command.do-jobs-2-reads-two"), words.Say("command.no-jobs", words.Whole("jobs", o.jobs)))
	}
	memory, err := parseBytes(o.memory)
	if err != nil {
		return opt, badOption("--memory", err)
	}
	shard, err := batch.ParseShard(o.shard)
	if err != nil {
		return opt, badOption("--shard", err)
	}
	if o.prune && shard.N > 1 {
		return opt, badInput(words.Say("command.do-merge-parts-then-run"), words.Say("command.prune-looks-at-all", words.Name("shard", shard.String())))
	}
	if o.out == "" {
		abs, err := filepath.Abs(dir)
		if err != nil {
			return opt, badInput(words.Message{}, words.Say("of-file", words.Name("file", dir), words.Because("text", err)))
		}
		o.out = abs + "-read"
	}
	eng := engine.Default()
	return batch.Options{Out: o.out, Engine: eng, Stamp: stamp(eng.Name()) + inLanguage(language), Jobs: o.jobs, Memory: memory, Shard: shard, Recheck: o.recheck, Prune: o.prune, Language: language,
		Analyse: a.analyse, Render: renderIn(language)}, nil
}

// stamp names what reads: another one, and all is read anew.
func stamp(engine string) string {
	return fmt.Sprintf("mudline %s%s, image engine %s", version, revision(), engine)
}

// inLanguage is the part of a stamp that says which language reports are in; empty for
// English.
func inLanguage(l *words.Language) string {
	if l == nil {
		return ""
	}
	return ", reports in " + l.Tag()
}

// parseBytes reads a size such as 512M, 2G or 1.5G; K, M, G and T are powers of
// 1024.
func parseBytes(s string) (int64, error) {
	text := strings.ToUpper(strings.TrimSpace(s))
	text = strings.TrimSuffix(strings.TrimSuffix(text, "B"), "I")
	unit := 1.0
	if n := len(text); n > 0 {
		if k := strings.IndexByte("KMGT", text[n-1]); k >= 0 {
			unit, text = math.Pow(1024, float64(k+1)), text[:n-1]
		}
	}
	v, err := strconv.ParseFloat(strings.TrimSpace(text), 64)
	if err != nil || math.IsNaN(v) || math.IsInf(v, 0) {
		return 0, words.Say("command.no-size", words.Name("given", s))
	}
	if v *= unit; v < batch.MinMemory || v > 1<<50 {
		return 0, words.Say("command.at-least-m-needed", words.Name("given", s), words.Whole("minmemory", batch.MinMemory>>20))
	}
	return int64(v), nil
}

func noJars(dir string, plan *batch.Plan) error {
	if n := len(plan.Left); n > 0 {
		left := plan.Left[0]
		return reading.Refuse(reading.NoPhotos, words.Say("command.none-sorted", words.Whole("n", n), words.Name("folder", dir), words.Told("why", left.Said)), left.Todo)
	}
	return reading.Refuse(reading.NoPhotos, words.Say("command.no-photos-of-jars", words.Name("folder", dir)),
		words.Say("command.do-folder-each", words.Names("forms", "", files.Extensions)))
}

// batchError says what stopped a batch and what is kept.
func batchError(ctx context.Context, err error, sum batch.Summary, out string) error {
	kept := words.Say("command.kept", words.Whole("done", sum.Jars-sum.Left), words.Whole("all", sum.Jars), words.Name("folder", out))
	var write *batch.WriteError
	switch {
	case ctx.Err() != nil:
		return words.Say("command.stopped-run-same-command", words.Told("kept", kept))
	case errors.As(err, &write) && sum.Jars > sum.Left:
		return badInput(words.Then(outHint(err), words.Say("command.do-run-again")), words.Say("command.error-and-kept", words.Because("why", err), words.Told("kept", kept)))
	}
	return &inputError{err, outHint(err)}
}

// outHint says what to do where results cannot be written.
func outHint(err error) words.Message {
	switch {
	case errors.Is(err, batch.ErrBusy):
		return words.Say("command.do-wait-until-ends")
	case errors.Is(err, syscall.ENOSPC):
		return words.Say("command.do-make-room")
	}
	return words.Say("command.do-other-folder-or-writable")
}
