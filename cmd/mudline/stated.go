package main

import (
	"strings"

	"github.com/spf13/pflag"

	"mudline/internal/record"
	"mudline/internal/words"
	"mudline/layers"
	"mudline/texture/feel"
)

// statedFlags are the options in which a person states what jar.yaml can state.
type statedFlags struct {
	values                      map[string]*string // of the keys that are one value
	elapsed, boxes, lines, hand []string
}

func (s *statedFlags) add(f *pflag.FlagSet) {
	s.values = map[string]*string{}
	for _, k := range record.Entries {
		if k.Option {
			s.values[k.Name] = f.String(k.Name, "", "")
		}
	}
	f.StringArrayVar(&s.hand, "hand", nil, "")
	f.StringArrayVar(&s.elapsed, "elapsed", nil, "")
	f.StringArrayVar(&s.boxes, "box", nil, "")
	f.StringArrayVar(&s.lines, "line", nil, "")
}

// apply writes the options into the record, over what jar.yaml states.
func (s *statedFlags) apply(r *record.Record, photos *photoSet) error {
	wrap := func(flag string, err error) error {
		if err != nil {
			return badOption("--"+flag, err)
		}
		return nil
	}
	for _, k := range record.Entries {
		if v := s.values[k.Name]; v != nil && *v != "" {
			if err := wrap(k.Name, k.Set(r, *v)); err != nil {
				return err
			}
		}
	}
	if err := wrap("hand", applyHand(r, s.hand)); err != nil {
		return err
	}
	for _, many := range []struct {
		flag   string
		values []string
	}{{"elapsed", s.elapsed}, {"box", s.boxes}, {"line", s.lines}} {
		for _, v := range many.values {
			if err := wrap(many.flag, applyToPhoto(r, photos, many.flag, v)); err != nil {
				return err
			}
		}
	}
	if err := r.Check(); err != nil {
		return &inputError{err, words.Say("command.do-correct-line-wrong-line", words.Name("file", record.FileName))}
	}
	return nil
}

// applyHand reads the options that say what the hands found. An answer wins over
// that in jar.yaml, ribbons over all ribbons there.
func applyHand(r *record.Record, options []string) error {
	var keys []string
	values := map[string][]string{}
	for _, v := range options {
		key, value, ok := strings.Cut(v, "=")
		if !ok {
			return words.Say("command.has-write-key-answer", words.Name("v", v))
		}
		if key = strings.TrimSpace(key); key == "ribbon" {
			key = feel.Ribbons
		}
		if values[key] == nil {
			keys = append(keys, key)
		}
		values[key] = append(values[key], value)
	}
	var hand feel.Observation
	if r.Hand != nil {
		hand = *r.Hand
	}
	for _, key := range keys {
		if err := record.SetHand(&hand, key, values[key]...); err != nil {
			return err
		}
	}
	if r.Hand = &hand; hand.Empty() {
		r.Hand = nil
	}
	return nil
}

// applyToPhoto reads one option that names a photo.
func applyToPhoto(r *record.Record, photos *photoSet, flag, v string) error {
	// The value holds no =, so a file name may.
	at := strings.LastIndex(v, "=")
	if at < 0 && flag == "box" {
		box, err := record.ParseBox(v)
		r.Box = box
		return err
	}
	if at < 0 {
		return words.Say("command.has-write-file-value", words.Name("v", v))
	}
	file, value := v[:at], v[at+1:]
	line := layers.Line("")
	if flag == "line" {
		colon := strings.LastIndex(file, ":")
		if colon < 0 {
			return words.Say("command.has-colon-write-file", words.Name("v", v))
		}
		file, line = file[:colon], layers.Line(file[colon+1:])
	}
	file, err := photos.find(file)
	if err != nil {
		return err
	}
	r.Edit(file, func(p *record.Photo) {
		switch flag {
		case "elapsed":
			p.Elapsed, p.ElapsedSD, err = record.ParseElapsed(value)
		case "box":
			p.Box, err = record.ParseBox(value)
		case "line":
			var placed *record.Line
			if placed, err = record.ParseLine(line, value); err == nil {
				*p.Lines.Place(line) = placed
			}
		}
	})
	return err
}
