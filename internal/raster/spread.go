package raster

import (
	"cmp"
	"math"
	"slices"
)

// Spread moves places on a line apart to at least gap, each as little as may be,
// within lo and hi, and keeps their order. Where there is no room for all they
// come as near to it as they can.
func Spread(at []float64, gap, lo, hi float64) []float64 {
	out := slices.Clone(at)
	order := make([]int, len(at))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(at[a], at[b]) })
	for moved, round := true, 0; moved && round < 200; round++ {
		moved = false
		for k := 1; k < len(order); k++ {
			a, b := order[k-1], order[k]
			if lack := gap - (out[b] - out[a]); lack > 0.01 {
				out[a] -= lack / 2
				out[b] += lack / 2
				moved = true
			}
		}
		for i := range out {
			out[i] = math.Min(math.Max(out[i], lo), hi)
		}
	}
	return out
}
