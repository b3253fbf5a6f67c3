package record

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"
	"time"

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
		return 0, "", fmt.Errorf("%q is not a number with a unit", s)
	}
	num := func(digits string) float64 { // digits only: cannot fail, "" is 0
		v, _ := strconv.ParseFloat(strings.Replace(digits, ",", ".", 1), 64)
		return v
	}
	value = num(m[1]) + num(m[2])
	if m[3] != "" {
		if num(m[4]) == 0 {
			return 0, "", fmt.Errorf("%q divides by zero", s)
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
		return 0, false, fmt.Errorf("%w: write for example 130 mm or 5 1/8 in", err)
	}
	switch unit {
	case "", "mm", "millimetre", "millimetres", "millimeter", "millimeters":
		return v, false, nil
	case "cm", "centimetre", "centimetres", "centimeter", "centimeters":
		return v * 10, false, nil
	case "in", "in.", "inch", "inches", `"`, "″", "”":
		return v * MMPerInch, true, nil
	}
	return 0, false, fmt.Errorf("%q has the unit %q: write mm, cm or in", s, unit)
}

// ParseWaterDepth reads a water depth as ParseLength does and checks its range.
func ParseWaterDepth(s string) (mm float64, inches bool, err error) {
	mm, inches, err = ParseLength(s)
	if err != nil {
		return 0, false, err
	}
	if !(mm >= MinDepthMM && mm <= MaxDepthMM) {
		return 0, false, fmt.Errorf("water depth %s is outside %g to %g mm (%.1f to %.1f in)",
			strings.TrimSpace(s), MinDepthMM, MaxDepthMM, MinDepthMM/MMPerInch, MaxDepthMM/MMPerInch)
	}
	return mm, inches, nil
}

// ParseTemp reads a water temperature such as "20 C" or "68 F" as degrees
// Celsius and checks its range; a bare number counts degrees Celsius.
func ParseTemp(s string) (c float64, fahrenheit bool, err error) {
	v, unit, err := splitQuantity(s)
	if err != nil {
		return 0, false, fmt.Errorf("%w: write for example 20 C or 68 F", err)
	}
	switch strings.TrimSpace(strings.TrimPrefix(unit, "°")) {
	case "", "c", "celsius":
		c = v
	case "f", "fahrenheit":
		c, fahrenheit = (v-32)/1.8, true
	default:
		return 0, false, fmt.Errorf("%q has the unit %q: write C or F", s, unit)
	}
	// 32 F and 113 F convert with a rounding error in the last digit.
	if !(c >= MinTempC-1e-9 && c <= MaxTempC+1e-9) {
		return 0, false, fmt.Errorf("water temperature %s is outside %g to %g C (%g to %g F)",
			strings.TrimSpace(s), MinTempC, MaxTempC, MinTempC*1.8+32, MaxTempC*1.8+32)
	}
	return min(max(c, MinTempC), MaxTempC), fahrenheit, nil
}

// ParseLine reads where a line was placed: "1147 px" (a row of the upright
// full-size photo), "24.2 mm" (a height above the floor), or "none" where there
// is no such line within the jar.
func ParseLine(name, s string) (*Line, error) {
	if new(Lines).Place(name) == nil {
		return nil, fmt.Errorf("unknown line %q: the lines are %s", name, strings.Join(LineNames, ", "))
	}
	if strings.EqualFold(strings.TrimSpace(s), None) {
		if isFrame(name) {
			return nil, fmt.Errorf("line %s cannot be %s: every jar has it", name, None)
		}
		return &Line{None: true}, nil
	}
	v, unit, err := splitQuantity(s)
	if err != nil {
		return nil, fmt.Errorf("%w: write for example 1147 px or 24.2 mm", err)
	}
	if v < 0 {
		return nil, fmt.Errorf("line %s at %s is negative", name, s)
	}
	switch unit {
	case "":
		return nil, fmt.Errorf("line %s at %s has no unit: write px for pixels of the photo, or mm for a height above the floor", name, s)
	case "px":
		return &Line{Value: v}, nil
	}
	mm, _, err := ParseLength(s)
	if err != nil {
		return nil, fmt.Errorf("%q has the unit %q: write px, mm or in", s, unit)
	}
	switch {
	case name == Left || name == Right:
		return nil, fmt.Errorf("line %s is a column in pixels, not %s: where the edge of the glass is in the photo", name, s)
	case isFrame(name):
		return nil, fmt.Errorf("line %s is a row in pixels, not %s: its height is set by water-depth", name, s)
	}
	if mm > MaxDepthMM {
		return nil, fmt.Errorf("line %s at %s is outside 0 to %g mm", name, s, MaxDepthMM)
	}
	return &Line{Value: mm, MM: true}, nil
}

// isFrame says whether a line is one of the jar itself.
func isFrame(name string) bool {
	return name == Floor || name == Water || name == Left || name == Right
}

// ParseBox reads a box "x0,y0,x1,y1" in full pixels.
func ParseBox(s string) (*Box, error) {
	parts := strings.Split(strings.Trim(strings.TrimSpace(s), "[]"), ",")
	v := make([]float64, 0, 4)
	for _, p := range parts {
		f, err := strconv.ParseFloat(strings.TrimSpace(p), 64)
		if err != nil || math.IsNaN(f) || math.IsInf(f, 0) {
			return nil, fmt.Errorf("box %q: %q is not a number of pixels", s, strings.TrimSpace(p))
		}
		v = append(v, f)
	}
	if len(v) != 4 {
		return nil, fmt.Errorf("box %q has %d numbers: write x0,y0,x1,y1", s, len(v))
	}
	b := &Box{v[0], v[1], v[2], v[3]}
	if b.X0 < 0 || b.Y0 < 0 || b.X1 <= b.X0 || b.Y1 <= b.Y0 {
		return nil, fmt.Errorf("box %q is empty or outside the photo: x0,y0 is the top left corner, x1,y1 the bottom right one", s)
	}
	return b, nil
}

// ParseSystem reads the name of a texture class system.
func ParseSystem(s string) (string, error) {
	system, err := texture.ParseSystem(s)
	if err != nil {
		return "", fmt.Errorf("unknown class system %q: choose one of %s", s, strings.Join(Systems, ", "))
	}
	return system.String(), nil
}
