package layers

import "math"

// Times in seconds that matter for what can have settled. A grain at the lower
// limit of sand (0.05 mm) falls 12 cm in about a minute in clear water and in
// two or three in thick mud; after an hour only the finest silt is still up.
const (
	sandDownS = 240
	siltDownS = 3600
)

// sandPrior is what settling says about a deposit top when the sand ends at
// sand: by one to four minutes the sand is down and little else; later there
// is something on it.
func sandPrior(p *photo, top, sand float64) float64 {
	h := p.s.Water.MM
	if sand == 0 {
		return 0
	}
	over := (top - sand) / h
	if p.s.ElapsedS <= sandDownS {
		// How much silt comes down with the last sand: up to about 3 % of the
		// depth in the first minutes.
		return 1.5 - min(6, sq((over-0.008)/0.02))
	}
	if over < 0.006 {
		return -3
	}
	return 0
}

// The logarithm of the height of the sand over that of its visible grain.
const (
	grainToSand   = 0.6
	grainToSandSD = 0.45
)

// grainPrior is what visible grain says about where the sand ends. Sand sorts
// itself as it falls: grains large enough to be seen one by one lie at the
// bottom, finer sand above them, so the sand ends from the top of the visible
// grain up to some three times that height.
func grainPrior(ps []*photo, sand float64) float64 {
	var g []float64
	h := ps[0].s.Water.MM
	for _, p := range ps {
		g = append(g, p.grain)
	}
	grain := median(g)
	switch {
	case sand == 0:
		return 0
	case grain == 0:
		return -min(2, max(0, sand/h-0.04)*20)
	}
	return 1 - min(2, 0.5*sq((math.Log(sand/grain)-grainToSand)/grainToSandSD))
}

// growth is what settling says about the deposit's top in photo b by an earlier
// one that shows it: it rises, and once the clay is down it may sink a little.
// holds says whether b's is one by which later photos can be judged.
func growth(a, b *photo, ta, tb int) (score float64, holds bool) {
	za, zb := a.lines[ta].z, b.lines[tb].z
	r := math.Log(zb / za)
	slack := 2 * (a.s.FrameSDMM + b.s.FrameSDMM + 0.002*a.s.Water.MM) / za
	sunk := 0.0
	if b.s.ElapsedS > siltDownS {
		sunk = mostDenser
	}
	if r < -sunk-slack {
		return -min(unfit, sq((r+sunk+slack)/0.06)), false
	}
	later := math.Log(max(b.s.ElapsedS, 1) / max(a.s.ElapsedS, 1))
	most := min(2.4, mostPower*later+slack)
	if a.s.ElapsedS > siltDownS {
		most = min(most, 0.45+slack)
	}
	beyond := (r - most) / (0.05 + 0.03*later)
	switch {
	case beyond > tooFar:
		return -unfit, false
	case beyond > 0:
		return -sq(beyond), true
	}
	return 0, r >= -steady
}

const (
	// unfit is what a top costs that cannot be the deposit's beside the measure.
	unfit = 12
	// tooFar is how many standard deviations more than it can a deposit must rise for
	// that.
	tooFar = 2
	// mostPower is the power of the time by which a deposit grows at most. Coarse grains
	// come down before fine ones, so that less and less arrives: it is less than 1. On
	// rendered jars it was 0.52 at most.
	mostPower = 0.7
	// mostDenser is by how much of the logarithm of its height a deposit sinks at most once
	// the clay is down: beds of nothing but clay gain some 7 % while time grows tenfold
	// beyond the first hour, by the law of Lane & Koelzer 1943 moved from years to hours.
	mostDenser = 0.1
	// steady is by how much of it the same top may seem lower in another photo.
	steady = 0.02
)
