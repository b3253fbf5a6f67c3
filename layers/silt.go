package layers

import "math"

// The boundary between silt and clay is the faintest of all: silt grades into
// clay over several millimetres, and both are mud. What tells them apart is a
// slow change of colour: clay is the darker, and mostly the redder. So it is
// not looked for as a step. The mud above the sand is fitted with an even upper
// part, an even lower part and a straight change between them, on L*, a* and b*
// together; how much better that fits than one even mud is the evidence, and
// what settling allows at the time of the photos is the prior. Both become odds
// by height (grade.go, odds.go), whose peaks are candidates (modes.go).

const (
	siltBlock = 0.004 // of the water depth
	// siltPatch is how far the mud's own mottling keeps its colour; blocks
	// closer than this are not independent.
	siltPatch  = 0.015
	siltMargin = 0.010
	// siltPoint is where, on the way from the clay's colour down to the
	// silt's, the two are equal by mass. Clay, being the finer, colours the
	// mixture the more, so the halfway colour lies lower.
	siltPoint = 0.35
)

// mottle is how much even mud varies in L*, a* and b* from patch to patch.
var mottle = [3]float64{0.8, 0.3, 0.4}

// grading is the evidence of one photo for where silt ends, by height: the log
// likelihood ratio of the best gradual change through that height against one
// even mud.
type grading struct {
	z, gain []float64
}

// grading fits the mud between two heights with an even upper part, an even
// lower part and a straight change between them.
func (p *photo) grading(lo, hi float64, sand [3]float64) (out grading) {
	h := p.s.Water.MM
	lo, hi = lo+siltMargin*h, hi-siltMargin*h
	ch := p.k.changeFrom(hi, lo, hi, lo, siltBlock*h, p.buf)
	n := len(ch.z)
	if n < 6 {
		return out
	}
	out = grading{z: ch.z, gain: make([]float64, n)}
	eff := (hi - lo) / (siltPatch * h)
	total, mean := spread(ch.v)
	f := make([]float64, n)
	for from := 1; from < n-2; from++ {
		for to := from; to < n-1 && to-from < 40; to++ {
			sf, sff := ramp(f, from, to)
			d, gain := [3]float64{}, 0.0
			den := sff - sf*sf/float64(n)
			for c := range 3 {
				sfv := 0.0
				for i := from; i < n; i++ {
					sfv += f[i] * (ch.v[i][c] - mean[c])
				}
				d[c] = sfv / den
				gain += 0.5 * eff * math.Log(total[c]/(total[c]-sfv*sfv/den))
			}
			at := from + int(math.Round(siltPoint*float64(to-from)))
			gain *= 0.6 + 0.4*cosine(d, sand)
			out.gain[at] = max(out.gain[at], gain)
		}
	}
	return out
}

// ramp fills f with 0 before from, 1 from to on, and a straight rise between;
// it returns the sums of f and of its squares.
func ramp(f []float64, from, to int) (sum, squares float64) {
	for i := range f {
		switch {
		case i < from:
			f[i] = 0
		case i >= to:
			f[i] = 1
		default:
			f[i] = (float64(i-from) + 0.5) / float64(to-from)
		}
		sum += f[i]
		squares += f[i] * f[i]
	}
	return sum, squares
}

// spread is the sum of squares about the mean, channel by channel, with the
// mud's mottling added, and the mean.
func spread(v [][3]float64) (total, mean [3]float64) {
	n := float64(len(v))
	for _, x := range v {
		for c := range 3 {
			mean[c] += x[c] / n
		}
	}
	for c := range 3 {
		for _, x := range v {
			total[c] += sq(x[c] - mean[c])
		}
		total[c] += n * sq(mottle[c])
	}
	return total, mean
}

// cosine of the angle between two colour changes.
func cosine(a, b [3]float64) float64 {
	dot, x, y := 0.0, 1e-9, 1e-9
	for c := range 3 {
		dot += a[c] * b[c]
		x += a[c] * a[c]
		y += b[c] * b[c]
	}
	return dot / math.Sqrt(x*y)
}

// siltTemper scales the log likelihood down: the mud's mottling is the same in
// every photo of a jar, so photos are not independent either.
const siltTemper = 0.6

// siltMaxSD, as a share of the water depth: a silt top less certain than that
// is not reported.
const siltMaxSD = 0.035

// latePhoto says whether photo i shows the same layers as the last one.
func latePhoto(ps []*photo, i int) bool {
	return ps[i].s.ElapsedS >= ps[len(ps)-1].s.ElapsedS/3
}

// siltBlur is how far the split of a gradual change may be from where silt and
// clay are equal, as a share of the water depth.
const siltBlur = 0.012

// blur spreads a log likelihood by a Gaussian of sd steps.
func blur(logp []float64, sd float64) []float64 {
	out := make([]float64, len(logp))
	for i := range logp {
		top, sum := math.Inf(-1), 0.0
		for _, l := range logp {
			top = max(top, l)
		}
		for j, l := range logp {
			sum += math.Exp(l - top - 0.5*sq(float64(i-j)/sd))
		}
		out[i] = top + math.Log(sum)
	}
	return out
}

// lighterBelow is the weight of clear lines near a height with something
// lighter below: the top of silt under clay.
func (p *photo) lighterBelow(z float64) float64 {
	sum := 0.0
	for i := range p.lines {
		l := &p.lines[i]
		if w := l.weight - 0.7; w > 0 && l.d[0] > 0.5*l.size {
			sum += w * math.Exp(-0.5*sq((z-l.z)/(0.006*p.s.Water.MM)))
		}
	}
	return sum
}

// sandColour is the colour change from silt to sand, which finer and coarser
// silt follow in their measure.
func sandColour(p *photo, b *Boundary) [3]float64 {
	best, d := math.Inf(1), [3]float64{}
	for i := range p.lines {
		if e := math.Abs(p.lines[i].z - b.HeightMM); e < best {
			best, d = e, p.lines[i].d
		}
	}
	return d
}

// at is the evidence at a height, 0 outside the mud.
func (g *grading) at(z float64) float64 {
	for i := 1; i < len(g.z); i++ {
		if a, b := g.z[i-1], g.z[i]; z <= a && z >= b {
			t := (a - z) / (a - b)
			return g.gain[i-1]*(1-t) + g.gain[i]*t
		}
	}
	return 0
}

// siltPrior is what settling says about the silt's top before any colour is
// looked at. Some hours in, all but the finest silt is down, and little of the
// clay unless it has clotted: the silt's top is then not above the deposit's,
// and in unclotted mud a little below it.
func siltPrior(ps []*photo, out []Reading, lo, hi float64) func(z float64) float64 {
	upper, known := hi, false
	for i, p := range ps {
		if t := p.s.ElapsedS; t >= siltDownS && t <= 6*3600 && out[i].DepositTop != nil {
			upper, known = out[i].DepositTop.HeightMM, true
			break
		}
	}
	h := ps[0].s.Water.MM
	return func(z float64) float64 {
		p := 1 / (hi - lo)
		if !known {
			return p
		}
		s := 0.02 * h
		bump := math.Exp(-0.5*sq((z-upper+s)/s)) / (s * 2.5)
		edge := 1 / (1 + math.Exp((z-upper-0.01*h)/(0.005*h)))
		return 0.5*bump*edge + 0.5*p*edge + 1e-6
	}
}
