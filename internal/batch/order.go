package batch

import (
	"cmp"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"golang.org/x/text/unicode/norm"

	"mudline/internal/sorting"
)

// inOrder puts jars in the order in which people list names: by letter whatever
// its case, accent or separator, numbers as numbers.
func inOrder(jars []Jar) {
	keys := map[string]string{}
	for _, j := range jars {
		keys[j.ID] = sorting.Key(plainLetters(j.ID))
	}
	slices.SortFunc(jars, func(a, b Jar) int { return cmp.Or(natural(keys[a.ID], keys[b.ID]), strings.Compare(a.ID, b.ID)) })
}

// plainLetters leaves out case and accents.
func plainLetters(s string) string {
	return strings.Map(func(r rune) rune {
		if unicode.Is(unicode.Mn, r) {
			return -1
		}
		return unicode.ToLower(r)
	}, norm.NFD.String(s))
}

// natural compares texts sign by sign, and numbers in them by their value.
func natural(a, b string) int {
	for a != "" && b != "" {
		if n, m := digits(a), digits(b); n > 0 && m > 0 {
			x, y := strings.TrimLeft(a[:n], "0"), strings.TrimLeft(b[:m], "0")
			if order := cmp.Or(cmp.Compare(len(x), len(y)), strings.Compare(x, y)); order != 0 {
				return order
			}
			a, b = a[n:], b[m:]
			continue
		}
		x, n := utf8.DecodeRuneInString(a)
		y, m := utf8.DecodeRuneInString(b)
		if x != y {
			return cmp.Compare(x, y)
		}
		a, b = a[n:], b[m:]
	}
	return cmp.Compare(len(a), len(b))
}

// digits is how many digits a text begins with.
func digits(s string) int {
	return len(s) - len(strings.TrimLeft(s, "0123456789"))
}

// Gather puts photos together that are left out for the same reason.
func Gather(left []Left) (list []Left) {
	at := map[[2]string]int{}
	for _, l := range left {
		why := [2]string{l.Said.String(), l.Todo.String()}
		if i, ok := at[why]; ok {
			list[i].Path += ", " + l.Path
			continue
		}
		at[why] = len(list)
		list = append(list, l)
	}
	return list
}
