package record

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"mudline/internal/reading"
	"mudline/internal/words"
	"mudline/texture/feel"
)

const (
	// MaxRibbonMM is the longest ribbon a record holds. No ribbon is so long:
	// whether one can be true is for feel.Check to ask.
	MaxRibbonMM = 2000.0
	// maxRibbons is how many ribbons a record holds.
	maxRibbons = 50
)

// SetHand writes what the hands found, in the words of jar.yaml and the options:
// one value for each key of feel.Keys, or several for ribbons, which are lengths
// with units (see ParseRibbons) and may also be called ribbon.
func SetHand(o *feel.Observation, key string, values ...string) error {
	if key == feel.Ribbons || key == "ribbon" {
		mm, err := ParseRibbons(values...)
		if err == nil {
			o.RibbonsMM = mm
		}
		return err
	}
	if len(values) != 1 {
		return words.Say("record.one-answer", words.Word("key", "record-key", key), words.Whole("times", len(values)))
	}
	return feel.Set(o, key, values[0])
}

// ParseRibbons reads the lengths of ribbons as mm, to a hundredth: each value is
// one length or several separated by commas and blanks. A length without a unit
// takes that of the others, or mm from 10 up; "none" is a ribbon that would not
// form.
func ParseRibbons(values ...string) ([]float64, error) {
	var parts []string
	for _, v := range values {
		for part := range strings.SplitSeq(strings.NewReplacer(", ", "\n", ";", "\n").Replace(v), "\n") {
			if part = strings.TrimSpace(part); part != "" {
				parts = append(parts, part)
			}
		}
	}
	if len(parts) > maxRibbons {
		return nil, words.Say("record.many-ribbons", words.Whole("ribbons", len(parts)), words.Whole("most", maxRibbons))
	}
	if err := fillUnits(parts); err != nil {
		return nil, err
	}
	var out []float64
	for _, part := range parts {
		mm, _, err := ParseLength(part)
		if err != nil {
			return nil, err
		}
		if !(mm >= 0 && mm <= MaxRibbonMM) {
			return nil, words.Say("record.ribbon-outside", words.Name("given", part), words.Whole("most", MaxRibbonMM))
		}
		out = append(out, hundredths(mm))
	}
	return out, nil
}

func hundredths(mm float64) float64 { return math.Round(mm*100) / 100 }

// noRibbon are the words for a ribbon that would not form.
var noRibbon = []string{"none", "no", "nil"}

// leastBareMM is the least ribbon believed to be in mm where no unit is written:
// less may be in cm or inches, by which a clay would pass for a sand.
const leastBareMM = 10

// fillUnits gives each length without a unit the one unit of the others.
func fillUnits(parts []string) error {
	unit := ""
	var bare []int
	for i, part := range parts {
		if slices.Contains(noRibbon, strings.ToLower(part)) {
			parts[i] = "0 mm"
			continue
		}
		if strings.Contains(part, ",") {
			return words.Say("record.one-or-two", words.Quoted("given", part))
		}
		value, own, err := splitQuantity(part)
		switch {
		case err != nil:
			return words.Say("record.example-ribbon", words.Because("why", err))
		case own == "" && value != 0:
			bare = append(bare, i)
		case own != "" && unit != "" && own != unit:
			unit = severalUnits
		case own != "":
			unit = own
		}
	}
	for _, i := range bare {
		if v, _, _ := splitQuantity(parts[i]); unit == "" && v > 0 && v < leastBareMM {
			return words.Say("record.ribbon-unit", words.Quoted("given", parts[i]))
		}
		if unit == severalUnits {
			return words.Say("record.ribbon-units", words.Quoted("given", parts[i]))
		}
		parts[i] += " " + unit
	}
	return nil
}

// severalUnits stands for the unit of lengths that have not one in common.
const severalUnits = "several"

// Said lists what the hands found, key by key, in words for people.
func Said(o feel.Observation) []reading.Said {
	var out []reading.Said
	for _, key := range feel.Keys() {
		if v := feel.Get(o, key); v != "" {
			if key == feel.Ribbons {
				v = showRibbons(o.RibbonsMM)
			}
			out = append(out, reading.Said{Key: key, Value: v})
		}
	}
	return out
}

// showRibbons writes ribbons in mm and inches.
func showRibbons(mm []float64) string {
	parts := make([]string, len(mm))
	for i, v := range mm {
		if parts[i] = "none"; v > 0 {
			parts[i] = fmt.Sprintf("%.4g mm (%.3g in)", v, v/MMPerInch)
		}
	}
	return strings.Join(parts, ", ")
}
