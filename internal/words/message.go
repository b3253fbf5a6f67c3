// Package words is all that the program says to a person. What is to be said is data: a
// Message is a key and typed arguments, made where it is found out. The words stand in
// one catalogue for each language (catalogue/*.json), by key, and a Language writes a
// Message with them, with numbers, lengths, times and lists its own way.
package words

import (
	"encoding/json"
	"errors"
)

// Message is something to tell a person: the key of a text in the catalogues, and what
// fills it in. It is an error, too: what was wrong with something a person gave.
type Message struct {
	Key  string
	Args []Arg
}

// Arg is what fills in {Name} in a text.
type Arg struct {
	Name  string
	Value Value
}

// Say makes a message.
func Say(key string, args ...Arg) Message { return Message{key, args} }

// String is the message in English, as the command line says it.
func (m Message) String() string { return (*Language)(nil).Say(m) }

// Error is String.
func (m Message) Error() string { return m.String() }

// Unwrap gives the errors among the arguments.
func (m Message) Unwrap() []error {
	var out []error
	for _, a := range m.Args {
		if e, ok := a.Value.(cause); ok {
			out = append(out, e.error)
		}
	}
	return out
}

// IsZero says that there is nothing to say.
func (m Message) IsZero() bool { return m.Key == "" }

// Ptr gives a pointer to the message, nil where there is nothing to say.
func (m Message) Ptr() *Message {
	if m.IsZero() {
		return nil
	}
	return &m
}

// Arg gives the value of an argument, nil where there is none of that name.
func (m Message) Arg(name string) Value {
	for _, a := range m.Args {
		if a.Name == name {
			return a.Value
		}
	}
	return nil
}

// Each visits the message and all messages among its arguments, outermost first.
func (m Message) Each(visit func(Message)) {
	visit(m)
	for _, a := range m.Args {
		eachIn(a.Value, visit)
	}
}

func eachIn(v Value, visit func(Message)) {
	switch x := v.(type) {
	case Message:
		x.Each(visit)
	case Sentence:
		x.Message.Each(visit)
	case cause:
		Of(x.error).Each(visit)
	case List:
		for _, item := range x.Items {
			eachIn(item, visit)
		}
	}
}

// Of gives an error as a message: the one it is or wraps, or its own text as it stands.
func Of(err error) Message {
	var m Message
	if errors.As(err, &m) {
		return m
	}
	if err == nil {
		return Message{}
	}
	return Say("as-it-is", Name("text", err.Error()))
}

// Then puts messages one after the other: "this; that". Those with nothing to say are
// left out.
func Then(first Message, others ...Message) Message {
	return chained(first, others, func(a, b Message) Message { return Say("then", Told("a", a), Told("b", b)) })
}

// Sentences puts messages one after the other, each a sentence of its own.
func Sentences(first Message, others ...Message) Message {
	return chained(first, others, func(a, b Message) Message {
		return Say("sentences", Arg{"a", Sentence{a}}, Arg{"b", Sentence{b}})
	})
}

func chained(m Message, others []Message, join func(a, b Message) Message) Message {
	for _, o := range others {
		switch {
		case o.IsZero():
		case m.IsZero():
			m = o
		default:
			m = join(m, o)
		}
	}
	return m
}

// In says of which file a message is: "jar.jpg: it is too dark".
func In(file string, m Message) Message { return Say("of-file", Name("file", file), Told("text", m)) }

// messageJSON is how other programs see a message.
type messageJSON struct {
	Key  string                     `json:"key"`
	Args map[string]json.RawMessage `json:"args,omitempty"`
}

// MarshalJSON writes {"key": ..., "args": {name: value}}; a value is an object whose one
// key says what it is, as {"mm": 12.3, "decimals": 1}.
func (m Message) MarshalJSON() ([]byte, error) {
	out := messageJSON{Key: m.Key}
	for _, a := range m.Args {
		data, err := encodeValue(a.Value)
		if err != nil {
			return nil, err
		}
		if out.Args == nil {
			out.Args = map[string]json.RawMessage{}
		}
		out.Args[a.Name] = data
	}
	return json.Marshal(out)
}

// UnmarshalJSON reads what MarshalJSON writes. Arguments of a kind it does not know are
// an error.
func (m *Message) UnmarshalJSON(data []byte) error {
	var in messageJSON
	if err := json.Unmarshal(data, &in); err != nil {
		return err
	}
	*m = Message{Key: in.Key}
	for _, name := range sorted(in.Args) {
		v, err := decodeValue(in.Args[name])
		if err != nil {
			return err
		}
		m.Args = append(m.Args, Arg{name, v})
	}
	return nil
}
