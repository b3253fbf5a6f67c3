package texture

import "math"

// The unknowns of a reading. Each is a standard normal number before the
// photos are looked at; prior.apply turns them into a jar.
const (
	uSandRatio = iota // sand against the fines, log ratio
	uClayRatio        // clay against silt, log ratio
	uSolids
	uSandTilt
	uSandHump
	uSiltTilt
	uSiltHump
	uSandWeight
	uSiltWeight
	uClayWeight
	uFill
	uWeighted
	uConsolidation
	uFlocShare
	uFlocSize
	uExponent
	uTemp // holds the grain density's doubt too: both only stretch time
	uTime
	uDepth
	uClayLine
	uClarity
	uSandShift // errors that all photos of a line share
	uSiltShift
	uTopShift // three: early, middle and late deposit tops
	_
	_
	uGravel // what no height tells
	uCrumbs
	uOrganic
	unknownCount
)

type unknowns [unknownCount]float64

// spread is the middle and standard deviation of a prior.
type spread struct{ mid, sd float64 }

func (s spread) at(z float64) float64 { return s.mid + s.sd*z }

// logSpread is the same for a positive quantity; sd is that of its logarithm.
type logSpread struct{ mid, sd float64 }

func (s logSpread) at(z float64) float64 { return s.mid * math.Exp(s.sd*z) }

// prior holds what is believed of gardens' jars before looking. Middles are
// published where a source is named; spreads are broad on purpose.
type prior struct {
	sandRatio, clayRatio spread
	solidsGL             logSpread
	sandTilt, sandHump   spread
	siltTilt, siltHump   spread
	weights              [3]logSpread
	fill                 spread // logit
	weighted             spread // logit
	consolidation        logSpread
	flocShare            spread // logit
	flocUM               logSpread
	exponent             spread
	line                 spread
	extinction           logSpread // optical depth through the jar per g/L of fines

	gravel  logSpread // share of what lies in the jar coarser than 2 mm
	crumbs  spread    // logit of the clay's share in crumbs that shaking did not part
	organic logSpread // share of the soil that is sunken organic matter
}

func defaultPrior() prior {
	return prior{
		// Before looking, each of the twelve USDA classes is about equally
		// likely, and every soil inside a class: the logistic normal law with
		// the means and spreads of that (0.27, 1.29; -0.19, 0.96), rounded.
		sandRatio: spread{0.25, 1.3},
		clayRatio: spread{-0.2, 1.0},
		// Published recipes run from 265 (an inch in a quart) over 383 (a quarter
		// to a third of the jar, the most) to 575 g/L (half); people put in less.
		solidsGL: logSpread{310, 0.4},
		sandTilt: spread{-0.3, 0.9}, sandHump: spread{1.0, 0.8},
		siltTilt: spread{0, 0.8}, siltHump: spread{0.2, 0.5},
		weights: [3]logSpread{
			{SubmergedUSBR.Sand, 0.07},
			{SubmergedUSBR.Silt, 0.12},
			// Fresh beds of flocs hold 100 to 300 kg/m3, older ones 400 to 700; reservoir
			// clay always under water 416 (Lara & Pemberton) or 481 (Lane & Koelzer).
			{435, 0.27},
		},
		// Guesses, broad: three quarters of what could hide in pores does, and mixtures
		// pack mostly so rather than by the mass-weighted rule of the Bureau of
		// Reclamation; most clay of tap-water jars clumps, into flocs that fall like 2 to
		// 12 um grains.
		fill:          spread{1, 1.2},
		weighted:      spread{-2.2, 1.2},
		consolidation: logSpread{0.07, 0.65},
		flocShare:     spread{0.5, 1.4},
		flocUM:        logSpread{5, 0.7},
		exponent:      spread{(StokesExponent + ReviewExponent) / 2, 0.5},
		line:          spread{0.5, 0.08},
		extinction:    logSpread{0.3, 1.2},

		// Guesses: stones were picked out, now and then not all, so that next to none is
		// usual and 8 % not rare; some of the clay may stay in crumbs; of 2 to 6 % organic
		// matter some sinks. Mostly little, seldom much.
		gravel:  logSpread{0.003, 2.2},
		crumbs:  spread{-5, 1.2},
		organic: logSpread{0.0045, 1.3},
	}
}

// conditions are what the person states of the jar, as priors.
type conditions struct {
	depthMM logSpread
	tempC   spread
	timeSDS float64 // error of the moment the jar was set down

	densityPart float64 // of the variance in tempC that stands for grain density
}

// apply fills j from the unknowns.
func (p *prior) apply(z *unknowns, c *conditions, j *jar) {
	a, b := p.sandRatio.at(z[uSandRatio]), p.clayRatio.at(z[uClayRatio])
	// isometric log ratios: a of sand against fines, b of clay against silt
	sand := math.Exp(a * math.Sqrt(2.0/3))
	rest := math.Exp(-a / math.Sqrt(6))
	clay, silt := rest*math.Exp(b/math.Sqrt2), rest*math.Exp(-b/math.Sqrt2)
	sum := sand + silt + clay
	j.Sand, j.Silt, j.Clay = sand/sum, silt/sum, clay/sum

	j.SolidsGL = math.Min(p.solidsGL.at(z[uSolids]), 700)
	j.sandShape = shape{p.sandTilt.at(z[uSandTilt]), p.sandHump.at(z[uSandHump])}
	j.siltShape = shape{p.siltTilt.at(z[uSiltTilt]), p.siltHump.at(z[uSiltHump])}
	j.clayShape = shape{Tilt: 0.2}
	j.Weights = UnitWeights{
		Sand: p.weights[0].at(z[uSandWeight]),
		Silt: p.weights[1].at(z[uSiltWeight]),
		Clay: p.weights[2].at(z[uClayWeight]),
	}
	j.Fill = logistic(p.fill.at(z[uFill]))
	j.Weighted = logistic(p.weighted.at(z[uWeighted]))
	j.FlocShare = logistic(p.flocShare.at(z[uFlocShare]))
	j.FlocUM = math.Min(p.flocUM.at(z[uFlocSize]), 60)
	j.GrainDensity = QuartzDensity
	j.Exponent = p.exponent.at(z[uExponent])
	j.TempC = math.Min(math.Max(c.tempC.at(z[uTemp]), MinTempC+0.5), MaxTempC)
	j.DepthMM = c.depthMM.at(z[uDepth])
	p.look(z, j)
}

// look sets what changes the reading of a settled jar, not its settling.
func (p *prior) look(z *unknowns, j *jar) {
	j.Consolidation = p.consolidation.at(z[uConsolidation])
	j.sandLine = 0.5
	j.clayLine = clamp(p.line.at(z[uClayLine]), 0.15, 0.85)
}

func logistic(x float64) float64 { return 1 / (1 + math.Exp(-x)) }

func clamp(v, lo, hi float64) float64 { return math.Min(math.Max(v, lo), hi) }

// sandAbove returns the mass share that is sand when silt ends at limitUM. Within
// a class grains are spread evenly in the logarithm of their size.
func sandAbove(grains *[grainKinds]float64, limitUM float64) float64 {
	sum := 0.0
	for i := range sandClasses + siltClasses {
		coarse, fine := grainEdgesUM[i], grainEdgesUM[i+1]
		switch {
		case fine >= limitUM-1e-9:
			sum += grains[i]
		case coarse > limitUM:
			sum += grains[i] * math.Log(coarse/limitUM) / math.Log(coarse/fine)
		}
	}
	return sum
}
