// Package order picks the largest and the middle of values quickly.
package order

import (
	"cmp"
	"slices"
)

// Best gives the items with the highest scores, highest first; of two alike the
// earlier one. Scores are sorted, not the items, which may be large.
func Best[T any](items []T, keep int, score func(*T) float64) []T {
	type key struct {
		score float64
		at    int
	}
	keys := make([]key, len(items))
	for i := range items {
		keys[i] = key{score(&items[i]), i}
	}
	slices.SortFunc(keys, func(a, b key) int {
		if a.score != b.score {
			return cmp.Compare(b.score, a.score)
		}
		return a.at - b.at
	})
	out := make([]T, min(len(items), keep))
	for i := range out {
		out[i] = items[keys[i].at]
	}
	return out
}

// Nth brings the k smallest values to the front of v, in any order, and gives
// the next one, at v[k] (Hoare 1961, algorithm 65).
func Nth[T cmp.Ordered](v []T, k int) T {
	for lo, hi := 0, len(v)-1; lo < hi; {
		pivot, i, j := v[k], lo, hi
		for i <= j {
			for v[i] < pivot {
				i++
			}
			for pivot < v[j] {
				j--
			}
			if i <= j {
				v[i], v[j] = v[j], v[i]
				i, j = i+1, j-1
			}
		}
		if j < k {
			lo = i
		}
		if k < i {
			hi = j
		}
	}
	return v[k]
}

// SortFew sorts a few values by insertion, which for them is quickest.
func SortFew[T cmp.Ordered](v []T) {
	for i := 1; i < len(v); i++ {
		x, j := v[i], i
		for ; j > 0 && v[j-1] > x; j-- {
			v[j] = v[j-1]
		}
		v[j] = x
	}
}
