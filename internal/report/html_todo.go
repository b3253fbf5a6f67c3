package report

import (
	"slices"
	"strings"

	"mudline/internal/reading"
)

// mostTodo is how many things to do head a report.
const mostTodo = 3

// todo is what to do next: what would make the reading surer, then what it means for the
// garden, most urgent first. Nothing is to be done with soil that may be contaminated but
// to put it down.
func (o Options) todo(r reading.Reading, surer []string) []string {
	var means []string
	if r.Meaning != nil {
		for _, s := range r.Meaning.Lines {
			means = append(means, o.statement(s))
		}
		if len(means) > 0 && r.Meaning.Lines[0].Topic == reading.ContaminationTopic {
			return means[:1]
		}
	}
	lead := surer[:min(len(surer), 1)]
	if len(lead) > 0 && len(means) > 0 && within(means[0], lead[0]) {
		lead = nil
	}
	out := slices.Concat(lead, means, surer[min(len(surer), 1):])
	if r.Hand == nil {
		out = append(out, o.say("report.todo-hands"))
	}
	return out[:min(len(out), mostTodo)]
}

// within says whether a text holds a sentence already.
func within(text, sentence string) bool {
	return strings.Contains(strings.ToLower(text), strings.ToLower(strings.TrimRight(sentence, ".")))
}
