package main

import (
	"fmt"
	"io"
	"path/filepath"
	"strings"

	"mudline/internal/batch"
	"mudline/internal/reading"
	"mudline/internal/record"
)

// summed says what came out. Its error is the exit status.
func summed(w io.Writer, sum batch.Summary, plan *batch.Plan, opt batch.Options) error {
	fmt.Fprintf(w, "%s: %d read, %d refused", count(sum.Jars, "jar"), sum.Read, sum.Refused)
	if sum.Faults > 0 {
		fmt.Fprintf(w, ", %d failed", sum.Faults)
	}
	if sum.Doubtful > 0 {
		fmt.Fprintf(w, "; %d of those read want a second look", sum.Doubtful)
	}
	if sum.Kept > 0 {
		fmt.Fprintf(w, " (%d had been read before)", sum.Kept)
	}
	fmt.Fprintln(w)
	for _, r := range sum.Rows {
		fmt.Fprintf(w, "  %s: %s\n    what to do: %s\n", r.Called(), r.Refused.Text, r.Refused.Remedy)
	}
	showLeft(w, plan.Left)
	showGone(w, sum.Gone, opt.Out)
	if sum.Pruned > 0 {
		fmt.Fprintf(w, "removed the results of %s whose photos are no longer in the folder\n", count(sum.Pruned, "jar"))
	}
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
func showPlan(w io.Writer, plan *batch.Plan, opt batch.Options) error {
	photos, jars := 0, 0
	var troubled []string
	for _, j := range opt.Shard.Of(plan.Jars) {
		jars++
		o := plan.Outline(j)
		fmt.Fprintf(w, "%s (%s)\n", j.Called(), j.Why)
		for _, p := range o.Photos {
			time := "time not known"
			switch {
			case p.From != "":
				time = p.Elapsed + ", " + timeFrom[p.From]
			case p.Taken != "":
				time = "taken " + p.Taken + ", time since shaking not known"
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
			troubled = append(troubled, j.Called())
		}
		photos += len(j.Photos)
	}
	showLeft(w, plan.Left)
	for _, n := range plan.Notes {
		fmt.Fprintf(w, "note: %s\n", n)
	}
	showGone(w, plan.Gone(opt.Out), opt.Out)
	fmt.Fprintf(w, "%s, %s; %d likely to be refused (marked !), %d not sorted\n", count(jars, "jar"), count(photos, "photo"), len(troubled), len(plan.Left))
	if len(troubled) > 0 {
		fmt.Fprintf(w, "likely to be refused: %s\n", strings.Join(troubled, ", "))
	}
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
	list := batch.Gather(left)
	for i, l := range list {
		fmt.Fprintf(w, "    %s: %s\n", l.Path, l.Text)
		if i+1 == len(list) || list[i+1].Remedy != l.Remedy { // once for all it holds for
			fmt.Fprintf(w, "      what to do: %s\n", l.Remedy)
		}
	}
}

// showGone lists results that no table has any more.
func showGone(w io.Writer, gone []batch.Gone, out string) {
	if len(gone) == 0 {
		return
	}
	fmt.Fprintf(w, "results of jars whose photos are no longer in the folder, left out of the tables; --prune removes them:\n")
	for _, g := range gone {
		fmt.Fprintf(w, "    %s: %s\n", g.Name, filepath.Join(out, g.Folder))
	}
}
