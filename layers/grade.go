package layers

import "math"

// slope is what speaks for silt ending at every height of a grid, siltBlock
// apart, from above the foot of the jar to the deposit's top.
type slope struct {
	lo, step float64 // mm
	traits   [][siltTraits]float64
	below    []float64 // the odds that the sand ends below, see sandOdds
}

func (s *slope) z(i int) float64 { return s.lo + float64(i)*s.step }

// slopeOf measures a jar whose marks have their odds as the sand's top.
func slopeOf(ps []*photo, out []Reading, marks []mark, noSand float64, f jarFacts) (s slope) {
	h := f.h
	if f.last == 0 {
		return s
	}
	s.lo, s.step = 0.02*h, siltBlock*h
	sand, known := 0.0, 0.0
	for i := range marks {
		if m := &marks[i]; m.odds > known {
			sand, known = m.z, m.odds
		}
	}
	grade, colour := gradesOf(ps, out, sand, s.lo, s.step)
	for z, i := s.lo, 0; z < f.last-0.004*h; z, i = z+s.step, i+1 {
		d := around(z, ps, out)
		size := math.Sqrt(sq(d[0]) + sq(d[1]) + sq(d[2]))
		line := 0.0
		for j, p := range ps {
			if latePhoto(ps, j) {
				line = max(line, min(2, p.lighterBelow(z)))
			}
		}
		g := 0.0
		if i < len(grade) {
			g = grade[i]
		}
		t := [siltTraits]float64{bounded(g, 4), line, bounded(d[0]/2, 1.5), cosine(d, colour) * min(1, size)}
		below := noSand
		for j := range marks {
			if marks[j].z < z-0.008*h {
				below += marks[j].odds
			}
		}
		s.traits, s.below = append(s.traits, t), append(s.below, below)
	}
	return s
}

// gradesOf is the evidence of all late photos together that mud changes
// gradually about a height, from lo on by steps, as a log likelihood ratio
// against even mud, and the colour change at the top of the sand.
func gradesOf(ps []*photo, out []Reading, sand, lo, step float64) (logp []float64, colour [3]float64) {
	last := len(ps) - 1
	h := ps[last].s.Water.MM
	from := max(sand, 0.012*h)
	b := out[last].DepositTop
	if b == nil || b.HeightMM-from < 0.03*h {
		return nil, colour
	}
	logp = make([]float64, int((b.HeightMM-lo)/step)+1)
	n := 0.0
	for i, p := range ps {
		top := out[i].DepositTop
		if !latePhoto(ps, i) || top == nil {
			continue
		}
		var d [3]float64
		if sand > 0 {
			d = sandColour(p, &Boundary{HeightMM: sand})
			for ch := range 3 {
				colour[ch] += d[ch]
			}
		}
		g := p.grading(from, top.HeightMM, d)
		for j := range logp {
			x := lo + float64(j)*step
			logp[j] += g.at(x)
			if x > from+0.015*h {
				logp[j] += 2 * p.lighterBelow(x)
			}
		}
		n++
	}
	for j := range logp {
		logp[j] *= siltTemper / math.Pow(n, 0.7)
	}
	logp = blur(logp, siltBlur/siltBlock)
	prior := siltPrior(ps, out, from, b.HeightMM)
	sum, top := 0.0, math.Inf(-1)
	for j := range logp {
		z := lo + float64(j)*step
		if z < from {
			logp[j] = -20
			continue
		}
		logp[j] += math.Log(prior(z) * (b.HeightMM - from))
		top = max(top, logp[j])
	}
	for j := range logp {
		sum += math.Exp(logp[j] - top)
	}
	for j := range logp {
		logp[j] += -top - math.Log(sum/float64(len(logp)))
	}
	return logp, colour
}
