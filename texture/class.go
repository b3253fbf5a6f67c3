package texture

import (
	"fmt"
	"math"
	"sort"
	"strings"
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

// System is a set of size limits and, where published, texture classes.
type System int

// The systems known. UK is named only to be refused with the reason.
const (
	USDA System = iota
	Canadian
	International
	UK
)

var systemNames = []string{"usda", "canadian", "international", "uk"}

// String returns the name used on the command line.
func (s System) String() string {
	if s < 0 || int(s) >= len(systemNames) {
		return fmt.Sprintf("system(%d)", int(s))
	}
	return systemNames[s]
}

// ParseSystem reads a system's name, in any case. UK is refused: no readable
// definition of its class limits was found, so none is coded.
func ParseSystem(name string) (System, error) {
	for i, n := range systemNames {
		if strings.EqualFold(strings.TrimSpace(name), n) {
			return System(i), System(i).Validate()
		}
	}
	return USDA, fmt.Errorf("system %q is not known; use usda, canadian or international", name)
}

// Validate says why a system cannot be used, nil when it can.
func (s System) Validate() error {
	switch s {
	case USDA, Canadian, International:
		return nil
	case UK:
		return fmt.Errorf("system uk cannot be used: no published definition of its class limits could be checked, only remembered ones; use usda, canadian or international")
	}
	return fmt.Errorf("system %d is not known; use usda, canadian or international", int(s))
}

// SiltLimitUM returns the upper size limit of silt in micrometres: 50 for USDA
// and Canada, 20 for the international system (Lal & Shukla, Table 3.1). Clay
// ends at 2 um in all of them.
func (s System) SiltLimitUM() float64 {
	if s == International {
		return 20
	}
	return 50
}

// HasClasses reports whether the system has class limits coded. The
// international system has none: its triangle (Marshall 1947) has sloping
// limits whose numbers were not found, so its fractions carry no class name.
func (s System) HasClasses() bool { return s == USDA || s == Canadian }

// ClassOf names the texture class of f. USDA by Soil Survey Manual 2017,
// Agriculture Handbook 18, ch. 3, made exclusive by the convention of Benham,
// Ahrens & Nettleton (a point on sa = 45 with clay >= 35 is not sandy clay);
// Canadian the same with heavy clay above 60 % clay (CanSIS).
func ClassOf(f Fractions, s System) (string, error) {
	if err := s.Validate(); err != nil {
		return "", err
	}
	if err := f.validate(); err != nil {
		return "", err
	}
	if !s.HasClasses() {
		return "", fmt.Errorf("system %v names no classes: its numeric class limits are not published in a form that could be checked", s)
	}
	if s == Canadian && f.Clay > 60+edge {
		return "heavy clay", nil
	}
	return usdaClass(f.Sand, f.Silt, f.Clay), nil
}

func (f Fractions) validate() error {
	for _, v := range []float64{f.Sand, f.Silt, f.Clay} {
		if math.IsNaN(v) || v < 0 || v > 100+edge {
			return fmt.Errorf("fractions %.4g/%.4g/%.4g: each must lie in 0 to 100 percent", f.Sand, f.Silt, f.Clay)
		}
	}
	if s := f.Sum(); math.Abs(s-100) > 0.5 {
		return fmt.Errorf("fractions %.4g/%.4g/%.4g add up to %.4g; they must add up to 100", f.Sand, f.Silt, f.Clay, s)
	}
	return nil
}

// edge is the slack, in percent, within which a value counts as on a limit, so
// that 100-20-53 and 27 fall alike.
const edge = 1e-9

func atLeast(a, b float64) bool { return a >= b-edge }
func below(a, b float64) bool   { return a < b-edge }
func above(a, b float64) bool   { return a > b+edge }
func atMost(a, b float64) bool  { return a <= b+edge }

// usdaRule is one class definition; the rules exclude each other, so their
// order does not matter.
type usdaRule struct {
	name string
	in   func(sa, si, cl float64) bool
}

var usdaRules = []usdaRule{
	{"sand", func(sa, si, cl float64) bool { return above(sa, 85) && below(si+1.5*cl, 15) }},
	{"loamy sand", func(sa, si, cl float64) bool {
		return atLeast(sa, 70) && atMost(sa, 90) && atLeast(si+1.5*cl, 15) && below(si+2*cl, 30)
	}},
	{"sandy loam", func(sa, si, cl float64) bool {
		heavier := atLeast(cl, 7) && below(cl, 20) && above(sa, 52)
		lighter := below(cl, 7) && below(si, 50)
		return (heavier || lighter) && atLeast(si+2*cl, 30)
	}},
	{"loam", func(sa, si, cl float64) bool {
		return atLeast(cl, 7) && below(cl, 27) && atLeast(si, 28) && below(si, 50) && atMost(sa, 52)
	}},
	{"silt loam", func(_, si, cl float64) bool {
		return (atLeast(si, 50) && atLeast(cl, 12) && below(cl, 27)) ||
			(atLeast(si, 50) && below(si, 80) && below(cl, 12))
	}},
	{"silt", func(_, si, cl float64) bool { return atLeast(si, 80) && below(cl, 12) }},
	{"sandy clay loam", func(sa, si, cl float64) bool {
		return atLeast(cl, 20) && below(cl, 35) && below(si, 28) && above(sa, 45)
	}},
	{"clay loam", func(sa, _, cl float64) bool {
		return atLeast(cl, 27) && below(cl, 40) && above(sa, 20) && atMost(sa, 45)
	}},
	{"silty clay loam", func(sa, _, cl float64) bool {
		return atLeast(cl, 27) && below(cl, 40) && atMost(sa, 20)
	}},
	{"sandy clay", func(sa, _, cl float64) bool { return atLeast(cl, 35) && above(sa, 45) }},
	{"silty clay", func(_, si, cl float64) bool { return atLeast(cl, 40) && atLeast(si, 40) }},
	{"clay", func(sa, si, cl float64) bool { return atLeast(cl, 40) && atMost(sa, 45) && below(si, 40) }},
}

func usdaClass(sa, si, cl float64) string {
	for _, r := range usdaRules {
		if r.in(sa, si, cl) {
			return r.name
		}
	}
	return ""
}

// ClassNames lists the classes of a system, coarse to fine; empty where none
// are coded.
func ClassNames(s System) []string {
	if !s.HasClasses() {
		return nil
	}
	var names []string
	for _, r := range usdaRules {
		names = append(names, r.name)
	}
	if s == Canadian {
		names = append(names, "heavy clay")
	}
	return names
}

// ClassProbability is a class and the weight of the samples that fall in it.
type ClassProbability struct {
	Name        string
	Probability float64 // 0..1
}

// ClassProbabilities shares the weights of sampled fractions out over the
// classes of s, most probable first. It is nil for a system without classes.
func ClassProbabilities(samples []Fractions, weights []float64, s System) []ClassProbability {
	if !s.HasClasses() {
		return nil
	}
	sums := map[string]float64{}
	total := 0.0
	for i, f := range samples {
		name := usdaClass(f.Sand, f.Silt, f.Clay)
		if s == Canadian && f.Clay > 60 {
			name = "heavy clay"
		}
		sums[name] += weights[i]
		total += weights[i]
	}
	var out []ClassProbability
	for name, w := range sums {
		if w > 0 && name != "" {
			out = append(out, ClassProbability{name, w / total})
		}
	}
	sort.Slice(out, func(i, j int) bool {
		if out[i].Probability != out[j].Probability {
			return out[i].Probability > out[j].Probability
		}
		return out[i].Name < out[j].Name
	})
	return out
}
