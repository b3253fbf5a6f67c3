package compare

import (
	"cmp"
	"slices"
)

// maxLetters is how many letters a table bears.
const maxLetters = 26

// giveLetters gives the rows their letters for fraction k from the family of its
// pairs: rows share a letter exactly where they do not differ (compact letter
// display by insertion and absorption, Piepho 2004, Journal of Computational and
// Graphical Statistics 13:456-466, from memory). No letters are given where a
// pair could not be compared, or where more than maxLetters would be needed.
func giveLetters(rows []entry, family []*pair, k int) {
	var told []int
	for i, r := range rows {
		if r.Fractions != nil {
			told = append(told, i)
		}
	}
	if n := len(told); n < 2 || len(family) != n*(n-1)/2 {
		return
	}
	slices.SortStableFunc(told, func(i, j int) int {
		return cmp.Compare(rows[j].percent(k), rows[i].percent(k))
	})
	sets := [][]int{told}
	for _, d := range family {
		if !d.Differs {
			continue
		}
		if sets = split(sets, d.i, d.j); len(sets) > 8*maxLetters {
			return
		}
	}
	if len(sets) > maxLetters {
		return
	}
	slices.SortFunc(sets, func(a, b []int) int { return slices.Compare(ranks(told, a), ranks(told, b)) })
	for n, set := range sets {
		for _, i := range set {
			if rows[i].Groups == nil {
				rows[i].Groups = &Groups{}
			}
			*rows[i].Groups.of(k) += string(rune('a' + n))
		}
	}
}

// split parts every set that holds both i and j into one without i and one
// without j, and drops sets that lie within another.
func split(sets [][]int, i, j int) [][]int {
	var out [][]int
	for _, s := range sets {
		if !slices.Contains(s, i) || !slices.Contains(s, j) {
			out = append(out, s)
			continue
		}
		for _, gone := range []int{i, j} {
			out = append(out, slices.DeleteFunc(slices.Clone(s), func(v int) bool { return v == gone }))
		}
	}
	slices.SortStableFunc(out, func(a, b []int) int { return len(b) - len(a) })
	var kept [][]int
	for _, s := range out {
		if !slices.ContainsFunc(kept, func(k []int) bool { return within(s, k) }) {
			kept = append(kept, s)
		}
	}
	return kept
}

func within(s, other []int) bool {
	return !slices.ContainsFunc(s, func(v int) bool { return !slices.Contains(other, v) })
}

// ranks are the places of a set's rows in the order told.
func ranks(told, set []int) []int {
	var out []int
	for n, i := range told {
		if slices.Contains(set, i) {
			out = append(out, n)
		}
	}
	return out
}

// letters of a row for fraction k; empty where there are none.
func (r Row) letters(k int) string {
	if r.Groups == nil {
		return ""
	}
	return *r.Groups.of(k)
}
