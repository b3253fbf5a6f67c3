package desk

import (
	"context"
	"slices"

	"mudline/internal/jar"
	"mudline/internal/record"
	"mudline/internal/words"
	"mudline/layers"
)

// sketchRequest asks where the jar stands in open photos though there is no reading, with
// the lines that the record states.
type sketchRequest struct {
	Record record.Tree `json:"record"`
	Photos []string    `json:"photos"`
}

// sketch is an Answer without a reading: lines, or what is wrong with what was stated.
func sketch(d *Desk, in sketchRequest) (any, error) {
	rec, err := in.Record.Record(record.FileName)
	if err != nil {
		return d.answerTo(err)
	}
	opened, err := d.all(in.Photos)
	if err != nil {
		return nil, err
	}
	sketches, err := jar.Sketches(context.Background(), opened, *rec)
	if err != nil {
		return d.answerTo(err)
	}
	out := Answer{}
	for _, s := range sketches {
		one := within(s.File, s.Frame, s.Elapsed.Seconds())
		one.Guessed = s.Guessed
		one.add(s.Frame, layers.Floor, 0, 0, slices.Contains(s.Stated, layers.Floor))
		for _, top := range layers.Tops {
			if h, ok := s.Heights[top]; ok {
				one.add(s.Frame, top, h, 0, true)
			}
		}
		one.add(s.Frame, layers.Water, s.Rim, 0, slices.Contains(s.Stated, layers.Water))
		out.Photos = append(out.Photos, one)
	}
	return out, nil
}

// all are the named photos, all of them open.
func (d *Desk) all(names []string) ([]*jar.Opened, error) {
	out := make([]*jar.Opened, len(names))
	for i, n := range names {
		if out[i] = d.opened[n]; out[i] == nil {
			return nil, words.Say("desk.not-open", words.Name("file", n))
		}
	}
	return out, nil
}
