package main

import (
	"strings"

	"github.com/spf13/pflag"

	"mudline/internal/record"
	"mudline/internal/words"
	"mudline/texture/feel"
)

// statedFlags are the options in which a person states what jar.yaml can state.
type statedFlags struct {
	name, waterDepth, sheetLine, temp, shaken, system string
	organicMatter, crop, rootingDepth, dailyUse       string
	prepared                                          [4]string // by record.PreparedKeys
	elapsed, boxes, lines, hand                       []string
}

func (s *statedFlags) add(f *pflag.FlagSet) {
	f.StringVar(&s.name, "name", "", "the jar's `name`")
	f.StringVar(&s.waterDepth, "water-depth", "", "inner floor to water surface, as in 130mm or \"5 1/8 in\" (`length`, 20 to 400 mm)")
	f.StringVar(&s.sheetLine, "sheet-line", "", "`length` on paper of the line of 100 mm on the sheet behind the jar, where the printer changed it (80 to 120 mm)")
	f.StringVar(&s.temp, "temp", "", "the water's `temperature`, as in 20C or 68F (0 to 45 C)")
	f.StringVar(&s.shaken, "shaken", "", "`when` the jar was set down, as in \"2026-06-05 11:38\"")
	f.StringVar(&s.system, "system", "", "class `system`: "+strings.Join(record.Systems, ", "))
	f.StringVar(&s.organicMatter, "organic-matter", "", "organic matter in `percent` by weight, as in 3% (0 to 100)")
	for i, usage := range []string{
		"whether dishwasher powder or the like was put in to part the clay: `yes or no`",
		"for how long the jar was shaken, as in 10min (`time`)",
		"what the dry soil weighed, as in 250g or 9oz (`weight`)",
		"out where stones were picked out, else their share of the soil's weight, as in 8% (`share`)",
	} {
		f.StringVar(&s.prepared[i], record.PreparedKeys[i], "", usage)
	}
	f.StringVar(&s.crop, "crop", "", "the `crop` that grows there, as in tomato")
	f.StringVar(&s.rootingDepth, "rooting-depth", "", "how deep it roots, as in 300mm or 12in (`length`, 50 to 3000 mm)")
	f.StringVar(&s.dailyUse, "daily-use", "", "water it uses in a day, as in 5mm or 0.2in (`depth`, 0.1 to 20 mm)")
	f.StringArrayVar(&s.hand, "hand", nil, "what your hands found, `KEY=ANSWER`, as in ball=firm or ribbon=30mm; may be repeated; mudline hand --help lists them")
	f.StringArrayVar(&s.elapsed, "elapsed", nil, "time of a photo since shaking, `FILE=TIME`, as in a.jpg=2h; may be repeated")
	f.StringArrayVar(&s.boxes, "box", nil, "box round the jar in full pixels, `[FILE=]x0,y0,x1,y1`; may be repeated")
	f.StringArrayVar(&s.lines, "line", nil, "a line placed by hand, `FILE:LINE=PLACE`: a row (a.jpg:water=557px, the upper edge of the water on the glass), a height above the floor (a.jpg:sand-top=24mm), or none where there is no such line (a.jpg:haze-top=none); lines: "+strings.Join(record.LineNames, ", "))
}

// apply writes the options into the record, over what jar.yaml states.
func (s *statedFlags) apply(r *record.Record, photos *photoSet) error {
	wrap := func(flag string, err error) error {
		if err != nil {
			return &inputError{words.Say("command.of-option", words.Name("option", "--"+flag), words.Because("why", err)), words.Message{}}
		}
		return nil
	}
	if s.name != "" {
		r.Name = s.name
	}
	for _, one := range []struct {
		flag, value string
		set         func(string) error
	}{
		{"water-depth", s.waterDepth, func(v string) (err error) { r.WaterDepthMM, r.Inches, err = record.ParseWaterDepth(v); return }},
		{"sheet-line", s.sheetLine, func(v string) (err error) { r.SheetLineMM, err = record.ParseSheetLine(v); return }},
		{"temp", s.temp, func(v string) error {
			c, f, err := record.ParseTemp(v)
			r.TempC, r.Fahrenheit = &c, f
			return err
		}},
		{"shaken", s.shaken, func(v string) (err error) { r.Shaken, err = record.ParseMoment(v); return }},
		{"system", s.system, func(v string) (err error) { r.System, err = record.ParseSystem(v); return }},
		{"organic-matter", s.organicMatter, func(v string) error {
			percent, err := record.ParseOrganicMatter(v)
			r.OrganicMatter = &percent
			return err
		}},
		{"crop", s.crop, func(v string) (err error) { r.Crop, err = record.ParseCrop(v); return }},
		{"rooting-depth", s.rootingDepth, func(v string) (err error) { r.RootingDepthMM, err = record.ParseRootingDepth(v); return }},
		{"daily-use", s.dailyUse, func(v string) (err error) { r.DailyUseMM, err = record.ParseDailyUse(v); return }},
	} {
		if one.value != "" {
			if err := wrap(one.flag, one.set(one.value)); err != nil {
				return err
			}
		}
	}
	for i, key := range record.PreparedKeys {
		if s.prepared[i] != "" {
			if err := wrap(key, r.SetPrepared(key, s.prepared[i])); err != nil {
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
	line := ""
	if flag == "line" {
		colon := strings.LastIndex(file, ":")
		if colon < 0 {
			return words.Say("command.has-colon-write-file", words.Name("v", v))
		}
		file, line = file[:colon], file[colon+1:]
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
