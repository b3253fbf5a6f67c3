package words

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"
)

// besides are the short word for inches of a language, and what gallons are said with.
var besides = map[string]struct{ inch, to, gallons string }{
	"en": {"in", " to ", ", or %s gallons on 10 square feet"},
	"es": {"pulg.", " a ", ", o %s galones en 10 pies cuadrados"},
	"fr": {"po", " à ", ", ou %s gallons sur 10 pieds carrés"},
}

var (
	// millimetres finds lengths, one or from-to, and whether inches follow already.
	millimetres = regexp.MustCompile(`([0-9\x{202f}]+(?:[.,][0-9]+)?)(?:(?: to | a | à )([0-9\x{202f}]+(?:[.,][0-9]+)?))?[ \x{a0}]mm\b( \([^)]*(?:inch|foot|pulg|pie|pouce|pied))?`)
	// perSquareMetre finds water given to a bed, with or without its range.
	perSquareMetre = regexp.MustCompile(`([0-9]+) (?:litres on each square metre|litros por metro cuadrado|litres par mètre carré)(?: \((?:de )?([0-9]+)(?: to | a | à )([0-9]+),[^)]*\))?`)
)

// Beside puts inches beside the millimetres of a text of advice in the language, and US
// gallons on ten square feet beside litres on a square metre. The page does the same
// (js/beside.js).
func (l *Language) Beside(text string) string {
	own := besides[l.Tag()]
	text = perSquareMetre.ReplaceAllStringFunc(text, func(found string) string {
		m := perSquareMetre.FindStringSubmatch(found)
		found += fmt.Sprintf(own.gallons, l.value(gallons(m[1])))
		if m[2] != "" {
			found += " (" + l.value(gallons(m[2])) + own.to + l.value(gallons(m[3])) + ")"
		}
		return found
	})
	return millimetres.ReplaceAllStringFunc(text, func(found string) string {
		m := millimetres.FindStringSubmatch(found)
		if m[3] != "" {
			return found
		}
		inches := l.value(inch(m[1]))
		if m[2] != "" {
			inches += own.to + l.value(inch(m[2]))
		}
		return found + " (" + inches + " " + own.inch + ")"
	})
}

const mmPerInch = 25.4

// inch turns millimetres into inches of two figures, to a hundredth at most.
func inch(mm string) string {
	v := amountOf(mm) / mmPerInch
	decimals := 1 - int(math.Floor(math.Log10(math.Max(v, 0.1))))
	return strconv.FormatFloat(v, 'f', min(max(0, decimals), 2), 64)
}

// gallons turns litres on a square metre into US gallons on ten square feet: the
// gallon is 231 cubic inches, and a litre on a square metre stands 1 mm deep.
func gallons(litres string) string {
	return strconv.FormatFloat(amountOf(litres)/mmPerInch*10*144/231, 'f', 1, 64)
}

var plainNumber = strings.NewReplacer(",", ".", "\u202f", "")

func amountOf(text string) float64 {
	v, _ := strconv.ParseFloat(plainNumber.Replace(text), 64) // digits only: cannot fail
	return v
}
