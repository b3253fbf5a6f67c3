package report

import (
	"math"
	"path"
	"strings"
	"time"

	"mudline/internal/reading"
	"mudline/internal/record"
	"mudline/internal/words"
	"mudline/texture"
)

// What a report composes. What never changes stands in template/*.html by key.

// trust says in one sentence how far a reading can be relied on, and whether
// that is far.
func (o Options) trust(r reading.Reading) (text string, firm bool) {
	f := r.Fractions
	if f == nil {
		return o.say("report.trust-none"), false
	}
	off := points(halfWidth(*f))
	why := because(r, off)
	c := r.Class
	names, together := []string(nil), 0.0
	if c != nil {
		names, together = c.Named()
	}
	said := func(key string, off words.Message) string { return o.say(key, words.Told("off", off)) }
	switch {
	case r.Hand != nil && r.Hand.Verdict == "disagree":
		return o.say("report.trust-hands"), false
	case c == nil:
		return said("report.trust-no-class", off), halfWidth(*f) <= narrow
	case c.Probability >= 0.9 && halfWidth(*f) <= narrow:
		return said("report.trust-both", off), true
	case c.Probability >= 0.9:
		return said("report.trust-class", off), true
	case c.Probability >= reading.Enough && r.Meaning.Doubtful():
		return said("report.trust-wide", why), false
	case c.Probability >= reading.Enough:
		return said("report.trust-likely", off), true
	case len(names) == 2 && together >= reading.Enough:
		return said("report.trust-guess", why), false
	}
	return said("report.trust-several", why), false
}

// narrow is half the width of an interval that a gardener need not think about,
// in points of percent: what two kinds of laboratory instrument differ by.
const narrow = 10

// because adds the plainest reason for a wide interval to how wide it is.
func because(r reading.Reading, off words.Message) words.Message {
	for _, w := range r.Warnings {
		switch w.Code {
		case reading.SinglePhoto:
			return words.Say("report.because-single-photo", words.Told("off", off))
		case reading.OneLayer:
			return words.Say("report.because-one-layer", words.Told("off", off))
		}
	}
	return off
}

// halfWidth is half the widest interval, in points of percent.
func halfWidth(f reading.Fractions) float64 {
	return max(f.Sand.High-f.Sand.Low, f.Silt.High-f.Silt.Low, f.Clay.High-f.Clay.Low) / 2
}

// points is an amount in points of percent, one at least.
func points(v float64) words.Message {
	return words.Say("report.points", words.Whole("n", math.Max(math.Round(v), 1)))
}

// cloudWords says how clear the water was; empty where it was not judged.
func (o Options) cloudWords(cloud *float64) string {
	switch {
	case cloud == nil:
		return ""
	case *cloud < 0.15:
		return o.say("report.water-clear")
	case *cloud < 0.5:
		return o.say("report.water-a-little-cloudy")
	case *cloud < 0.85:
		return o.say("report.water-cloudy")
	}
	return o.say("report.water-muddy")
}

// timeWords says when a photo was taken, and how that is known.
func (o Options) timeWords(p reading.Photo) string {
	from := words.Say("report.time-stated")
	switch p.ElapsedFrom {
	case record.FromName:
		from = words.Say("report.time-by-name")
	case record.FromEXIF:
		from = words.Say("report.time-by-camera")
	}
	if sd := 2 * p.ElapsedSDS; sd >= 1 {
		from = words.Say("report.give-or-take", words.Told("what", from), words.Told("sd", spell(sd)))
	}
	return o.say("report.time-of-photo", words.Name("time", o.elapsed(p.ElapsedS)), words.Told("from", from))
}

// spell writes a short time in words.
func spell(seconds float64) words.Message {
	d := time.Duration(seconds * float64(time.Second))
	switch {
	case d < 100*time.Second:
		return words.Say("report.n-seconds", words.Whole("n", math.Round(d.Seconds())))
	case d < 100*time.Minute:
		return words.Say("report.n-minutes", words.Whole("n", math.Round(d.Minutes())))
	}
	return words.Say("report.n-hours", words.Whole("n", math.Round(d.Hours())))
}

// photoNotes are the warnings about one photo, without its name. A photo without
// one is fit for reading.
func (o Options) photoNotes(p reading.Photo, ws []reading.Warning) []string {
	var out []string
	for _, w := range ws {
		if m := w.Message(); w.Photo == p.File && w.Photo != "" {
			if inner, ok := m.Arg("text").(words.Message); ok && m.Key == "of-file" {
				m = inner
			}
			out = append(out, o.sentence(m))
		} else if text, ok := strings.CutPrefix(w.Text, p.File+": "); ok && w.Said == nil {
			out = append(out, words.Capital(ended(text)))
		}
	}
	if len(out) == 0 {
		out = []string{o.say("report.photo-is-fit")}
	}
	return out
}

// alone is a text as a sentence of its own; the name of a photo that it begins with stays
// as it is.
func alone(text string) string {
	for _, end := range []string{": ", " "} {
		name, _, ok := strings.Cut(text, end)
		if ext := path.Ext(name); ok && len(ext) > 1 && !strings.Contains(ext, " ") {
			return ended(text)
		}
	}
	return words.Capital(ended(text))
}

// conditions says what the reading reckons with.
func (o Options) conditions(r reading.Reading) string {
	water := words.Say("report.no-depth")
	if r.WaterDepthMM != nil {
		water = o.waterDeep(r)
	}
	temp := o.temp(r.TempC)
	if r.TempFrom == "assumed" {
		temp = o.say("report.temp-assumed", words.Name("temp", temp))
	}
	return o.say("report.conditions", words.Told("photos", countPhotos(len(r.Photos))), words.Told("water", water), words.Name("temp", temp))
}

func countPhotos(n int) words.Message { return words.Say("report.n-photos", words.Whole("n", n)) }

// sizes are the size limits of the three parts in words, by system.
func (o Options) sizes(system string) (sand, silt, clay string) {
	s, _ := texture.ParseSystem(system) // USDA with the error
	limit := words.Figures("silt", s.SiltLimitUM()/1000, 2)
	return o.say("report.sand-size", limit), o.say("report.silt-size", limit), o.say("report.clay-size")
}

// kindOfDoubt is what kind of cause a code is.
func (o Options) kindOfDoubt(code string) string {
	switch code {
	case "heights", "times":
		return o.say("report.doubt-measuring")
	case "temperature", "water_depth", "amount_of_soil", "stones", "crumbs", "organic_matter":
		return o.say("report.doubt-conditions")
	}
	return o.say("report.doubt-model")
}
