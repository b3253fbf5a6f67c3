package jar

import (
	"math"

	"mudline/texture"
)

const (
	// momentsTold is how many moments of a film the physics is told of: neighbours in
	// time are taken together.
	momentsTold = 36
	// linesTold is how many photos' lines within the soil it is told of: it is one line
	// that they show, in one light.
	linesTold = 3
	// faintTop is how much less sure than the middle one of a film a top of the deposit
	// is whose doubt counts twice. Faint ones err together, as where the far edge of the
	// deposit is taken for the near one through clear water: the fainter, the less they
	// may say, without a limit from which a hair decides whether one counts.
	faintTop = 1.7
)

// curveOf makes of the observations of many photos those of the curve they show: the
// growth of the deposit, evenly in the logarithm of time, and the lines within it as a
// few photos show them. The cloud is left out: while the water clears from above one
// number does not tell it, and the curve says more. leastSD is the least doubt of a height, a
// share of the depth; of says which photo each stands for.
func curveOf(obs []texture.Observation, shots []*shot, leastSD float64) (curve []texture.Observation, of []int) {
	if len(obs) < FilmFrom {
		for i := range obs {
			of = append(of, i)
		}
		return obs, of
	}
	fadeFaint(obs)
	for _, bin := range bins(obs, momentsTold) {
		at := bin[len(bin)/2]
		o := obs[at]
		if len(bin) > 1 {
			o.ElapsedS, o.DepositTop = meanTop(obs, shots, bin, leastSD)
		}
		curve, of = append(curve, o), append(of, at)
	}
	told := map[int]bool{}
	for _, i := range spread(of, linesTold) {
		told[i] = true
	}
	for i := range curve {
		curve[i].Cloud, curve[i].Shades = nil, nil
		if !told[of[i]] && !shots[of[i]].placedWithin() {
			curve[i].Candidates, curve[i].SandTop, curve[i].SiltTop = nil, nil, nil
		}
	}
	return curve, of
}

// fadeFaint widens the doubt of tops that are less sure than most.
func fadeFaint(obs []texture.Observation) {
	var sd []float64
	for _, o := range obs {
		if o.DepositTop != nil {
			sd = append(sd, o.DepositTop.SD)
		}
	}
	for i := range obs {
		h := obs[i].DepositTop
		if h == nil {
			continue
		}
		faint := h.SD / (faintTop * middle(sd))
		wide := h.SD * (1 + math.Pow(faint, 4))
		obs[i].DepositTop = &texture.Height{Share: h.Share, SD: wide}
		if wide > h.Share {
			obs[i].DepositTop = nil // it says nothing any more
		}
	}
}

// placedWithin says whether a person placed a line within the soil.
func (s *shot) placedWithin() bool {
	sand, silt := s.layers.SandTop, s.layers.SiltTop
	return sand != nil && sand.Stated || silt != nil && silt.Stated
}

// bins groups observations, in order of time, by even spans of its logarithm.
func bins(obs []texture.Observation, most int) (out [][]int) {
	first, last := math.Log(obs[0].ElapsedS), math.Log(obs[len(obs)-1].ElapsedS)
	before := -1
	for i, o := range obs {
		bin := i
		if len(obs) > most {
			bin = min(int(float64(most)*(math.Log(o.ElapsedS)-first)/(last-first)), most-1)
		}
		if bin != before {
			out, before = append(out, nil), bin
		}
		out[len(out)-1] = append(out[len(out)-1], i)
	}
	return out
}

// meanTop is the mean top of the deposit in a few neighbours, without those that lie
// far from their middle, and its time. What is the photos' own of their doubt grows
// less with their number; what is the frame's stays.
func meanTop(obs []texture.Observation, shots []*shot, bin []int, leastSD float64) (timeS float64, top *texture.Height) {
	var heights []float64
	for _, i := range bin {
		if h := obs[i].DepositTop; h != nil {
			heights = append(heights, h.Share)
		}
	}
	timeS = obs[bin[len(bin)/2]].ElapsedS
	if len(heights) == 0 {
		return timeS, nil
	}
	mid := middle(heights)
	var sum, share, logTime, frame float64
	for _, i := range bin {
		h := obs[i].DepositTop
		if h == nil || math.Abs(h.Share-mid) > 3*h.SD {
			continue
		}
		depth := shots[i].shown.depth
		shared := min(depth.Share(shots[i].frameSDMM(depth.MM)), h.SD)
		w := 1 / (h.SD*h.SD - shared*shared + leastSD*leastSD)
		sum, share, logTime = sum+w, share+w*h.Share, logTime+w*math.Log(obs[i].ElapsedS)
		frame = max(frame, shared)
	}
	return math.Exp(logTime / sum), &texture.Height{Share: share / sum, SD: math.Hypot(frame, 1/math.Sqrt(sum))}
}
