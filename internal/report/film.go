package report

import (
	"fmt"
	"io"
	"strings"
	"time"

	"mudline/internal/words"
)

// FilmPlan says when a camera that stays photographs a jar, and how it is set up.
type FilmPlan struct{ Moments []time.Duration }

// WriteFilm prints the plan of a film; start is when the jar is set down, zero if no
// clock times are asked for.
func WriteFilm(w io.Writer, p FilmPlan, start time.Time, o Options) error {
	l := o.language()
	var b strings.Builder
	fmt.Fprintf(&b, "%s\n\n", l.Text("film.title", words.Whole("photos", len(p.Moments)), words.After("time", p.Moments[len(p.Moments)-1])))
	for i, key := range []string{"film.stand", "film.fix", "film.shake"} {
		mark := fmt.Sprintf("%d. ", i+1)
		b.WriteString(mark + wrap(l.Text(key), strings.Repeat(" ", len(mark)), o.width())[len(mark):])
	}
	b.WriteString("\n" + wrap(l.Text("film.when"), "", o.width()))
	moments := make([]string, len(p.Moments))
	for i, m := range p.Moments {
		moments[i] = l.Text("as-it-is", words.After("text", m))
		if !start.IsZero() {
			moments[i] += " (" + start.Add(m).Format("2006-01-02 15:04:05") + ")"
		}
	}
	b.WriteString(wrap(strings.Join(moments, ", "), "  ", o.width()))
	fmt.Fprintf(&b, "\n%s\n%s\n%s\n", l.Text("film.one-interval"), l.Text("film.read-with", words.Name("options", "--every 10min --first 30s")), l.Text("film.or-by-names"))
	_, err := io.WriteString(w, b.String())
	return err
}
