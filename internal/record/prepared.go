package record

import (
	"strings"

	"mudline/internal/words"
	"mudline/texture"
)

// The ranges of what is stated of how the jar was prepared.
const (
	MinSoilG, MaxSoilG = 5.0, 5000.0
	MaxStonesPercent   = 90.0
	gramsPerOunce      = 28.349523125 // exact (international yard and pound agreement, 1959)
)

// ParseYesNo reads yes or no.
func ParseYesNo(s string) (bool, error) {
	switch strings.ToLower(strings.TrimSpace(s)) {
	case "yes", "y", "true":
		return true, nil
	case "no", "n", "false":
		return false, nil
	}
	return false, words.Say("record.yes-or-no", words.Quoted("given", strings.TrimSpace(s)))
}

// ParseShaking reads how long the jar was shaken, "10 min" or "30 s", in minutes.
func ParseShaking(s string) (minutes float64, err error) {
	d, _, err := ParseElapsed(s)
	if err != nil {
		return 0, err
	}
	if minutes = d.Minutes(); minutes > texture.MaxShakenMin {
		return 0, words.Say("record.shaking-long", words.Name("given", strings.TrimSpace(s)), words.Figures("most", texture.MaxShakenMin, 6))
	}
	return minutes, nil
}

// ParseSoil reads the weight of the dry soil, "250 g" or "9 oz", in grams; a bare
// number counts grams.
func ParseSoil(s string) (grams float64, err error) {
	v, unit, err := splitQuantity(s)
	if err != nil {
		return 0, words.Say("record.example-soil", words.Because("why", err))
	}
	switch unit {
	case "", "g", "gram", "grams":
	case "kg":
		v *= 1000
	case "oz", "ounce", "ounces":
		v *= gramsPerOunce
	case "lb", "lbs", "pound", "pounds":
		v *= 16 * gramsPerOunce
	default:
		return 0, words.Say("record.unit-weight", words.Quoted("given", s), words.Quoted("unit", unit))
	}
	if !(v >= MinSoilG && v <= MaxSoilG) {
		return 0, words.Say("record.soil-outside", words.Name("given", strings.TrimSpace(s)), words.Whole("low", MinSoilG), words.Whole("high", MaxSoilG))
	}
	return v, nil
}

// ParseStones reads what became of the stones: "out" where they were picked or
// sieved out, else their share of the soil's weight, "8 %".
func ParseStones(s string) (percent float64, err error) {
	switch strings.ToLower(strings.TrimSpace(s)) {
	case "out", "none":
		return 0, nil
	}
	v, unit, err := splitQuantity(s)
	if err != nil || unit != "" && unit != "%" && unit != "percent" {
		return 0, words.Say("record.stones", words.Quoted("given", strings.TrimSpace(s)))
	}
	if !(v >= 0 && v <= MaxStonesPercent) {
		return 0, words.Say("record.stones-outside", words.Name("given", strings.TrimSpace(s)), words.Whole("most", MaxStonesPercent))
	}
	return v, nil
}
