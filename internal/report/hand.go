package report

import (
	"bytes"

	"mudline/internal/reading"
	"mudline/internal/words"
)

// reasonsShown and classesShown are how many of each a terminal shows; the rest
// is in reading.json.
const reasonsShown, classesShown = 2, 3

// hands writes what the hands said, beside the jar.
func (o Options) hands(b *bytes.Buffer, r reading.Reading) {
	h := r.Hand
	if h == nil {
		return
	}
	line := func(text string) { b.WriteString(wrap(text, "", o.width())) }
	b.WriteString("\n")
	if len(h.Questions) > 0 {
		line(o.say("table.by-hand", words.Told("text", h.Message())))
		for _, q := range questions(h) {
			b.WriteString(wrap("? "+o.tell(q), "  ", o.width()))
		}
		return
	}
	if h.Clay != nil {
		text := o.say("table.hands-clay", words.Whole("low", h.Clay.Low), words.Whole("high", h.Clay.High))
		if len(h.Classes) > 0 {
			text += "; " + o.classList(h.Classes[:min(classesShown, len(h.Classes))])
		}
		line(text + ".")
	}
	line(o.tell(h.Message()))
	for _, why := range h.Reasons[:min(reasonsShown, len(h.Reasons))] {
		b.WriteString(wrap(o.say("table.may-be", words.Told("what", why.Message())), "  ", o.width()))
		if help := why.Help(); !help.IsZero() {
			b.WriteString(wrap(o.say("table.settle", words.Told("how", help)), "    ", o.width()))
		}
	}
	if j := h.Joint; j != nil {
		text := o.joint(j.Fractions)
		if c := j.Class; c != nil {
			name, certainty := Verdict(*c)
			text += "; " + o.tell(name) + " - " + o.tell(certainty)
		}
		line(text + ".")
	}
}

// joint says what jar and hands say together.
func (o Options) joint(f reading.Fractions) string {
	return o.say("report.joint", words.Name("sand", o.between(f.Sand)), words.Name("silt", o.between(f.Silt)), words.Name("clay", o.between(f.Clay)))
}

// questions are what is asked back, as they stand where a reading was written without
// messages.
func questions(h *reading.Hand) []words.Message {
	if len(h.QuestionsSaid) == len(h.Questions) {
		return h.QuestionsSaid
	}
	out := make([]words.Message, len(h.Questions))
	for i, q := range h.Questions {
		out[i] = words.Say("as-it-is", words.Name("text", q))
	}
	return out
}
