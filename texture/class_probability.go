package texture

import "sort"

// ClassProbability is a class and the weight of the samples that fall in it.
type ClassProbability struct {
	Name        string
	Probability float64 // 0..1
}

// ClassProbabilities shares the weights of sampled fractions, which add up to
// 100, out over the classes of s, most probable first.
func ClassProbabilities(samples []Fractions, weights []float64, s System) []ClassProbability {
	sums := map[string]float64{}
	total := 0.0
	for i, f := range samples {
		sums[s.classAt(f)] += weights[i]
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
