package jarfind

import "math"

const (
	agreeGain  = 16.0 // log odds of two spots whose lines all agree against two that share none
	agreeMarks = 8    // lines of a spot that are compared, strongest first
	agreeSeeds = 3    // spots of each photo tried as the one the others must agree with
	agreeTurns = 3
)

// chooseSpots picks a spot for every photo: those that look most like a jar and
// whose lines (water, shoulder, lid) agree best with those of the other photos.
// A side traced wrongly changes the scale, and then no line agrees.
func chooseSpots(sightings []*Sighting) []*spot {
	n := len(sightings)
	chosen := make([]int, n)
	for i, s := range sightings {
		if len(s.spots) == 0 {
			chosen[i] = -1
		}
	}
	if n > 1 {
		chosen = bestChoice(sightings, chosen)
	}
	out := make([]*spot, n)
	for i, k := range chosen {
		if k >= 0 {
			out[i] = &sightings[i].spots[k]
		}
	}
	return out
}

// bestChoice tries every seed and keeps the choice with the highest score.
func bestChoice(sightings []*Sighting, start []int) []int {
	cache := map[[4]int]float64{}
	match := func(i, a, j, b int) float64 {
		if i > j {
			i, a, j, b = j, b, i, a
		}
		key := [4]int{i, a, j, b}
		v, ok := cache[key]
		if !ok {
			v = linesAgree(&sightings[i].spots[a], &sightings[j].spots[b])
			cache[key] = v
		}
		return v
	}
	// gain is what spot k of photo i brings with the other photos' choice.
	gain := func(choice []int, i, k int) float64 {
		sum, n := 0.0, 0.0
		for j, o := range choice {
			if j != i && o >= 0 {
				sum += match(i, k, j, o)
				n++
			}
		}
		return sightings[i].spots[k].score + agreeGain*sum/math.Max(n, 1)
	}
	improve := func(choice []int) {
		for i := range choice {
			for k := range sightings[i].spots {
				if gain(choice, i, k) > gain(choice, i, choice[i])+1e-9 {
					choice[i] = k
				}
			}
		}
	}
	best, bestScore := start, math.Inf(-1)
	for i, s := range sightings {
		for k := range min(len(s.spots), agreeSeeds) {
			choice := seeded(sightings, start, i, k, match)
			for range agreeTurns {
				improve(choice)
			}
			total := 0.0
			for j, o := range choice {
				if o >= 0 {
					total += gain(choice, j, o)
				}
			}
			if total > bestScore {
				best, bestScore = choice, total
			}
		}
	}
	return best
}

// seeded chooses for every photo the spot that goes best with spot k of photo i.
func seeded(sightings []*Sighting, start []int, i, k int, match func(i, a, j, b int) float64) []int {
	choice := append([]int(nil), start...)
	choice[i] = k
	for j, s := range sightings {
		if j == i {
			continue
		}
		top := math.Inf(-1)
		for b, v := range s.spots {
			if g := v.score + agreeGain*match(i, k, j, b); g > top {
				top, choice[j] = g, b
			}
		}
	}
	return choice
}

// linesAgree compares the lines of two spots by their heights in units of the
// radius, 0..1.
func linesAgree(a, b *spot) float64 {
	return (oneWay(a, b) + oneWay(b, a)) / 2
}

func oneWay(a, b *spot) float64 {
	sum, total := 0.0, 0.0
	for i, m := range a.marks {
		if i == agreeMarks {
			break
		}
		w := math.Sqrt(math.Min(m.strength/strongEnough, 1))
		best := 0.0
		for j, o := range b.marks {
			if j == 2*agreeMarks {
				break
			}
			best = math.Max(best, math.Sqrt(math.Min(o.strength/strongEnough, 1))*agreement(m.Ratio, o.Ratio))
		}
		sum += w * best
		total += w
	}
	return sum / math.Max(total, 0.5)
}
