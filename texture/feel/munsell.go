package feel

import (
	"regexp"
	"strconv"
	"strings"

	"mudline/internal/words"
)

var (
	// likeMunsell is what somebody means as a Munsell notation: it begins with a
	// number and letters, or holds a value and a chroma.
	likeMunsell = regexp.MustCompile(`(?i)^(?:[0-9.]+\s*[a-z]{1,2}\b.*|n\s*[0-9.]+\s*/.*|.*[0-9]\s*/\s*[0-9].*)$`)
	chromatic   = regexp.MustCompile(`(?i)^([0-9]+(?:\.[0-9]+)?)\s*(YR|GY|BG|PB|RP|R|Y|G|B|P)\s*([0-9]+(?:\.[0-9]+)?)\s*/\s*([0-9]+(?:\.[0-9]+)?)$`)
	neutral     = regexp.MustCompile(`(?i)^N\s*([0-9]+(?:\.[0-9]+)?)\s*/\s*(?:0(?:\.0)?)?$`)
)

// maxChroma is well above any soil's; 8 is the last column of the soil charts.
const maxChroma = 20

// munsell brings a Munsell notation into its usual form, "10YR 4/3" or "N 2.5/",
// and leaves plain words alone. The notation is hue, value and chroma (ASTM
// D1535): ten hue names with a number above 0 up to 10, a value of 0 to 10.
func munsell(text string) (string, error) {
	if !likeMunsell.MatchString(text) {
		return text, nil
	}
	if m := neutral.FindStringSubmatch(text); m != nil {
		if v := decimal(m[1]); v <= 10 {
			return "N " + m[1] + "/", nil
		}
		return "", words.Say("hand.munsell-value", words.Quoted("given", text))
	}
	m := chromatic.FindStringSubmatch(text)
	if m == nil {
		return "", words.Say("hand.munsell", words.Quoted("given", text))
	}
	hue, value, chroma := decimal(m[1]), decimal(m[3]), decimal(m[4])
	switch {
	case hue <= 0 || hue > 10:
		return "", words.Say("hand.munsell-hue", words.Quoted("given", text))
	case value > 10:
		return "", words.Say("hand.munsell-value", words.Quoted("given", text))
	case chroma > maxChroma:
		return "", words.Say("hand.munsell-chroma", words.Quoted("given", text), words.Whole("most", maxChroma))
	}
	return m[1] + strings.ToUpper(m[2]) + " " + m[3] + "/" + m[4], nil
}

// decimal reads digits that a pattern has found: it cannot fail.
func decimal(digits string) float64 {
	v, _ := strconv.ParseFloat(digits, 64)
	return v
}
