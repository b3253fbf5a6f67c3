// Package compare sets the readings of several jars side by side and says which
// of them differ beyond their uncertainty.
package compare

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"unicode"

	"mudline/internal/reading"
	"mudline/texture"
)

// Version is the version of the JSON that Comparison.JSON writes. Keys may be
// added to version 1; a change of meaning is a new version.
const Version = 1

// Jar is one jar to compare: its reading, or why there is none.
type Jar struct {
	// Name is what the jar is called; Source where its reading came from.
	Name, Source string
	Reading      *reading.Reading
	// Refused is set where Reading is not.
	Refused *reading.Refusal
}

// Comparison is several jars side by side.
type Comparison struct {
	Version int `json:"version"`
	// Jars are in the order asked for; those without fractions come last.
	Jars []Row `json:"jars"`
	// Differences are those of each pair of jars with fractions: sand, silt and
	// clay for each pair in order of Jars.
	Differences []Difference `json:"differences"`
}

// Row is one jar of the comparison. What was not told is absent.
type Row struct {
	// Name is unique within a comparison.
	Name   string `json:"name"`
	Source string `json:"source,omitempty"`
	// System is the class system, whose size limits the fractions keep to.
	System    string             `json:"system,omitempty"`
	Fractions *reading.Fractions `json:"fractions,omitempty"`
	// Groups are letters: jars that share one cannot be told apart in that
	// fraction, jars that share none differ. Absent where fewer than two jars
	// can be compared, or where their systems set other limits.
	Groups *Groups        `json:"groups,omitempty"`
	Class  *reading.Class `json:"class,omitempty"`
	// AvailableMMPerM is millimetres of water that plants can take from a metre
	// of soil depth; Days those between waterings without rain.
	AvailableMMPerM *reading.Range    `json:"available_water_mm_per_m,omitempty"`
	Days            *reading.Range    `json:"days_between_waterings,omitempty"`
	Warnings        []reading.Warning `json:"warnings,omitempty"`
	Refused         *reading.Refusal  `json:"refused,omitempty"`
}

// Groups are the letters of a jar, "a" for those with the most.
type Groups struct {
	Sand string `json:"sand,omitempty"`
	Silt string `json:"silt,omitempty"`
	Clay string `json:"clay,omitempty"`
}

func (g *Groups) of(k int) *string { return [...]*string{&g.Sand, &g.Silt, &g.Clay}[k] }

// Difference is how much more of one fraction jar A holds than jar B, in
// percent of the soil.
type Difference struct {
	A        string `json:"a"`
	B        string `json:"b"`
	Fraction string `json:"fraction"` // "sand", "silt" or "clay"
	// Points is A's percentage less B's, Low and High its 90 % interval.
	Points float64 `json:"points"`
	Low    float64 `json:"low"`
	High   float64 `json:"high"`
	// ProbabilityMore is the probability that A holds more than B, 0..1.
	ProbabilityMore float64 `json:"probability_a_has_more"`
	// Differs says that the two differ beyond the uncertainty: see Of.
	Differs bool `json:"differs"`
	// From is "soils" where the clouds of equally likely soils were compared,
	// "intervals" where a reading has none.
	From string `json:"from"`
}

var fractionNames = [3]string{"sand", "silt", "clay"}

// minSoils is how many soils a cloud needs before it is used.
const minSoils = 50

// Of compares jars and puts them in order, one of Orders or none.
//
// Two jars differ in a fraction where 0 lies outside the 90 % interval of the
// difference. Among more than two jars some pair would look different by chance,
// so all pairs of a fraction are one family, held to 10 % together by the rule
// of Holm (1979, Scandinavian Journal of Statistics 6:65-70, from memory).
//
// Jars are taken as independent. Much of a reading's error is not: the same
// person measures the depth, the same water clumps the clay, and the same
// packing is reckoned with. What pushes two jars the same way drops out of their
// difference, so its interval is too wide rather than too narrow: differences
// are missed, not made up. The other way round it is only where a cause acts on
// one of the jars, such as lime that clumps the clay of one soil.
func Of(jars []Jar, order string) (Comparison, error) {
	if order == ByDifference {
		as, err := Of(jars, "")
		if err != nil {
			return as, err
		}
		order = as.telling()
	}
	in := entries(jars)
	if err := sortEntries(in, order); err != nil {
		return Comparison{}, err
	}
	c := Comparison{Version: Version, Jars: []Row{}, Differences: []Difference{}}
	var families [3][]*pair
	for i := range in {
		for j := i + 1; j < len(in); j++ {
			for k := range fractionNames {
				if in[i].comparable(in[j].Row, k) {
					families[k] = append(families[k], pairOf(in, i, j, k))
				}
			}
		}
	}
	for k, family := range families {
		holm(family)
		giveLetters(in, family, k)
	}
	for _, e := range in {
		c.Jars = append(c.Jars, e.Row)
	}
	all := slices.Concat(families[:]...)
	slices.SortStableFunc(all, func(a, b *pair) int { return cmp.Or(cmp.Compare(a.i, b.i), cmp.Compare(a.j, b.j)) })
	for _, p := range all {
		c.Differences = append(c.Differences, p.Difference)
	}
	return c, nil
}

// entry is a row with its cloud, each fraction sorted; nil without one.
type entry struct {
	Row
	soils [3][]float64
}

// entries gives every jar a name of its own.
func entries(jars []Jar) []entry {
	out := make([]entry, len(jars))
	count := map[string]int{}
	for i, j := range jars {
		out[i] = entry{rowOf(j), soilsOf(j.Reading)}
		count[out[i].Name]++
	}
	used := map[string]bool{}
	for i := range out {
		r := &out[i].Row
		if count[r.Name] > 1 && r.Source != "" {
			r.Name += " (" + r.Source + ")"
		}
		for name, n := r.Name, 2; used[r.Name]; n++ {
			r.Name = fmt.Sprintf("%s (%d)", name, n)
		}
		used[r.Name] = true
	}
	return out
}

func rowOf(j Jar) Row {
	r := Row{Name: plain(cmp.Or(j.Name, j.Source, "jar")), Source: plain(j.Source)}
	if j.Refused != nil || j.Reading == nil {
		no := cmp.Or(j.Refused, &reading.Refusal{})
		r.Refused = &reading.Refusal{Code: plain(no.Code), Text: plain(no.Text), Remedy: plain(no.Remedy), Said: no.Said, Todo: no.Todo}
		return r
	}
	r.System, r.Fractions = j.Reading.System, j.Reading.Fractions
	if c := j.Reading.Class; c != nil {
		named := *c
		named.Name, named.Others = plain(c.Name), nil
		for _, o := range c.Others {
			named.Others = append(named.Others, reading.OtherClass{Name: plain(o.Name), Probability: o.Probability})
		}
		r.Class = &named
	}
	if m := j.Reading.Meaning; m != nil {
		r.AvailableMMPerM, r.Days = &m.AvailableMMPerM, &m.Bed.Days
	}
	for _, w := range j.Reading.Warnings {
		r.Warnings = append(r.Warnings, reading.Warning{Code: plain(w.Code), Text: plain(w.Text), Remedy: plain(w.Remedy), Said: w.Said, Todo: w.Todo})
	}
	return r
}

func soilsOf(r *reading.Reading) (out [3][]float64) {
	if r == nil || len(r.Soils) < minSoils {
		return out
	}
	for k := range out {
		for _, s := range r.Soils {
			out[k] = append(out[k], s[k])
		}
		slices.Sort(out[k])
	}
	return out
}

// plain makes a text one line without control characters, which would steer the
// terminal: names and reasons may come from a file of anybody's.
func plain[T ~string](s T) T {
	line := strings.Map(func(c rune) rune {
		if unicode.IsControl(c) || unicode.Is(unicode.Bidi_Control, c) {
			return ' '
		}
		return c
	}, string(s))
	return T(strings.Join(strings.Fields(line), " "))
}

// comparable says whether a fraction means the same in both jars: the systems
// differ in where silt ends and sand begins, not in clay.
func (r Row) comparable(o Row, k int) bool {
	return r.Fractions != nil && o.Fractions != nil && (k == 2 || r.siltLimit() == o.siltLimit())
}

func (r Row) siltLimit() float64 {
	s, err := texture.ParseSystem(cmp.Or(r.System, "usda"))
	if err != nil {
		return 0
	}
	return s.SiltLimitUM()
}

// estimate is fraction k of a row that has fractions.
func (r Row) estimate(k int) reading.Estimate {
	return [...]reading.Estimate{r.Fractions.Sand, r.Fractions.Silt, r.Fractions.Clay}[k]
}

func (r Row) percent(k int) float64 { return r.estimate(k).Percent }
