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

func (o *handOptions) print(w io.Writer, path string, hand feel.Observation, system string) error {
	said, err := handAlone(hand, system)
	if err != nil {
		return err
	}
	if o.json {
		e := json.NewEncoder(w)
		e.SetIndent("", "  ")
		return e.Encode(handRecorded{reading.Version, path, said})
	}
	_, err = w.Write(handText(path, said))
	return err
}

func handText(path string, said *reading.Hand) []byte {
	var b bytes.Buffer
	fmt.Fprintf(&b, "recorded in %s:\n", path)
	for _, s := range said.Said {
		fmt.Fprintf(&b, "  %-13s %s\n", s.Key, s.Value)
	}
	fmt.Fprintf(&b, "\n%s\n", lipgloss.Wrap(said.Text, handWidth, ""))
	for _, q := range said.Questions {
		fmt.Fprintf(&b, "  ? %s\n", strings.ReplaceAll(lipgloss.Wrap(q, handWidth-4, ""), "\n", "\n    "))
	}
	for _, c := range said.Classes[:min(classesTold, len(said.Classes))] {
		fmt.Fprintf(&b, "  %-16s %.0f in 100\n", c.Name, 100*c.Probability)
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
	switch {
	case hand.Smell == feel.Fuel:
		out = &reading.Hand{Said: out.Said, Text: advice.Contaminated().Text}
	case len(out.Questions) > 0:
		out.Text = "These answers do not go together, or one cannot be, so nothing is made of them yet. Correct them in the file, or answer again:"
	case out.Clay == nil:
		out.Text = "This says nothing of the texture: try the ball, the ribbon and the grit."
	default:
		out.Text = fmt.Sprintf("From the hands alone: clay about %.0f %%, 9 times in 10 between %.0f and %.0f %%.", out.Clay.Value, out.Clay.Low, out.Clay.High)
	}
	return out, nil
}
