package layers

import "math"

// photo is one strip while it is being read.
type photo struct {
	s     *Strip
	k     *columns
	buf   *scratch
	lines []line
	noise float64
	grain float64 // see grainTop
	// tops indexes the lines that may be the deposit's top; it ends in unseen.
	tops []int
}

// unseen stands for a deposit top that does not show.
const unseen = -1

// choice is one explanation of all photos: where the sand ends (mm; 0 when
// nothing shows it), and which line is the deposit's top in each photo.
type choice struct {
	sand  float64
	top   []int
	score float64
	// rival[i][j] is the score of the best explanation, whatever its sand, in
	// which tops[j] is the deposit's top in photo i.
	rival [][]float64
}

// choose finds the best explanation: for every height the sand might end at,
// the best sequence of deposit tops.
func choose(ps []*photo) choice {
	best := choice{score: math.Inf(-1)}
	rival := make([][]float64, len(ps))
	for i, p := range ps {
		rival[i] = make([]float64, len(p.tops))
		for j := range rival[i] {
			rival[i][j] = math.Inf(-1)
		}
	}
	q := newSequence(ps)
	for _, sand := range sandHeights(ps) {
		if c := q.tops(sand, rival); c.score > best.score {
			best = c
		}
	}
	best.rival = rival
	return best
}

// leastWeight is the weight below which a line is not worth a hypothesis.
const leastWeight = 0.2

// sandHeights lists every height the sand might end at: those of all lines,
// and 0 for 'it does not show'.
func sandHeights(ps []*photo) []float64 {
	out := []float64{0}
	for _, p := range ps {
		if s := p.s.Stated.SandTop; s != nil {
			return []float64{*s}
		}
	}
	for _, p := range ps {
		for _, i := range p.tops {
			if i == unseen {
				continue
			}
			z := p.lines[i].z
			if p.lines[i].weight < leastWeight {
				continue
			}
			known := false
			for _, o := range out {
				known = known || math.Abs(o-z) < 0.003*p.s.Water.MM
			}
			if !known {
				out = append(out, z)
			}
		}
	}
	return out
}

// doubt is what the rivals of the chosen top leave open: the probability that
// the choice is wrong, taking scores for log odds, and the standard deviation
// (mm) that this adds.
func (p *photo) doubt(rival []float64, chosen int) (wrong, sd float64) {
	if chosen == unseen {
		return 0, 0
	}
	z := p.lines[chosen].z
	best := math.Inf(-1)
	for _, s := range rival {
		best = max(best, s)
	}
	var all, other, square float64
	for j, t := range p.tops {
		w := math.Exp(doubtScale * (rival[j] - best))
		all += w
		if t == unseen || math.Abs(p.lines[t].z-z) < sameLine*p.s.Water.MM {
			continue
		}
		other += w
		square += w * sq(p.lines[t].z-z)
	}
	return other / all, math.Sqrt(square / all)
}

// doubtScale turns differences of score into log odds. It is set so that errors
// on the rendered jars, read through frames with their usual errors, agree with
// the standard deviations stated.
const doubtScale = 3

// weigh sets how much each line counts: the logarithm of its size above the
// noise, less when few columns take part or it wanders.
func (p *photo) weigh() {
	for i := range p.lines {
		l := &p.lines[i]
		q := l.size * min(1, l.size/(l.noise+1e-9)/5) * l.share * l.share
		if l.rough > 0.01*p.s.Water.MM {
			q *= 0.6
		}
		l.weight = math.Log1p(q / max(0.8, 2*p.noise))
	}
}

func (l *line) darker() bool { return l.d[0] < -0.5*l.size }

// evidence is the weight of a line as the deposit's top. Under mud, the top of
// a deposit is mostly the darker side: suspended grains scatter light, settled
// ones soak it up. Sand that is still bare is lighter, but less red than mud,
// or grainy. A line that only brightens downwards is a reflection: the horizon
// of the room in the glass.
func (p *photo) evidence(l *line) float64 {
	w := l.weight
	switch {
	case l.darker():
		return w
	case l.d[0] > 0.5*l.size && l.d[1] > -0.04*l.size && math.Hypot(l.d[1], l.d[2]) < 0.45*l.size && p.grain < 0.3*l.z:
		return min(0.4*w, 0.6)
	case p.s.ElapsedS <= sandDownS:
		return w
	}
	return 0.7 * w
}

// evidenceUnder is the evidence for a line below an arc (-1: none). Where the
// far edge of the deposit is seen, the water is clear, and which side of the
// near edge is the darker depends on the background.
func (p *photo) evidenceUnder(l *line, arc int) float64 {
	if arc >= 0 && p.arcFits(arc, l) > 0 {
		return l.weight
	}
	return p.evidence(l)
}

// topScore says how well line t as the deposit's top explains one photo when
// the sand ends at the given height.
func (p *photo) topScore(t int, sand float64) float64 {
	h := p.s.Water.MM
	if t == unseen {
		if p.s.ElapsedS <= sandDownS && sand > 0.05*h {
			return -4 // that much sand would have shown
		}
		return 0
	}
	top := &p.lines[t]
	arc := p.arcAbove(top.z)
	score := 2 * p.evidenceUnder(top, arc)
	score -= 10 * max(0, top.z/h-0.55) // nobody fills a jar that full
	if p.s.ElapsedS > siltDownS {
		score -= 25 * max(0, 0.10-top.z/h) // or that empty
	}
	score += sandPrior(p, top.z, sand)
	score -= min(1.5, 0.5*sq(top.curve/(0.025*h)))
	if p.s.isArc(top) {
		score -= 1.5
	}
	if arc >= 0 {
		score += p.arcFits(arc, top)
	}
	return score + p.unexplained(t, arc, sand)
}

// unexplained weighs the other lines of a photo, given that line t is the
// deposit's top, arc the far edge of its surface (or -1) and sand where the
// sand ends. Inside the deposit one more boundary, silt under clay, is
// expected; every further clear line counts against the choice. Above it haze
// and reflections are common and count little.
func (p *photo) unexplained(t, arc int, sand float64) (score float64) {
	h := p.s.Water.MM
	z := p.lines[t].z
	var biggest, below, sandy float64
	for i := range p.lines {
		l := &p.lines[i]
		w := l.weight
		switch {
		case i == t:
		case sand > 0 && math.Abs(l.z-sand) < sameLine*h:
			if l.darker() && p.s.ElapsedS > sandDownS {
				w *= 0.6 // sand, washed of its fines, is lighter
			}
			if sandy == 0 {
				sandy = min(w, 2.5)
			}
		case l.z < 0.02*h:
			// The dark foot: nothing to explain.
		case l.z < z && p.s.isArc(l):
			score -= 1.5 * w // no surface is seen inside the deposit
		case l.z < z-0.006*h:
			w = max(0, w-0.8)
			below += w
			if l.z > sand {
				biggest = max(biggest, w)
			}
		case l.z <= z || arc >= 0 && i <= arc || p.s.isArc(l):
			// The top itself, or the background seen through clear water.
		case l.darker():
			score -= 0.35 * max(0, w-0.7)
		default:
			score -= 0.15 * max(0, w-0.7)
		}
	}
	return score + sandy - 1.2*(below-biggest) - 0.3*biggest
}
