package order

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"
)

// The reference is slices.Sort.
func TestNthAgainstSort(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := rapid.SliceOfN(rapid.IntRange(0, 9), 1, 40).Draw(t, "values")
		k := rapid.IntRange(0, len(v)-1).Draw(t, "k")
		sorted := slices.Sorted(slices.Values(v))
		assert.Equal(t, sorted[k], Nth(v, k))
		slices.Sort(v[:k])
		assert.Equal(t, sorted[:k], v[:k])
	})
}

func TestBestKeepsTheOrderOfAlike(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := rapid.SliceOfN(rapid.Float64Range(0, 1), 0, 60).Draw(t, "items")
		keep := rapid.IntRange(0, 70).Draw(t, "keep")
		score := func(v *float64) float64 { return float64(int(*v * 4)) }
		want := slices.Clone(in)
		slices.SortStableFunc(want, func(a, b float64) int { return int(score(&b) - score(&a)) })
		assert.Equal(t, want[:min(keep, len(want))], Best(in, keep, score))
	})
}

func TestSortFewAgainstSort(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := rapid.SliceOfN(rapid.IntRange(0, 9), 0, 12).Draw(t, "values")
		want := slices.Sorted(slices.Values(v))
		SortFew(v)
		assert.ElementsMatch(t, want, v)
		assert.True(t, slices.IsSorted(v))
	})
}
