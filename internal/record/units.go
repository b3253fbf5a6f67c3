package record

import (
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"time"

	"mudline/internal/words"
	"mudline/layers"
	"mudline/texture"
)

// MMPerInch is exact by definition (international yard and pound agreement, 1959).
const MMPerInch = 25.4

// The ranges a stated value must lie in.
const (
	MinDepthMM, MaxDepthMM = 20.0, 400.0
	MinTempC, MaxTempC     = 0.0, 45.0
	MaxElapsed             = 60 * 24 * time.Hour
)

// quantity is a number, or a whole number with a vulgar fraction, or a
// fraction; then the unit.
var quantity = regexp.MustCompile(`^(?:([0-9]+(?:[.,][0-9]+)?)|(?:([0-9]+)[\s-]+)?([0-9]+)\s*/\s*([0-9]+))\s*([^-0-9\s/.,].*)?$`)

// vulgar spells out the fractions that phones write as one sign.
var vulgar = strings.NewReplacer("½", " 1/2", "¼", " 1/4", "¾", " 3/4", "⅓", " 1/3", "⅔", " 2/3",
	"⅛", " 1/8", "⅜", " 3/8", "⅝", " 5/8", "⅞", " 7/8", "⁄", "/")

// splitQuantity reads "130 mm", "5.1in", "5 1/8 in": a number, perhaps with a
// vulgar fraction, and the unit in lower case.
func splitQuantity(s string) (value float64, unit string, err error) {
	sign, text := 1.0, strings.TrimSpace(vulgar.Replace(s))
	if rest, minus := strings.CutPrefix(text, "-"); minus {
		sign, text = -1, rest
	}
	m := quantity.FindStringSubmatch(text)
	if m == nil {
		return 0, "", words.Say("record.no-quantity", words.Quoted("given", s))
	}
	num := func(digits string) float64 { // digits only: cannot fail, "" is 0
		v, _ := strconv.ParseFloat(strings.Replace(digits, ",", ".", 1), 64)
		return v
	}
	value = num(m[1]) + num(m[2])
	if m[3] != "" {
		if num(m[4]) == 0 {
			return 0, "", words.Say("record.by-zero", words.Quoted("given", s))
		}
		value += num(m[3]) / num(m[4])
	}
	return sign * value, strings.ToLower(strings.TrimSpace(m[5])), nil
}

// ParseLength reads a length such as "130 mm", "13 cm", "5.1 in", `5 1/8"` as
// millimetres; a bare number counts millimetres.
func ParseLength(s string) (mm float64, inches bool, err error) {
	v, unit, err := splitQuantity(s)
	if err != nil {
		return 0, false, words.Say("record.example-length", words.Because("why", err))
	}
	switch unit {
	case "", "mm", "millimetre", "millimetres", "millimeter", "millimeters":
		return v, false, nil
	case "cm", "centimetre", "centimetres", "centimeter", "centimeters":
		return v * 10, false, nil
	case "in", "in.", "inch", "inches", `"`, "″", "”":
		return v * MMPerInch, true, nil
	}
	return 0, false, words.Say("record.unit-length", words.Quoted("given", s), words.Quoted("unit", unit))
}

// ParseWaterDepth reads a water depth as ParseLength does and checks its range.
func ParseWaterDepth(s string) (mm float64, inches bool, err error) {
	mm, inches, err = ParseLength(s)
	if err != nil {
		return 0, false, err
	}
	if !(mm >= MinDepthMM && mm <= MaxDepthMM) {
		return 0, false, words.Say("record.depth-outside", words.Name("given", strings.TrimSpace(s)), words.Whole("low", MinDepthMM), words.Whole("high", MaxDepthMM),
			words.Decimal("low_in", MinDepthMM/MMPerInch, 1), words.Decimal("high_in", MaxDepthMM/MMPerInch, 1))
	}
	return mm, inches, nil
}

// ParseTemp reads a water temperature such as "20 C" or "68 F" as degrees
// Celsius and checks its range; a bare number counts degrees Celsius.
func ParseTemp(s string) (c float64, fahrenheit bool, err error) {
	v, unit, err := splitQuantity(s)
	if err != nil {
		return 0, false, words.Say("record.example-temperature", words.Because("why", err))
	}
	switch strings.TrimSpace(strings.TrimPrefix(unit, "°")) {
	case "", "c", "celsius":
		c = v
	case "f", "fahrenheit":
		c, fahrenheit = (v-32)/1.8, true
	default:
		return 0, false, words.Say("record.unit-temperature", words.Quoted("given", s), words.Quoted("unit", unit))
	}
	// 32 F and 113 F convert with a rounding error in the last digit.
	if !(c >= MinTempC-1e-9 && c <= MaxTempC+1e-9) {
		return 0, false, words.Say("record.temperature-outside", words.Name("given", strings.TrimSpace(s)),
			words.Whole("low", MinTempC), words.Whole("high", MaxTempC), words.Whole("low_f", MinTempC*1.8+32), words.Whole("high_f", MaxTempC*1.8+32))
	}
	return min(max(c, MinTempC), MaxTempC), fahrenheit, nil
}

// ParseLine reads where a line was placed: "1147 px" (a row of the upright
// full-size photo), "24.2 mm" (a height above the floor), or "none" where there
// is no such line within the jar.
func ParseLine(name layers.Line, s string) (*Line, error) {
	if new(Lines).Place(name) == nil {
		return nil, words.Say("record.unknown-line", words.Quoted("given", string(name)), words.Names("known", "", LineNames))
	}
	if strings.EqualFold(strings.TrimSpace(s), None) {
		if isFrame(name) {
			return nil, words.Say("record.line-needed", aLine(name), words.Name("none", None))
		}
		return &Line{None: true}, nil
	}
	v, unit, err := splitQuantity(s)
	if err != nil {
		return nil, words.Say("record.example-line", words.Because("why", err))
	}
	if v < 0 {
		return nil, words.Say("record.line-negative", aLine(name), words.Name("given", s))
	}
	switch unit {
	case "":
		return nil, words.Say("record.line-without-unit", aLine(name), words.Name("given", s))
	case "px":
		return &Line{Value: v}, nil
	}
	mm, _, err := ParseLength(s)
	if err != nil {
		return nil, words.Say("record.unit-line", words.Quoted("given", s), words.Quoted("unit", unit))
	}
	switch {
	case name == layers.Left || name == layers.Right:
		return nil, words.Say("record.line-is-column", aLine(name), words.Name("given", s))
	case isFrame(name):
		return nil, words.Say("record.line-is-row", aLine(name), words.Name("given", s))
	}
	if mm > MaxDepthMM {
		return nil, words.Say("record.line-outside", aLine(name), words.Name("given", s), words.Whole("most", MaxDepthMM))
	}
	return &Line{Value: mm, MM: true}, nil
}

// aLine names a line in a message.
func aLine(name layers.Line) words.Arg { return words.Word("line", "record-key", string(name)) }

// isFrame says whether a line is one of the jar itself.
func isFrame(name layers.Line) bool { return !slices.Contains(layers.Tops, name) }

// ParseBox reads a box "x0,y0,x1,y1" in full pixels.
func ParseBox(s string) (*Box, error) {
	parts := strings.Split(strings.Trim(strings.TrimSpace(s), "[]"), ",")
	v := make([]float64, 0, 4)
	for _, p := range parts {
		f, err := strconv.ParseFloat(strings.TrimSpace(p), 64)
		if err != nil || math.IsNaN(f) || math.IsInf(f, 0) {
			return nil, words.Say("record.box-number", words.Quoted("box", s), words.Quoted("given", strings.TrimSpace(p)))
		}
		v = append(v, f)
	}
	if len(v) != 4 {
		return nil, words.Say("record.box-count", words.Quoted("box", s), words.Whole("numbers", len(v)))
	}
	b := &Box{v[0], v[1], v[2], v[3]}
	if b.X0 < 0 || b.Y0 < 0 || b.X1 <= b.X0 || b.Y1 <= b.Y0 {
		return nil, words.Say("record.box-empty", words.Quoted("box", s))
	}
	return b, nil
}

// ParseSystem reads the name of a texture class system.
func ParseSystem(s string) (string, error) {
	system, err := texture.ParseSystem(s)
	if err != nil {
		return "", words.Say("record.unknown-system", words.Quoted("given", s), words.Names("known", "", Systems))
	}
	return system.String(), nil
}

// The line of 100 mm on a sheet, as a printer may have changed it.
const minSheetLine, maxSheetLine = 80, 120

// ParseSheetLine reads how long the line of 100 mm on the printed sheet is.
func ParseSheetLine(s string) (mm float64, err error) {
	mm, _, err = ParseLength(s)
	if err == nil && !(mm >= minSheetLine && mm <= maxSheetLine) {
		err = words.Say("record.sheet-line-outside", words.Name("given", strings.TrimSpace(s)), words.Whole("low", minSheetLine), words.Whole("high", maxSheetLine))
	}
	return mm, err
}
