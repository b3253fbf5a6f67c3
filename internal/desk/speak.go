package desk

import (
	"encoding/json"

	"mudline/internal/reading"
	"mudline/internal/words"
)

// speakRequest is how a person wants to be spoken to.
type speakRequest struct {
	// Tag is the language as a BCP 47 tag, Catalogue its texts; absent for English.
	Tag       string          `json:"tag"`
	Catalogue json.RawMessage `json:"catalogue"`
	// Signs are how the person's country writes numbers; absent as their language does.
	Signs      *words.Signs `json:"signs"`
	Inches     bool         `json:"inches"`
	Fahrenheit bool         `json:"fahrenheit"`
}

// speak takes the language of all that is said from now on.
func speak(d *Desk, in speakRequest) (any, error) {
	l := (*words.Language)(nil)
	if len(in.Catalogue) > 0 {
		var err error
		if l, err = words.New(in.Tag, in.Catalogue, in.Signs); err != nil {
			return nil, err
		}
	}
	d.language = l.In(words.Setting{Surface: words.Page, Inches: in.Inches, Fahrenheit: in.Fahrenheit})
	return true, nil
}

// Say writes an error in the person's language.
func (d *Desk) Say(err error) string { return d.language.Say(words.Of(err)) }

// sentence writes a message as a sentence of its own. A text of which there is no message,
// from a reading of old, stays as it is.
func (d *Desk) sentence(m words.Message) string {
	if m.Key == "as-it-is" {
		return d.language.Say(m)
	}
	return d.language.Sentence(m)
}

// told is a reading, or why there is none, in the person's language: what it says
// stands in it as text. What a page stores is in English and says the same in any
// language that is chosen later.
type told struct {
	Reading *reading.Reading `json:"reading,omitempty"`
	Refused *reading.Refusal `json:"refused,omitempty"`
}

// toldRequest is what to put into the person's language; Named says that the name of
// the file that is refused stands above.
type toldRequest struct {
	told
	Named bool `json:"named"`
}

func tell(d *Desk, in toldRequest) (any, error) {
	if in.Reading != nil {
		d.tellReading(in.Reading)
	}
	if no := in.Refused; no != nil {
		said := no.Message()
		if in.Named {
			_, said = about(said)
		}
		no.Text, no.Remedy = d.sentence(said), d.sentence(no.Help())
	}
	return in.told, nil
}

// about parts a message from the file it is about.
func about(m words.Message) (file string, said words.Message) {
	name, isText := m.Arg("file").(words.Text)
	said, isMessage := m.Arg("text").(words.Message)
	if m.Key != "of-file" || !isText || !isMessage {
		return "", m
	}
	return string(name), said
}

func (d *Desk) tellReading(r *reading.Reading) {
	r.Why = d.sentence(r.Reason())
	for i, w := range r.Warnings {
		r.Warnings[i].Text, r.Warnings[i].Remedy = d.warning(*r, w), d.sentence(w.Help())
	}
	for i, c := range r.Causes {
		r.Causes[i].Text = d.sentence(c.Message())
	}
	if c := r.Colours; c != nil && c.Wet != nil {
		c.Wet.Text = d.sentence(c.Wet.Message())
	}
	if r.NextPhoto != nil {
		r.NextPhoto.Text = d.sentence(r.NextPhoto.Message())
	}
	if r.Hand != nil {
		d.tellHand(r.Hand)
	}
	if m := r.Meaning; m != nil {
		d.tellAll(m.Lines)
		d.tellAll(m.More)
		d.tellStatement(&m.Laboratory)
	}
}

// warning calls a photo by its time, as the page does.
func (d *Desk) warning(r reading.Reading, w reading.Warning) string {
	file, said := about(w.Message())
	for _, p := range r.Photos {
		if p.File == file {
			name := d.language.Text("result-photo-at", words.Arg{Name: "time", Value: words.Elapsed{Seconds: p.ElapsedS}})
			return words.Capital(d.language.Sentence(words.In(name, said)))
		}
	}
	return d.sentence(w.Message())
}

func (d *Desk) tellHand(h *reading.Hand) {
	h.Text = d.sentence(h.Message())
	if len(h.QuestionsSaid) == len(h.Questions) {
		for i, q := range h.QuestionsSaid {
			h.Questions[i] = d.sentence(q)
		}
	}
	for i, r := range h.Reasons {
		h.Reasons[i].Text, h.Reasons[i].Remedy = d.sentence(r.Message()), d.sentence(r.Help())
	}
}

func (d *Desk) tellAll(list []reading.Statement) []reading.Statement {
	for i := range list {
		d.tellStatement(&list[i])
	}
	return list
}

func (d *Desk) tellStatement(s *reading.Statement) {
	s.Text, s.Source = d.sentence(s.Message()), d.language.Say(s.From())
}
