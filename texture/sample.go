package texture

import (
	"cmp"
	"math"
	"math/rand/v2"
	"slices"
	"sync"
)

// effort is the size of the sampler: how often it starts afresh, and what it does
// each time. More gives the same answer, smoother and slower. Which peaks a start
// finds depends on its scouts, so starting again steadies more than further draws do.
type effort struct{ starts, scouts, climbs, draws, expectedJars int }

var (
	thorough = effort{starts: 4, scouts: 200, climbs: 4, draws: 240, expectedJars: 60}
	// steady is for the one long reading of a film.
	steady = effort{starts: 20, scouts: 200, climbs: 4, draws: 240, expectedJars: 60}
	quick  = effort{starts: 2, scouts: 200, climbs: 4, draws: 180, expectedJars: 20}
)

const (
	climbSteps = 6

	// Where fewer draws than this carry the weight, the ridges have missed part
	// of the posterior: one more is laid through the heaviest draw, at most twice.
	fewDraws    = 15
	rescues     = 2
	rescueDraws = 200

	fewInAll = 20 // effective draws of all starts below which there are as many again
)

// noise are the fixed tables of standard normal numbers all readings share, one for
// each start and as many for those that need them, so that a line dragged by a little moves
// the answer by a little.
var (
	noise      = sync.OnceValue(func() [][]unknowns { return newNoise(20) })
	noiseOnTop = sync.OnceValue(func() [][]unknowns { return noiseTables(2000, 2*(steady.starts-thorough.starts)) })
)

// noiseFor are n of the tables.
func noiseFor(n int) [][]unknowns {
	if n <= 2*thorough.starts {
		return noise()[:n]
	}
	return append(slices.Clone(noise()), noiseOnTop()...)[:n]
}

func newNoise(seed uint64) [][]unknowns { return noiseTables(seed, 2*thorough.starts) }

func noiseTables(seed uint64, n int) [][]unknowns {
	out := make([][]unknowns, n)
	for t := range out {
		r := rand.New(rand.NewPCG(seed+100*uint64(t), 2650))
		for len(out[t]) < thorough.scouts+thorough.draws+thorough.climbs+rescues*rescueDraws {
			out[t] = append(out[t], evenNoise(r)...)
		}
	}
	return out
}

// noiseBlock is how many rows of noise together have the mean and covariance of
// their law exactly.
const noiseBlock = 80

// evenNoise is a block of normal numbers in pairs of opposite sign, turned to have
// an identity covariance whatever the axes: draws made of it spread more evenly
// than chance would have them (antithetic pairs, moments matched).
func evenNoise(r *rand.Rand) []unknowns {
	half := make([]unknowns, noiseBlock/2)
	var cov matrix
	for i := range half {
		for k := range dim {
			half[i][k] = r.NormFloat64()
		}
		for a := range dim {
			for b := range dim {
				cov[a][b] += half[i][a] * half[i][b] / float64(len(half))
			}
		}
	}
	values, axes := cov.eigen()
	out := make([]unknowns, 0, noiseBlock)
	for _, x := range half {
		var even unknowns
		for k := range dim {
			y := 0.0
			for p := range dim {
				y += axes[p][k] * x[p]
			}
			for p := range dim {
				even[p] += axes[p][k] * y / math.Sqrt(values[k])
			}
		}
		out = append(out, even)
		for k := range dim {
			even[k] = -even[k]
		}
		out = append(out, even)
	}
	return out
}

// sample is a weighted draw of the posterior.
type sample struct {
	z         unknowns
	weight    float64
	ridge     int     // it was drawn from
	logPost   float64 // log posterior, less the log density of the draw once drawn
	target    float64 // log posterior without colours
	colour    float64 // log likelihood of the deposit's colours
	soil      Fractions
	soilAt50  Fractions // the same with silt up to 50 um
	suspended float64   // share of the soil still in the water at the last photo
	solidsGL  float64
	depthMM   float64
	resid     []float64   // of the measured numbers, in their own unit
	pred      []predicted // what the model says of them
	grains    [grainKinds]float64
}

// posterior draws weighted samples, as many from each start. Starts count alike:
// their evidence says more of how lucky their draws were than of their peaks. Where
// hardly any draw carries the weight there are as many starts again.
func (pr *problem) posterior() []sample {
	n := pr.effort.starts
	each := pr.starts(noiseFor(n))
	out := gathered(each, n)
	if pr.effort != quick && effective(out) < fewInAll {
		out = gathered(append(each, pr.starts(noiseFor(2 * n)[n:])...), 2*n)
	}
	return out
}

func (pr *problem) starts(tables [][]unknowns) (out []sample) {
	for _, e := range tables {
		out = append(out, pr.start(e)...)
	}
	return out
}

// gathered makes one set of the draws of several starts.
func gathered(each []sample, starts int) []sample {
	out := slices.Clone(each)
	for i := range out {
		out[i].weight /= float64(starts)
	}
	recolour(out)
	return out
}

// start draws weighted samples with a table of noise: it scouts the prior, climbs
// from the best scouts, and draws along the ridges through the peaks found. A draw
// that more than one ridge could have made is shared between them.
func (pr *problem) start(e []unknowns) []sample {
	ridges := pr.ridges(e[:pr.effort.scouts])
	e = e[thorough.scouts:]
	var out []sample
	for k := range ridges {
		n := int(math.Ceil(ridges[k].share * float64(pr.effort.draws)))
		out = pr.drawAlong(ridges, k, e[:n], out)
		e = e[n:]
	}
	weigh(out, ridges)
	for range rescues {
		if pr.effort == quick || effective(out) >= fewDraws {
			break
		}
		heaviest := slices.MaxFunc(out, func(a, b sample) int { return cmp.Compare(a.logPost, b.logPost) })
		ridges = append(ridges, pr.newRidge(heaviest.z, 0))
		ridges[len(ridges)-1].share = float64(rescueDraws) / float64(pr.effort.draws)
		out = pr.drawAlong(ridges, len(ridges)-1, e[:rescueDraws], out)
		e = e[rescueDraws:]
		weigh(out, ridges)
	}
	return out
}

// drawAlong adds a draw along ridge k for each row of noise.
func (pr *problem) drawAlong(ridges []ridge, k int, e []unknowns, out []sample) []sample {
	for i := range e {
		z, log := ridges[k].draw(pr, &e[i])
		s := pr.evaluate(z)
		s.ridge = k
		s.logPost -= log + math.Log(float64(len(e)))
		out = append(out, s)
	}
	return out
}

// logShare is the log of ridge k's claim to z: the claims of all sum to one.
func logShare(ridges []ridge, k int, z *unknowns) float64 {
	if len(ridges) == 1 {
		return 0
	}
	const blur = 1.5 // of the normal laws that stake the claims
	logs := make([]float64, len(ridges))
	for i := range ridges {
		logs[i] = math.Log(ridges[i].share) - ridges[i].logSD - ridges[i].distance2(z)/(2*blur*blur)
	}
	hi, sum := slices.Max(logs), 0.0
	for _, l := range logs {
		sum += math.Exp(l - hi)
	}
	return logs[k] - hi - math.Log(sum)
}

// evaluate runs the model at z and keeps what the result needs.
func (pr *problem) evaluate(z unknowns) sample {
	s := sample{z: z, target: pr.logPosterior(&z)}
	s.logPost = s.target
	j := &pr.jar
	if pr.shading != nil {
		s.colour = pr.shading.logLikelihood(j)
	}
	s.grains = j.grainShares
	s.soilAt50 = pr.prior.earth(&z, Fractions{j.Sand, j.Silt, j.Clay})
	for i := range s.grains {
		switch kindOf(i) {
		case sandKind:
			s.grains[i] *= s.soilAt50.Sand / 100 / j.Sand
		case siltKind:
			s.grains[i] *= s.soilAt50.Silt / 100 / j.Silt
		case clayKind:
			s.grains[i] *= s.soilAt50.Clay / 100 / (j.Clay * (1 - j.FlocShare))
		}
	}
	sand := 100 * sandAbove(&s.grains, pr.siltLimit)
	s.soil = Fractions{sand, s.soilAt50.Sand + s.soilAt50.Silt - sand, s.soilAt50.Clay}
	s.suspended = pr.heights[len(pr.heights)-1].SuspendedShare
	s.solidsGL, s.depthMM = j.SolidsGL, j.DepthMM
	s.resid, s.pred = make([]float64, len(pr.data)), slices.Clone(pr.pred)
	for i := range pr.data {
		s.resid[i], _ = pr.data[i].misfit(pr.pred[i])
	}
	return s
}

// weigh sets weights that sum to one. None may exceed the mean by more than
// sqrt(n): truncated importance sampling (Ionides 2008).
func weigh(s []sample, ridges []ridge) {
	hi := math.Inf(-1)
	for i := range s {
		s[i].weight = s[i].logPost + logShare(ridges, s[i].ridge, &s[i].z)
		hi = math.Max(hi, s[i].weight)
	}
	sum := 0.0
	for i := range s {
		s[i].weight = math.Exp(s[i].weight - hi)
		sum += s[i].weight
	}
	limit := sum / math.Sqrt(float64(len(s)))
	normalise(s, func(s *sample) float64 { return math.Min(s.weight, limit) })
}

// recolour weighs by the colours too, after weights were cut: they are cut for
// draws the ridges were unlikely to make, which colours know nothing of.
func recolour(s []sample) {
	hi := math.Inf(-1)
	for i := range s {
		hi = math.Max(hi, s[i].colour)
	}
	normalise(s, func(s *sample) float64 { return s.weight * math.Exp(s.colour-hi) })
}

// effective is the effective number of weighted samples.
func effective(s []sample) float64 {
	sum := 0.0
	for i := range s {
		sum += s[i].weight * s[i].weight
	}
	return 1 / sum
}

// ridges climbs from the best of the scouts and lays a ridge through every peak.
func (pr *problem) ridges(scouts []unknowns) []ridge {
	type start struct {
		z   *unknowns
		fit float64
	}
	starts := make([]start, len(scouts))
	for i := range scouts {
		starts[i] = start{&scouts[i], pr.logPosterior(&scouts[i])}
	}
	slices.SortStableFunc(starts, func(a, b start) int { return cmp.Compare(b.fit, a.fit) })
	var out []ridge
	for _, s := range starts[:min(pr.effort.climbs, len(starts))] {
		z, top := pr.climb(*s.z, climbSteps)
		known := func(r ridge) bool { return r.distance2(&z) < 4 }
		if !slices.ContainsFunc(out, known) {
			out = append(out, pr.newRidge(z, top))
		}
	}
	shareOut(out)
	return out
}

// shareOut shares the draws by the square root of the peaks' masses, so that a
// low but broad one gets its due.
func shareOut(r []ridge) {
	hi := math.Inf(-1)
	for i := range r {
		hi = math.Max(hi, r[i].top+r[i].logSD)
	}
	sum := 0.0
	for i := range r {
		r[i].share = math.Max(math.Exp((r[i].top+r[i].logSD-hi)/2), 0.05)
		sum += r[i].share
	}
	for i := range r {
		r[i].share /= sum
	}
}
