package report

import (
	"fmt"
	"math"
	"path"
	"strings"
	"time"
	"unicode"
	"unicode/utf8"

	"mudline/internal/reading"
	"mudline/internal/record"
	"mudline/texture"
)

// The sentences that a report composes, in English. Those that never change stand in
// page/*.html, from where all are put into the language asked for; nowhere else are
// there words of a report.

// trust says in one sentence how far a reading can be relied on, and whether
// that is far.
func trust(r reading.Reading) (text string, firm bool) {
	f := r.Fractions
	if f == nil {
		return "These photos do not tell sand, silt and clay apart: rely on the heights of the layers, and on no percentages.", false
	}
	off := points(halfWidth(*f))
	why := because(r, off)
	c := r.Class
	names, together := []string(nil), 0.0
	if c != nil {
		names, together = c.Named()
	}
	switch {
	case r.Hand != nil && r.Hand.Verdict == "disagree":
		return "Hold back for now: your hands and the jar do not agree, so find out which is right before you rely on either.", false
	case c == nil:
		return "No class is named, and a percentage may be off by about " + off + ".", halfWidth(*f) <= narrow
	case c.Probability >= 0.9 && halfWidth(*f) <= narrow:
		return "You can rely on the class, and on each percentage to within about " + off + ".", true
	case c.Probability >= 0.9:
		return "You can rely on the class, but a percentage may be off by about " + off + ".", true
	case c.Probability >= reading.Enough:
		return "Good enough to work with: the class is likely right, and a percentage may be off by about " + off + ".", true
	case len(names) == 2 && together >= reading.Enough:
		return "Take it as a first estimate: the soil is likely one of the two classes named, and a percentage may be off by about " + why + ".", false
	}
	return "Take it as a rough guide only: several classes fit about as well, and a percentage may be off by about " + why + ".", false
}

// narrow is half the width of an interval that a gardener need not think about,
// in points of percent: what two kinds of laboratory instrument differ by.
const narrow = 10

// because adds the plainest reason for a wide interval to how wide it is.
func because(r reading.Reading, off string) string {
	for _, w := range r.Warnings {
		switch w.Code {
		case "single_photo":
			return off + ", because one photo alone does not show how fast the soil settled"
		case "one_layer":
			return off + ", because no line within the soil could be seen"
		}
	}
	return off
}

// halfWidth is half the widest interval, in points of percent.
func halfWidth(f reading.Fractions) float64 {
	return max(f.Sand.High-f.Sand.Low, f.Silt.High-f.Silt.Low, f.Clay.High-f.Clay.Low) / 2
}

// points writes an amount in points of percent.
func points(v float64) string {
	if n := math.Round(v); n > 1 {
		return fmt.Sprintf("%.0f points", n)
	}
	return "1 point"
}

// cloudWords says how clear the water was; empty where it was not judged.
func cloudWords(cloud *float64) string {
	switch {
	case cloud == nil:
		return ""
	case *cloud < 0.15:
		return "The water above the soil is clear."
	case *cloud < 0.5:
		return "The water above the soil is a little cloudy."
	case *cloud < 0.85:
		return "The water above the soil is cloudy."
	}
	return "The water above the soil is too muddy to see through."
}

// timeWords says when a photo was taken, and how that is known.
func timeWords(p reading.Photo) string {
	from := map[string]string{record.FromName: "by its file name", record.FromEXIF: "by the camera's clock"}[p.ElapsedFrom]
	if from == "" {
		from = "as you stated"
	}
	if sd := 2 * p.ElapsedSDS; sd >= 1 {
		from = from + ", give or take " + spell(sd)
	}
	return elapsed(p.ElapsedS) + " after the jar was set down, " + from + "."
}

// spell writes a short time in words.
func spell(seconds float64) string {
	d := time.Duration(seconds * float64(time.Second))
	amount := func(v float64, one string) string {
		if n := math.Round(v); n != 1 {
			return fmt.Sprintf("%.0f %ss", n, one)
		}
		return "1 " + one
	}
	switch {
	case d < 100*time.Second:
		return amount(d.Seconds(), "second")
	case d < 100*time.Minute:
		return amount(d.Minutes(), "minute")
	}
	return amount(d.Hours(), "hour")
}

// photoNotes are the warnings about one photo, without its name. A photo without
// one is fit for reading.
func photoNotes(p reading.Photo, ws []reading.Warning) []string {
	var out []string
	for _, w := range ws {
		if text, ok := strings.CutPrefix(w.Text, p.File+": "); ok {
			out = append(out, capital(sentence(text)))
		}
	}
	if len(out) == 0 {
		out = []string{"Sharp and bright enough: nothing about this photo makes the reading doubtful."}
	}
	return out
}

// said is a text as a sentence of its own; the name of a photo that it begins with stays
// as it is.
func said(text string) string {
	for _, end := range []string{": ", " "} {
		name, _, ok := strings.Cut(text, end)
		if ext := path.Ext(name); ok && len(ext) > 1 && !strings.Contains(ext, " ") {
			return sentence(text)
		}
	}
	return capital(sentence(text))
}

func capital(s string) string {
	first, size := utf8.DecodeRuneInString(s)
	if size == 0 {
		return s
	}
	return string(unicode.ToUpper(first)) + s[size:]
}

// degrees writes a temperature with its sign.
func (o Options) degrees(c float64) string { return strings.Replace(o.temp(c), " ", " °", 1) }

// conditions says what the reading reckons with.
func (o Options) conditions(r reading.Reading) string {
	water := "water depth not known"
	if r.WaterDepthMM != nil {
		water = "water " + o.depth(*r.WaterDepthMM) + " deep"
	}
	temp := o.degrees(r.TempC)
	if r.TempFrom == "assumed" {
		temp += " (assumed)"
	}
	return photosWords(len(r.Photos)) + ", " + water + ", " + temp
}

func photosWords(n int) string {
	if n == 1 {
		return "1 photo"
	}
	return fmt.Sprintf("%d photos", n)
}

// sizes are the size limits of the three parts in words, by system.
func sizes(system string) (sand, silt, clay string) {
	s, _ := texture.ParseSystem(system) // USDA with the error
	limit := fmt.Sprintf("%.2g", s.SiltLimitUM()/1000)
	return limit + " to 2 mm", "0.002 to " + limit + " mm", "under 0.002 mm"
}

// sourceOfDoubt is what kind of cause a code is.
func sourceOfDoubt(code string) string {
	switch code {
	case "heights", "times":
		return "measuring"
	case "temperature", "water_depth", "amount_of_soil", "stones", "crumbs", "organic_matter":
		return "conditions"
	}
	return "model"
}
