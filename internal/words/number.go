package words

import (
	"math"
	"regexp"
	"strconv"
	"strings"
)

// Signs are how numbers are written: the sign between thousands, from how many digits
// on it stands, and the one before decimals.
type Signs struct {
	Thousands string `json:"thousands"`
	Grouped   int    `json:"grouped"`
	Decimal   string `json:"decimal"`
}

// usual are the signs of the languages (Unicode CLDR); English is left as it is.
var usual = map[string]*Signs{"es": {".", 5, ","}, "fr": {"\u202f", 4, ","}}

var digits = regexp.MustCompile(`\d+(?:\.\d+)?`)

// Number writes a number with so many decimals.
func (l *Language) Number(v float64, decimals int) string { return l.orEnglish().number(v, decimals) }

func (l *Language) number(v float64, decimals int) string {
	return l.signed(strconv.FormatFloat(v, 'f', decimals, 64))
}

// signed puts the language's signs into a number written with a point.
func (l *Language) signed(n string) string {
	if l.signs == nil {
		return n
	}
	return digits.ReplaceAllStringFunc(n, l.signs.number)
}

func (s Signs) number(n string) string {
	whole, part, cut := strings.Cut(n, ".")
	group := len(whole) >= s.Grouped
	for at := len(whole) - 3; group && at > 0; at -= 3 {
		whole = whole[:at] + s.Thousands + whole[at:]
	}
	if cut {
		whole += s.Decimal + part
	}
	return whole
}

const mmPerInch = 25.4

func (x Length) write(l *Language) string {
	switch {
	case l.set.Inches && x.Beside:
		return l.Text("unit.beside", Name("mm", x.metric(l)), Name("inch", x.inches(l, true)))
	case l.set.Inches:
		return x.inches(l, false)
	}
	return x.metric(l)
}

func (x Length) metric(l *Language) string {
	return x.span(l, "unit.mm", func(mm float64) string { return l.number(mm, x.Decimals) })
}

// inches are of two figures, to a hundredth at most, with millimetres behind them; alone they have a
// decimal more than millimetres.
func (x Length) inches(l *Language, beside bool) string {
	return x.span(l, "unit.inch", func(mm float64) string {
		v := mm / mmPerInch
		decimals := x.Decimals + 1
		if beside {
			decimals = min(max(0, 1-int(math.Floor(math.Log10(math.Max(v, 0.1))))), 2)
		}
		return l.number(v, decimals)
	})
}

func (x Length) span(l *Language, unit string, write func(mm float64) string) string {
	v := write(x.MM)
	if x.HighMM > x.MM {
		v = l.Text("result-range", Name("low", v), Name("high", write(x.HighMM)))
	}
	return l.Text(unit, Name("v", v))
}

func (x Watering) write(l *Language) string {
	said := x.span(l, "unit.watering", 0, func(litres float64) float64 { return litres })
	if l.set.Inches {
		said = l.Text("unit.beside-gallons", Name("watering", said), Name("gallons", x.span(l, "unit.gallons", 1, gallons)))
	}
	return said
}

// span writes the amount, with what it may be in brackets.
func (x Watering) span(l *Language, unit string, decimals int, in func(litres float64) float64) string {
	v := Name("v", l.number(in(x.Litres), decimals))
	if x.High <= 0 {
		return l.Text(unit, v)
	}
	return l.Text(unit+"-range", v, Name("low", l.number(in(x.Low), decimals)), Name("high", l.number(in(x.High), decimals)))
}

// gallons turns litres on a square metre into US gallons on ten square feet: the gallon is
// 231 cubic inches.
func gallons(litres float64) float64 { return litres / mmPerInch * 10 * 144 / 231 }
