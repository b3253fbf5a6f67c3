package main

import (
	"fmt"
	"io"
	"path/filepath"

	"mudline/internal/batch"
	"mudline/internal/reading"
	"mudline/internal/record"
	"mudline/internal/words"
)

// summed says what came out. Its error is the exit status.
func summed(w io.Writer, sum batch.Summary, plan *batch.Plan, opt batch.Options, l *words.Language) error {
	text := l.Text("command.read-refused", words.Told("jars", countJars(sum.Jars)), words.Whole("read", sum.Read), words.Whole("refused", sum.Refused))
	for _, more := range []struct {
		key string
		n   int
	}{{"command.and-failed", sum.Faults}, {"command.and-doubtful", sum.Doubtful}, {"command.and-kept", sum.Kept}} {
		if more.n > 0 {
			text += l.Text(more.key, words.Whole("n", more.n))
		}
	}
	fmt.Fprintln(w, text)
	for _, r := range sum.Rows {
		fmt.Fprintf(w, "  %s: %s\n    %s\n", words.OneLine(r.Called()), l.Say(r.Refused.Message()), l.Text("command.what-to-do", words.Told("text", r.Refused.Help())))
	}
	showLeft(w, plan.Left, l)
	showGone(w, sum.Gone, opt.Out, l)
	if sum.Pruned > 0 {
		fmt.Fprintln(w, l.Text("command.pruned", words.Told("jars", countJars(sum.Pruned))))
	}
	if opt.Shard.N > 1 {
		fmt.Fprintln(w, l.Text("command.part-in", words.Name("part", opt.Shard.String()), words.Name("folder", opt.Out)))
	} else {
		fmt.Fprintln(w, l.Text("command.look-at", words.Name("file", filepath.Join(opt.Out, "index.html"))))
	}
	return ended(sum, len(plan.Left), opt.Shard.N == 1)
}

// ended gives the exit status of a batch as an error; nil where all was read. Whole says
// that it is no part of a batch: only then are there tables to look at.
func ended(sum batch.Summary, left int, whole bool) error {
	switch {
	case sum.Faults > 0:
		return words.Say("command.program-failed", words.Told("jars", countJars(sum.Faults)))
	case sum.Refused > 0:
		todo := words.Say("command.do-see-table")
		if whole {
			todo = words.Say("command.do-put-right")
		}
		return reading.Refuse(reading.SomeRefused, words.Say("command.some-refused", words.Whole("some", sum.Refused), words.Told("jars", countJars(sum.Jars))), todo)
	case left > 0:
		return reading.Refuse(reading.NotSorted, words.Say("command.photos-not-sorted", words.Told("photos", countPhotos(left))), words.Say("command.do-see-list"))
	}
	return nil
}

func countJars(n int) words.Message   { return words.Say("command.n-jars", words.Whole("n", n)) }
func countPhotos(n int) words.Message { return words.Say("report.n-photos", words.Whole("n", n)) }

// showPlan prints which photos are of which jar.
func showPlan(w io.Writer, plan *batch.Plan, opt batch.Options, l *words.Language) error {
	photos, jars := 0, 0
	var troubled []string
	for _, j := range opt.Shard.Of(plan.Jars) {
		jars++
		o := plan.Outline(j)
		fmt.Fprintf(w, "%s (%s)\n", words.OneLine(j.Called()), words.OneLine(l.Say(j.Why)))
		for _, p := range o.Photos {
			time := l.Text("command.time-not-known")
			switch {
			case p.From != "":
				time = p.Elapsed + ", " + l.Text(timeFrom[p.From])
			case p.Taken != "":
				time = l.Text("command.taken", words.Name("when", p.Taken))
			}
			fmt.Fprintf(w, "    %s: %s\n", words.OneLine(p.File), time)
		}
		for _, r := range j.Records {
			fmt.Fprintf(w, "    %s\n", r)
		}
		for _, no := range o.Problems {
			fmt.Fprintf(w, "  ! %s\n    %s\n", l.Say(no.Message()), l.Text("command.what-to-do", words.Told("text", no.Help())))
		}
		if len(o.Problems) > 0 {
			troubled = append(troubled, j.Called())
		}
		photos += len(j.Photos)
	}
	showLeft(w, plan.Left, l)
	for _, n := range plan.Notes {
		fmt.Fprintln(w, l.Text("command.note", words.Told("text", n)))
	}
	showGone(w, plan.Gone(opt.Out), opt.Out, l)
	fmt.Fprintln(w, l.Text("command.planned", words.Told("jars", countJars(jars)), words.Told("photos", countPhotos(photos)), words.Whole("refused", len(troubled)), words.Whole("left", len(plan.Left))))
	if len(troubled) > 0 {
		fmt.Fprintln(w, l.Text("command.likely-refused", words.Names("list", "", troubled)))
	}
	_, err := fmt.Fprintln(w, l.Text("command.nothing-read"))
	return err
}

// timeFrom says where a photo's time comes from.
var timeFrom = map[string]string{record.FromStated: "command.time-stated", record.FromName: "command.time-from-name", record.FromEXIF: "report.time-by-camera"}

func showLeft(w io.Writer, left []batch.Left, l *words.Language) {
	if len(left) == 0 {
		return
	}
	fmt.Fprintln(w, l.Text("command.not-sorted"))
	list := batch.Gather(left)
	for i, one := range list {
		fmt.Fprintf(w, "    %s: %s\n", words.OneLine(one.Path), l.Say(one.Said))
		if i+1 == len(list) || list[i+1].Todo.String() != one.Todo.String() { // once for all it holds for
			fmt.Fprintf(w, "      %s\n", l.Text("command.what-to-do", words.Told("text", one.Todo)))
		}
	}
}

// showGone lists results that no table has any more.
func showGone(w io.Writer, gone []batch.Gone, out string, l *words.Language) {
	if len(gone) == 0 {
		return
	}
	fmt.Fprintln(w, l.Text("command.gone"))
	for _, g := range gone {
		fmt.Fprintf(w, "    %s: %s\n", words.OneLine(g.Name), filepath.Join(out, g.Folder))
	}
}
