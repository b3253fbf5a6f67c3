package record

import (
	"strings"

	"mudline/internal/words"
	"mudline/texture/moisture"
)

// The ranges of what is stated about the ground. Rooting depths span FAO-56
// table 22 (0.3 m for vegetables to 3 m for sisal and lucerne), daily use the
// reference evapotranspiration of FAO-56 table 2 (1 to 9 mm a day) with room for
// tall crops in hot wind.
const (
	MaxOrganicMatter           = 100.0
	MinRootingMM, MaxRootingMM = 50.0, 3000.0
	MinUseMM, MaxUseMM         = 0.1, 20.0
)

// ParseOrganicMatter reads organic matter such as "3 %" as percent by weight;
// the sign may be left out.
func ParseOrganicMatter(s string) (percent float64, err error) {
	v, unit, err := splitQuantity(s)
	if err != nil {
		return 0, words.Say("record.example-percent", words.Because("why", err))
	}
	if unit != "" && unit != "%" && unit != "percent" {
		return 0, words.Say("record.unit-percent", words.Quoted("given", s), words.Quoted("unit", unit))
	}
	if !(v >= 0 && v <= MaxOrganicMatter) {
		return 0, words.Say("record.organic-outside", words.Name("given", strings.TrimSpace(s)), words.Whole("most", MaxOrganicMatter))
	}
	return v, nil
}

// ParseCrop reads the name of a crop that package moisture knows, in any case,
// one or many, and gives its name there.
func ParseCrop(s string) (string, error) {
	c, err := moisture.FindCrop(s)
	return c.Name, err
}

// ParseRootingDepth reads how deep roots reach as ParseLength does and checks
// its range.
func ParseRootingDepth(s string) (mm float64, err error) {
	return lengthWithin("rooting depth", s, s, MinRootingMM, MaxRootingMM)
}

// ParseDailyUse reads the water a bed uses in a day as a depth, "5 mm" or
// "0.2 in a day", and checks its range.
func ParseDailyUse(s string) (mm float64, err error) {
	depth := strings.ToLower(strings.TrimSpace(s))
	for _, per := range []string{"a day", "per day", "/day", "/ day", "/d"} {
		depth = strings.TrimSpace(strings.TrimSuffix(depth, per))
	}
	return lengthWithin("daily use", s, depth, MinUseMM, MaxUseMM)
}

func lengthWithin(what, written, length string, low, high float64) (float64, error) {
	mm, _, err := ParseLength(length)
	if err != nil {
		return 0, err
	}
	if !(mm >= low && mm <= high) {
		return 0, words.Say("record.length-outside", words.Word("what", "quantity", what), words.Name("given", strings.TrimSpace(written)),
			words.Figures("low", low, 6), words.Figures("high", high, 6), words.Figures("low_in", low/MMPerInch, 3), words.Figures("high_in", high/MMPerInch, 3))
	}
	return mm, nil
}
