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
	// faintTop is how much surer than a top of the deposit the middle one of a film may be
	// at most. Fainter ones err together, as where the far edge of the deposit is taken
	// for the near one through clear water, and there are others in their place.
	faintTop = 2.2
)

// curveOf makes of the observations of many photos those of the curve they show: the
// growth of the deposit, evenly in the logarithm of time, and the lines within it as a
// few photos show them. The cloud is left out: while the water clears from above one
// number does not tell it, and the curve says more. of says which photo each stands for.
func curveOf(obs []texture.Observation, shots []*shot, k float64) (curve []texture.Observation, of []int) {
	if len(obs) < FilmFrom {
		for i := range obs {
			of = append(of, i)
		}
		return obs, of
	}
	dropFaint(obs)
	for _, bin := range bins(obs, momentsTold) {
		at := bin[len(bin)/2]
		o := obs[at]
		if len(bin) > 1 {
			o.ElapsedS, o.DepositTop = meanTop(obs, shots, bin, k)
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

// dropFaint takes away the tops that are much less sure than most.
func dropFaint(obs []texture.Observation) {
	var sd []float64
	for _, o := range obs {
		if o.DepositTop != nil {
			sd = append(sd, o.DepositTop.SDMM)
		}
	}
	for i := range obs {
		if h := obs[i].DepositTop; h != nil && h.SDMM > faintTop*middle(sd) {
			obs[i].DepositTop = nil
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
func meanTop(obs []texture.Observation, shots []*shot, bin []int, k float64) (timeS float64, top *texture.Height) {
	var heights []float64
	for _, i := range bin {
		if h := obs[i].DepositTop; h != nil {
			heights = append(heights, h.MM)
		}
	}
	timeS = obs[bin[len(bin)/2]].ElapsedS
	if len(heights) == 0 {
		return timeS, nil
	}
	mid := middle(heights)
	var sum, mm, logTime, frame float64
	for _, i := range bin {
		h := obs[i].DepositTop
		if h == nil || math.Abs(h.MM-mid) > 3*h.SDMM {
			continue
		}
		shared := min(shots[i].frameSDMM(shots[i].shown.depthMM)*k, h.SDMM)
		w := 1 / (h.SDMM*h.SDMM - shared*shared + 0.01)
		sum, mm, logTime = sum+w, mm+w*h.MM, logTime+w*math.Log(obs[i].ElapsedS)
		frame = max(frame, shared)
	}
	return math.Exp(logTime / sum), &texture.Height{MM: mm / sum, SDMM: math.Hypot(frame, 1/math.Sqrt(sum))}
}
