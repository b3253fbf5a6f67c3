package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"math"
	"path/filepath"
	"runtime"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"mudline/internal/batch"
	"mudline/internal/engine"
	"mudline/internal/files"
	"mudline/internal/reading"
	"mudline/internal/record"
)

// batchOptions are the options of the batch command.
type batchOptions struct {
	out, memory, shard string
	jobs               int
	dryRun, recheck    bool
}

func (a app) batchCommand() *cobra.Command {
	var o batchOptions
	cmd := &cobra.Command{
		Use:   "batch DIR",
		Short: "Read a folder of jars",
		Long: `Read a folder of jars. Every folder in DIR that holds photos is a jar. Photos in
DIR itself are sorted into jars by the NAME.jar.yaml that lists them, by their
names (plot7_1min.jpg and plot7_2h.jpg are of plot7), by the jar.yaml that lists
them, and where names say nothing by when they were taken and what they look
like. What cannot be told for sure is listed as not sorted, and is in no jar.
Look at it first with --dry-run.

A jar's own record is jar.yaml in its folder, or NAME.jar.yaml beside its photos.
A jar.yaml in DIR itself states what is the same for all jars, such as the water's
temperature; a jar's own record wins over it.

The results go into a folder beside DIR: results.csv for a spreadsheet,
results.jsonl for programs, index.html to look at, and a folder for each jar. Run
the command again at any time, also after an interruption: only what is new or
changed is read.

--shard 2/8 reads the second of eight parts, each of which may run on another
machine; mudline merge joins them.

Exit status: 0 all jars read, 3 some could not be read, 2 a mistake in what was
given, 1 a fault of the program or an interruption.`,
		Example: `  mudline batch class-5b/ --dry-run
  mudline batch class-5b/
  mudline batch class-5b/ --out read/ --jobs 2 --memory 1G
  mudline batch plots/ --out read-$K/ --shard $K/8`,
		Args: func(_ *cobra.Command, args []string) error {
			if len(args) != 1 {
				return badInput("mudline batch FOLDER", "one folder of jars is needed, %d are named", len(args))
			}
			return nil
		},
		RunE: func(cmd *cobra.Command, args []string) error { return a.batch(cmd, args[0], o) },
	}
	f := cmd.Flags()
	f.StringVar(&o.out, "out", "", "write the results into this `folder` (default DIR-read, beside DIR)")
	f.BoolVar(&o.dryRun, "dry-run", false, "show which photos are of which jar, and read nothing")
	f.IntVar(&o.jobs, "jobs", runtime.GOMAXPROCS(0), "read this `many` jars at a time")
	f.StringVar(&o.memory, "memory", "2G", "keep to this much memory, as in 512M or 2G (`size`, 256M or more)")
	f.StringVar(&o.shard, "shard", "1/1", "read the K-th of N `parts` only, as in 2/8")
	f.BoolVar(&o.recheck, "recheck", false, "compare the content of every photo with what was read, even where it looks untouched")
	return cmd
}

func (a app) batch(cmd *cobra.Command, dir string, o batchOptions) error {
	opt, err := a.options(dir, o)
	if err != nil {
		return err
	}
	plan, err := batch.Find(dir, opt.Engine, opt.Out)
	if err != nil {
		return &inputError{err, "name a folder that holds jars"}
	}
	if o.dryRun {
		return showPlan(cmd.OutOrStdout(), plan, opt.Shard)
	}
	for _, n := range plan.Notes {
		fmt.Fprintf(cmd.ErrOrStderr(), "note: %s\n", n)
	}
	if len(plan.Jars) == 0 {
		return noJars(dir, plan)
	}
	// A worker more would not be a jar more: each jar keeps to one processor.
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(min(opt.Jobs, runtime.GOMAXPROCS(0))))
	bar := newProgress(cmd.ErrOrStderr())
	opt.Progress = bar.step
	sum, err := batch.Run(cmd.Context(), plan, opt)
	bar.finish()
	if err != nil {
		return batchError(cmd.Context(), err, sum, opt.Out)
	}
	return summed(cmd.OutOrStdout(), sum, plan, opt)
}

// options checks the options.
func (a app) options(dir string, o batchOptions) (opt batch.Options, err error) {
	if o.jobs < 1 {
		return opt, badInput("--jobs 2 reads two jars at a time", "--jobs: %d is no number of jars", o.jobs)
	}
	memory, err := parseBytes(o.memory)
	if err != nil {
		return opt, &inputError{fmt.Errorf("--memory: %w", err), ""}
	}
	shard, err := batch.ParseShard(o.shard)
	if err != nil {
		return opt, &inputError{fmt.Errorf("--shard: %w", err), ""}
	}
	if o.out == "" {
		abs, err := filepath.Abs(dir)
		if err != nil {
			return opt, badInput("", "%s: %w", dir, err)
		}
		o.out = abs + "-read"
	}
	eng := engine.Default()
	return batch.Options{Out: o.out, Engine: eng, Stamp: stamp(eng.Name()), Jobs: o.jobs, Memory: memory, Shard: shard, Recheck: o.recheck,
		Analyse: a.analyse, Render: renderJar}, nil
}

// stamp names what reads: another one, and all is read anew.
func stamp(engine string) string {
	return fmt.Sprintf("mudline %s%s, image engine %s", version, revision(), engine)
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
		return 0, fmt.Errorf("%q is not a size: write for example 512M or 2G", s)
	}
	if v *= unit; v < batch.MinMemory || v > 1<<50 {
		return 0, fmt.Errorf("%q: at least %dM are needed, for one jar of ordinary photos", s, batch.MinMemory>>20)
	}
	return int64(v), nil
}

func noJars(dir string, plan *batch.Plan) error {
	no := &reading.Refusal{Code: reading.NoPhotos, Text: dir + " holds no photos of jars",
		Remedy: "put the photos of each jar into a folder of its own in there (" + strings.Join(files.Extensions, ", ") + ")"}
	if n := len(plan.Left); n > 0 {
		no.Text = fmt.Sprintf("none of the %d photos in %s could be sorted into a jar: %s", n, dir, plan.Left[0].Text)
		no.Remedy = plan.Left[0].Remedy
	}
	return no
}

// batchError says what stopped a batch and what is kept.
func batchError(ctx context.Context, err error, sum batch.Summary, out string) error {
	kept := fmt.Sprintf("%d of %d jars are finished and kept in %s", sum.Jars-sum.Left, sum.Jars, out)
	var write *batch.WriteError
	switch {
	case ctx.Err() != nil:
		return fmt.Errorf("stopped: %s; run the same command again to go on", kept)
	case errors.As(err, &write) && sum.Jars > sum.Left:
		return badInput("make room, then run the same command again to go on", "%w; %s", err, kept)
	}
	return &inputError{err, "choose another folder with --out, or make room"}
}

// summed says what came out. Its error is the exit status.
func summed(w io.Writer, sum batch.Summary, plan *batch.Plan, opt batch.Options) error {
	fmt.Fprintf(w, "%s: %d read, %d refused", count(sum.Jars, "jar"), sum.Read, sum.Refused)
	if sum.Faults > 0 {
		fmt.Fprintf(w, ", %d failed", sum.Faults)
	}
	if sum.Kept > 0 {
		fmt.Fprintf(w, " (%d had been read before)", sum.Kept)
	}
	fmt.Fprintln(w)
	for _, r := range sum.Rows {
		fmt.Fprintf(w, "  %s: %s\n    what to do: %s\n", r.Name, r.Refused.Text, r.Refused.Remedy)
	}
	showLeft(w, plan.Left)
	if opt.Shard.N > 1 {
		fmt.Fprintf(w, "part %s is in %s; mudline merge joins the parts\n", opt.Shard, opt.Out)
	} else {
		fmt.Fprintf(w, "look at %s\n", filepath.Join(opt.Out, "index.html"))
	}
	return ended(sum, len(plan.Left))
}

// ended gives the exit status of a batch as an error; nil where all was read.
func ended(sum batch.Summary, left int) error {
	switch {
	case sum.Faults > 0:
		return fmt.Errorf("the program failed on %s; the others are not touched by it", count(sum.Faults, "jar"))
	case sum.Refused > 0:
		return &reading.Refusal{Code: "some_refused", Text: fmt.Sprintf("%d of %s could not be read", sum.Refused, count(sum.Jars, "jar")),
			Remedy: "see above; put it right and run the same command again, which reads only what changed"}
	case left > 0:
		return &reading.Refusal{Code: "not_sorted", Text: count(left, "photo") + " could not be sorted into a jar",
			Remedy: "see above; then run the same command again"}
	}
	return nil
}

func count(n int, thing string) string {
	if n == 1 {
		return "1 " + thing
	}
	return fmt.Sprintf("%d %ss", n, thing)
}

// showPlan prints which photos are of which jar.
func showPlan(w io.Writer, plan *batch.Plan, shard batch.Shard) error {
	troubled, photos, jars := 0, 0, 0
	for i := range plan.Jars {
		j := &plan.Jars[i]
		if !shard.Has(j.ID) {
			continue
		}
		jars++
		o := plan.Outline(j)
		fmt.Fprintf(w, "%s (by %s)\n", j.Name, j.Why)
		for _, p := range o.Photos {
			time := "time not known"
			if p.From != "" {
				time = p.Elapsed + ", " + timeFrom[p.From]
			}
			fmt.Fprintf(w, "    %s: %s\n", p.File, time)
		}
		for _, r := range j.Records {
			fmt.Fprintf(w, "    %s\n", r)
		}
		for _, no := range o.Problems {
			fmt.Fprintf(w, "  ! %s\n    what to do: %s\n", no.Text, no.Remedy)
		}
		if len(o.Problems) > 0 {
			troubled++
		}
		photos += len(j.Photos)
	}
	showLeft(w, plan.Left)
	for _, n := range plan.Notes {
		fmt.Fprintf(w, "note: %s\n", n)
	}
	fmt.Fprintf(w, "%s, %s; %d likely to be refused (marked !), %d not sorted\n", count(jars, "jar"), count(photos, "photo"), troubled, len(plan.Left))
	_, err := fmt.Fprintln(w, "nothing was read: leave out --dry-run to read")
	return err
}

// timeFrom says where a photo's time comes from.
var timeFrom = map[string]string{record.FromStated: "stated", record.FromName: "from its name", record.FromEXIF: "by the camera's clock"}

func showLeft(w io.Writer, left []batch.Left) {
	if len(left) == 0 {
		return
	}
	fmt.Fprintln(w, "not sorted:")
	for _, l := range left {
		fmt.Fprintf(w, "    %s: %s\n      what to do: %s\n", l.Path, l.Text, l.Remedy)
	}
}
