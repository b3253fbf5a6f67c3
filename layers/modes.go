package layers

import (
	"math"
	"sort"
)

// mode is one peak of where the silt may end: all odds between two valleys.
type mode struct{ z, sd, odds float64 }

// modesOf parts the odds of a slope into peaks, likeliest first.
func modesOf(s *slope, p []float64, waterMM float64) []mode {
	reach := max(1, int(math.Round(0.012*waterMM/s.step)))
	peak := func(i int) bool {
		for j := max(i-reach, 0); j <= min(i+reach, len(p)-1); j++ {
			if p[j] > p[i] || p[j] == p[i] && j < i {
				return false
			}
		}
		return true
	}
	var at []int
	for i := range p {
		if peak(i) {
			at = append(at, i)
		}
	}
	var out []mode
	from := 0
	for k, i := range at {
		to := len(p)
		if k+1 < len(at) {
			to = i
			for j := i; j <= at[k+1]; j++ {
				if p[j] < p[to] {
					to = j
				}
			}
		}
		m := mode{}
		for j := from; j < to; j++ {
			m.odds += p[j]
			m.z += p[j] * s.z(j)
		}
		m.z /= m.odds
		for j := from; j < to; j++ {
			m.sd += p[j] * sq(s.z(j)-m.z)
		}
		m.sd = math.Hypot(math.Sqrt(m.sd/m.odds), 0.008*waterMM)
		if m.odds > 0 {
			out = append(out, m)
		}
		from = to
	}
	sort.Slice(out, func(i, j int) bool { return out[i].odds > out[j].odds })
	return out
}
