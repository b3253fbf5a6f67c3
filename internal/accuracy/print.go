package main

import (
	"fmt"
	"math"
	"slices"

	"mudline/internal/reading"
)

func (s *summary) print() {
	foundEdges, far := 0, 0
	for _, e := range s.edges {
		if e <= found {
			foundEdges++
		}
		if e > farOff {
			far++
		}
	}
	fmt.Printf("readable jars refused: %d of %d (target 0)\n", len(s.refused), s.jars)
	for _, r := range s.refused {
		fmt.Println("  ", r)
	}
	for _, file := range s.leftOut {
		fmt.Println("   left out:", file)
	}
	fmt.Printf("both edges within %d %% of the width: %d of %d photos read, %d in all (target 95 %%); off by more than %d %%: %d, of these without a warning %d (target 0)\n",
		found, foundEdges, len(s.edges), s.photos, farOff, far, s.unwarned)
	fmt.Printf("floor, %% of depth: %s\n", quantiles(s.floors))
	fmt.Printf("water, %% of depth: %s\n", quantiles(s.waters))
	fmt.Printf("deposit top, %% of depth: %s (targets 0.3, 1.5); not seen in %d\n", quantiles(s.tops), s.topsUnseen)
	fmt.Printf("lines inside, last photo, %% of depth: %s (targets 0.6, 3); missed %d of %d; said %d, of these false (no boundary within %d %%) %d (target 5 %%)\n",
		quantiles(s.lines), s.missed, s.tellable, s.said, near, s.untrue)
	fmt.Printf("errors in standard deviations: deposit top %s; lines inside %s\n", quantiles(s.topSDs), quantiles(s.lineSDs))
	fmt.Printf("fractions, mean absolute error, points: %.2f of %d jars read; %.2f with a refused one taken for 33/33/33", mean(s.fractions), len(s.fractions), mean(s.withRefused))
	if len(s.series) > 0 {
		fmt.Printf("; %.2f of those of 3 photos and more (target 4.5; a perfect ruler %.2f)", mean(s.series), mean(s.ruler))
	}
	fmt.Printf("\n90 %% intervals hold the truth in %d of %d, %.0f %% (target 85 to 97), median width %.1f points\n", s.covered, s.intervals, 100*float64(s.covered)/math.Max(float64(s.intervals), 1), quantile(s.widths, 0.5))
	fmt.Printf("class named first %d of %d (target 70 %%), among 90 %% of probability %d (target 92 %%), wrong with probability 0.9 or more %d of %d (target 0)\n", s.first, s.jars, s.ninety, s.sure, s.firm)
	fmt.Printf("class with probability 2/3 or more right %d of %d\n", s.likelyRight, s.likely)
	fmt.Printf("within the two standard deviations shown: deposit tops %d of %d, lines inside %d of %d\n", within(s.topSDs, 2), len(s.topSDs), within(s.lineSDs, 2), len(s.lineSDs))
	if len(s.here) > 0 {
		fmt.Printf("of the %d jars read unaided too: %.2f points, unaided %.2f (target: no more than unaided)\n", len(s.here), mean(s.here), mean(s.unaided))
	}
	if m := s.moves; m.kept+m.came+m.went > 0 {
		fmt.Printf("lines not placed: moved by at most %.2f %% of the depth%s (target 0.3) of %d; %d came, %d went\n", m.farthest, m.where, m.kept, m.came, m.went)
	}
}

// difference is how far a height read is from the true one, in mm, with its
// standard deviation; NaN where one of them is missing.
func difference(got *reading.Height, truth *float64) (off, sd float64) {
	if got == nil || truth == nil {
		return math.NaN(), math.NaN()
	}
	return got.Value - *truth, got.SD
}

// apart writes an error with its standard deviation and the true height.
func apart(off, sd float64, truth *float64) string {
	at := math.NaN()
	if truth != nil {
		at = *truth
	}
	if math.IsNaN(off) {
		return fmt.Sprintf("   -  /  -  (%5.1f)", at)
	}
	return fmt.Sprintf("%+5.2f/%4.2f (%5.1f)", off, sd, at)
}

// within counts the values up to a limit.
func within(v []float64, most float64) (n int) {
	for _, x := range v {
		if x <= most {
			n++
		}
	}
	return n
}

func quantiles(v []float64) string {
	return fmt.Sprintf("median %.2f, 90th percentile %.2f, worst %.2f of %d", quantile(v, 0.5), quantile(v, 0.9), quantile(v, 1), len(v))
}

func quantile(v []float64, q float64) float64 {
	if len(v) == 0 {
		return math.NaN()
	}
	sorted := slices.Sorted(slices.Values(v))
	return sorted[min(int(q*float64(len(sorted))), len(sorted)-1)]
}

func mean(v []float64) float64 {
	var sum float64
	for _, x := range v {
		sum += x
	}
	return sum / float64(len(v))
}
