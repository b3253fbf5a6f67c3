package reading

import "mudline/internal/words"

// What a reading says stands in it twice: as English text, for people and programs that
// read the JSON, and as a message, from which any language is written.

// Warn makes a warning; a zero todo is nothing to do.
func Warn(code WarningCode, said, todo words.Message) Warning {
	return Warning{Code: code, Text: said.String(), Remedy: todo.String(), Said: said.Ptr(), Todo: todo.Ptr()}
}

// WarnOf makes a warning about one photo.
func WarnOf(photo string, code WarningCode, said, todo words.Message) Warning {
	w := Warn(code, words.In(photo, said), todo)
	w.Photo = photo
	return w
}

// Refuse makes a refusal.
func Refuse(code RefusalCode, said, todo words.Message) *Refusal {
	return &Refusal{Code: code, Text: said.String(), Remedy: todo.String(), Said: said.Ptr(), Todo: todo.Ptr()}
}

// Tell makes a statement, a sentence or several, with where it comes from.
func Tell(topic string, from, said words.Message) Statement {
	return Statement{Topic: topic, Text: (*words.Language)(nil).Sentence(said), Source: from.String(), Said: said.Ptr(), SourceSaid: from.Ptr()}
}

// Because makes a reason why jar and hands may differ.
func Because(code string, said, todo words.Message) HandReason {
	return HandReason{Code: code, Text: said.String(), Remedy: todo.String(), Said: said.Ptr(), Todo: todo.Ptr()}
}

// Message is what the warning says, Help what to do.
func (w Warning) Message() words.Message { return message(w.Said, w.Text) }

// Help is what to do about the warning; nothing where nothing is.
func (w Warning) Help() words.Message { return message(w.Todo, w.Remedy) }

// Message is why there is no reading.
func (r *Refusal) Message() words.Message { return message(r.Said, r.Text) }

// Help is what to do about it.
func (r *Refusal) Help() words.Message { return message(r.Todo, r.Remedy) }

// Message is the reason.
func (h HandReason) Message() words.Message { return message(h.Said, h.Text) }

// Help is what would settle it.
func (h HandReason) Help() words.Message { return message(h.Todo, h.Remedy) }

// Message is what the statement says.
func (s Statement) Message() words.Message { return message(s.Said, s.Text) }

// From is where the statement comes from.
func (s Statement) From() words.Message { return message(s.SourceSaid, s.Source) }

// Message is the cause.
func (c Cause) Message() words.Message { return message(c.Said, c.Text) }

// Message names the colours.
func (w WetColours) Message() words.Message { return message(w.Said, w.Text) }

// Message is which photo would help.
func (n NextPhoto) Message() words.Message { return message(n.Said, n.Text) }

// Message is the verdict in a sentence.
func (h Hand) Message() words.Message { return message(h.TextSaid, h.Text) }

// Reason is why the corrected reading differs from the ruler's.
func (r Reading) Reason() words.Message { return message(r.WhySaid, r.Why) }

// message is a text as it stands where a reading was written without messages.
func message(m *words.Message, text string) words.Message {
	switch {
	case m != nil:
		return *m
	case text == "":
		return words.Message{}
	}
	return words.Say("as-it-is", words.Name("text", text))
}

// Label is what was observed, Message what was found.
func (s Said) Label() words.Message { return words.WordOf("record-key", s.Key) }

// Message is the value in words; lengths of ribbons stand as they are.
func (s Said) Message() words.Message { return words.WordOf("hand-value", s.Value) }
