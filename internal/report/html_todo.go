package report

import (
	"slices"

	"mudline/internal/reading"
)

// mostTodo is how many things to do head a report.
const mostTodo = 3

// todo is what to do next: what would make the reading surer, then what it means for the
// garden, most urgent first.
func (o Options) todo(r reading.Reading, surer []string) []string {
	out := slices.Clone(surer[:min(len(surer), 1)])
	if r.Meaning != nil {
		for _, s := range r.Meaning.Lines {
			out = append(out, o.statement(s))
		}
	}
	out = append(out, surer[min(len(surer), 1):]...)
	if r.Hand == nil {
		out = append(out, o.say("report.todo-hands"))
	}
	return out[:min(len(out), mostTodo)]
}
