package compare

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"mudline/internal/words"
	"mudline/texture"
)

// Orders are what jars can be sorted by; the empty order leaves them as named.
// Numbers run from most to least, classes from coarse to fine. ByDifference is the order by
// the fraction that tells most of the jars apart.
var Orders = []string{"name", "sand", "silt", "clay", "water", "class", ByDifference}

// ByDifference sorts by what tells the jars apart; see Orders.
const ByDifference = "difference"

// telling is the fraction in which most pairs of jars differ; among equals the one by
// which they differ by more points, together.
func (c Comparison) telling() string {
	best, most := "", -1.0
	for _, name := range fractionNames {
		weight := 0.0
		for _, d := range c.Differences {
			if d.Fraction != name {
				continue
			}
			weight += math.Abs(d.Points) / 1e6
			if d.Differs {
				weight++
			}
		}
		if weight > most {
			best, most = name, weight
		}
	}
	return best
}

// key is what rows are sorted by: whether a row has it, and the order of two
// that do.
type key struct {
	has func(Row) bool
	by  func(a, b Row) int
}

func keyOf(order string) (key, error) {
	always := func(Row) bool { return true }
	switch order {
	case "":
		return key{always, func(Row, Row) int { return 0 }}, nil
	case "name":
		return key{always, func(a, b Row) int { return Names(strings.ToLower(a.Name), strings.ToLower(b.Name)) }}, nil
	case "sand", "silt", "clay":
		k := slices.Index(fractionNames[:], order)
		return key{func(r Row) bool { return r.Fractions != nil }, func(a, b Row) int { return cmp.Compare(b.percent(k), a.percent(k)) }}, nil
	case "water":
		return key{func(r Row) bool { return r.AvailableMMPerM != nil },
			func(a, b Row) int { return cmp.Compare(b.AvailableMMPerM.Value, a.AvailableMMPerM.Value) }}, nil
	case "class":
		return key{func(r Row) bool { return r.Class != nil }, func(a, b Row) int { return cmp.Compare(coarseness(a), coarseness(b)) }}, nil
	}
	return key{}, words.Say("compare.no-order", words.Name("given", order), words.Names("known", "", Orders))
}

// sortEntries sorts jars; those that lack what is sorted by come last, after them
// those without fractions and the refused ones.
func sortEntries(in []entry, order string) error {
	k, err := keyOf(order)
	if err != nil {
		return err
	}
	rank := func(r Row) int {
		switch {
		case r.Refused != nil:
			return 3
		case r.Fractions == nil:
			return 2
		case !k.has(r):
			return 1
		}
		return 0
	}
	slices.SortStableFunc(in, func(a, b entry) int {
		if c := cmp.Compare(rank(a.Row), rank(b.Row)); c != 0 || !k.has(a.Row) || !k.has(b.Row) {
			return c
		}
		return k.by(a.Row, b.Row)
	})
	return nil
}

// coarseness is the place of a row's class among all of its system, from 0 for
// the coarsest to 1.
func coarseness(r Row) float64 {
	system, _ := texture.ParseSystem(r.Class.System) // the usual one for a name that is none
	names := texture.ClassNames(system)
	return float64(slices.Index(names, r.Class.Name)) / float64(len(names)-1)
}

// Names compares names with the numbers in them as numbers, so that plot 2 comes
// before plot 10.
func Names(a, b string) int {
	for a != "" && b != "" {
		na, nb := digits(a), digits(b)
		if na > 0 && nb > 0 {
			x, y := strings.TrimLeft(a[:na], "0"), strings.TrimLeft(b[:nb], "0")
			if c := cmp.Or(cmp.Compare(len(x), len(y)), strings.Compare(x, y)); c != 0 {
				return c
			}
			a, b = a[na:], b[nb:]
			continue
		}
		if a[0] != b[0] {
			return cmp.Compare(a[0], b[0])
		}
		a, b = a[1:], b[1:]
	}
	return cmp.Compare(len(a), len(b))
}

// digits is how many digits a text begins with.
func digits(s string) int { return len(s) - len(strings.TrimLeft(s, "0123456789")) }
