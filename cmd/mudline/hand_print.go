package main

import (
	"bytes"
	"cmp"
	"encoding/json"
	"fmt"
	"io"
	"strings"

	"charm.land/lipgloss/v2"

	"mudline/internal/advice"
	"mudline/internal/jar"
	"mudline/internal/reading"
	"mudline/internal/words"
	"mudline/texture"
	"mudline/texture/feel"
)

const (
	handWidth   = 80 // columns of the text
	classesTold = 5  // how many classes the text names
)

// handRecorded is what --json prints.
type handRecorded struct {
	Version int           `json:"version"`
	File    string        `json:"file"`
	Hand    *reading.Hand `json:"hand"`
}

func (o *handOptions) print(w io.Writer, path string, hand feel.Observation, system string, l *words.Language) error {
	said, err := handAlone(hand, system)
	if err != nil {
		return err
	}
	if o.json {
		e := json.NewEncoder(w)
		e.SetIndent("", "  ")
		return e.Encode(handRecorded{reading.Version, path, said})
	}
	_, err = w.Write(handText(path, said, l))
	return err
}

func handText(path string, said *reading.Hand, l *words.Language) []byte {
	var b bytes.Buffer
	fmt.Fprintln(&b, l.Text("command.recorded-in", words.Name("file", path)))
	for _, s := range said.Said {
		fmt.Fprintf(&b, "  %-13s %s\n", s.Key, s.Value)
	}
	fmt.Fprintf(&b, "\n%s\n", lipgloss.Wrap(l.Say(said.Message()), handWidth, ""))
	for i, q := range said.Questions {
		if i < len(said.QuestionsSaid) {
			q = l.Say(said.QuestionsSaid[i])
		}
		fmt.Fprintf(&b, "  ? %s\n", strings.ReplaceAll(lipgloss.Wrap(q, handWidth-4, ""), "\n", "\n    "))
	}
	for _, c := range said.Classes[:min(classesTold, len(said.Classes))] {
		fmt.Fprintf(&b, "  %-16s %s\n", l.Word("class", c.Name), l.Text("report.chance", words.Whole("v", 100*c.Probability)))
	}
	return b.Bytes()
}

// handAlone is what hands say without a jar, by the stated class system.
func handAlone(hand feel.Observation, system string) (*reading.Hand, error) {
	s, err := texture.ParseSystem(cmp.Or(system, "usda"))
	if err != nil {
		return nil, err
	}
	out := jar.HandAlone(hand, s)
	var text words.Message
	switch {
	case hand.Smell == feel.Fuel:
		out, text = &reading.Hand{Said: out.Said}, advice.Contaminated().Message()
	case len(out.Questions) > 0:
		text = words.Say("command.hands-contradict")
	case out.Clay == nil:
		text = words.Say("command.hands-nothing")
	default:
		text = words.Say("command.hands-clay", words.Whole("v", out.Clay.Value), words.Whole("low", out.Clay.Low), words.Whole("high", out.Clay.High))
	}
	out.Text, out.TextSaid = text.String(), text.Ptr()
	return out, nil
}
