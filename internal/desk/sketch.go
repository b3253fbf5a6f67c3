package desk

import (
	"context"

	"mudline/internal/jar"
	"mudline/internal/record"
	"mudline/internal/words"
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
		one.add(s.Frame, record.Floor, 0, 0, s.Stated)
		for _, name := range []string{record.SandTop, record.SiltTop, record.DepositTop, record.HazeTop} {
			if h, ok := s.Heights[name]; ok {
				one.add(s.Frame, name, h, 0, []string{"sand_top", "silt_top", "deposit_top", "haze_top"})
			}
		}
		one.add(s.Frame, record.Water, s.Rim, 0, s.Stated)
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
