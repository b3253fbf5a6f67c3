package texture

import (
	"math"

	"mudline/internal/words"
)

// Fractions are percent by mass of the mineral soil below 2 mm.
type Fractions struct{ Sand, Silt, Clay float64 }

// Sum returns the sum of the three.
func (f Fractions) Sum() float64 { return f.Sand + f.Silt + f.Clay }

// Normalised returns the fractions scaled to sum to 100; zero stays zero.
func (f Fractions) Normalised() Fractions {
	s := f.Sum()
	if s <= 0 {
		return Fractions{}
	}
	return Fractions{100 * f.Sand / s, 100 * f.Silt / s, 100 * f.Clay / s}
}

// ClassOf names the texture class of f. A soil on the border of two classes
// counts as of the one to the right of the border or above it, with more silt
// or clay, as Benham, Ahrens & Nettleton made the USDA classes exclusive.
func ClassOf(f Fractions, s System) (string, error) {
	if err := s.Validate(); err != nil {
		return "", err
	}
	if err := f.validate(); err != nil {
		return "", err
	}
	return s.classAt(f.Normalised()), nil
}

// classAt is the class of fractions that add up to 100.
func (s System) classAt(f Fractions) string {
	at := corner{f.Clay, f.Silt}
	for _, field := range s.outlines() {
		if field.holds(at) {
			return field.class
		}
	}
	return ""
}

func (f Fractions) validate() error {
	parts := []words.Arg{words.Figures("sand", f.Sand, 4), words.Figures("silt", f.Silt, 4), words.Figures("clay", f.Clay, 4)}
	for _, v := range []float64{f.Sand, f.Silt, f.Clay} {
		if math.IsNaN(v) || v < 0 || v > 100+1e-9 {
			return words.Say("soil.fractions-outside", parts...)
		}
	}
	if s := f.Sum(); math.Abs(s-100) > 0.5 {
		return words.Say("soil.fractions-sum", append(parts, words.Figures("sum", s, 4))...)
	}
	return nil
}

// edge is the slack, in percent, within which a soil counts as on a border, so
// that 100-20-53 and 27 fall alike.
const edge = 1e-10

// ClassNames lists the classes of a system, coarse to fine.
func ClassNames(s System) []string {
	var names []string
	for _, f := range s.known().fields {
		names = append(names, f.class)
	}
	return names
}
