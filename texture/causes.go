package texture

import (
	"math"
	"slices"

	"mudline/internal/words"
)

// CauseKind names a source of doubt.
type CauseKind string

// The sources of doubt a result tells apart.
const (
	HeightsCause   CauseKind = "heights"
	TimesCause     CauseKind = "times"
	TempCause      CauseKind = "temperature"
	DepthCause     CauseKind = "water depth"
	PackingCause   CauseKind = "packing"
	FlocCause      CauseKind = "floc share"
	CurveCause     CauseKind = "grain curve"
	DensityCause   CauseKind = "grain density"
	HindranceCause CauseKind = "hindered settling"
	AmountCause    CauseKind = "amount of soil"
	StonesCause    CauseKind = "stones"
	CrumbsCause    CauseKind = "crumbs"
	OrganicCause   CauseKind = "organic matter"
)

// Cause is one source of doubt and what knowing it would bring.
type Cause struct {
	Kind  CauseKind
	Share float64 // 0..1 of the fractions' variance that would go if it were known exactly
}

// WidthIfKnown is the factor the intervals would shrink by: 0.5 is half.
func (c Cause) WidthIfKnown() float64 { return math.Sqrt(1 - clamp(c.Share, 0, 1)) }

// Text says in plain words what knowing the cause would bring.
func (c Cause) Text() words.Message {
	w, what := c.WidthIfKnown(), words.Word("what", "know", string(c.Kind))
	switch {
	case w < 0.6:
		return words.Say("soil.halves-doubt", what)
	case w < 0.8:
		return words.Say("soil.cuts-doubt", what, words.Whole("percent", 100*(1-w)))
	}
	return words.Say("soil.helps-a-little", what)
}

var causeUnknowns = map[CauseKind][]int{
	HeightsCause:   {uClayLine, uSandShift, uSiltShift, uTopShift, uTopShift + 1, uTopShift + 2},
	TimesCause:     {uTime},
	TempCause:      {uTemp},
	DepthCause:     {uDepth},
	PackingCause:   {uSandWeight, uSiltWeight, uClayWeight, uFill, uWeighted, uConsolidation},
	FlocCause:      {uFlocShare, uFlocSize},
	CurveCause:     {uSandTilt, uSandHump, uSiltTilt, uSiltHump},
	HindranceCause: {uExponent},
	AmountCause:    {uSolids},
	StonesCause:    {uGravel},
	CrumbsCause:    {uCrumbs},
	OrganicCause:   {uOrganic},
}

// causes regresses the fractions on each group of unknowns over the samples:
// the share of variance explained is what knowing the group would take away.
// The heights' group holds the errors of the lines themselves.
//
// Temperature and grain density both only stretch time and share one unknown;
// its part is split by their variances.
func causes(s []sample, densityPart float64) []Cause {
	var out []Cause
	for kind, us := range causeUnknowns {
		columns := make([]func(*sample) float64, 0, len(us))
		for _, u := range us {
			columns = append(columns, func(x *sample) float64 { return x.z[u] })
		}
		if kind == HeightsCause {
			for k := range s[0].resid {
				columns = append(columns, func(x *sample) float64 { return x.resid[k] })
			}
		}
		share := explained(s, columns)
		if kind == TempCause {
			out = append(out, Cause{Kind: DensityCause, Share: share * densityPart})
			share *= 1 - densityPart
		}
		out = append(out, Cause{Kind: kind, Share: share})
	}
	slices.SortFunc(out, func(a, b Cause) int {
		switch {
		case a.Share > b.Share:
			return -1
		case a.Share < b.Share:
			return 1
		case a.Kind < b.Kind:
			return -1
		}
		return 1
	})
	return out
}

// explained is the share of the three fractions' variance, summed, that a
// weighted linear regression on the columns explains.
func explained(s []sample, columns []func(*sample) float64) float64 {
	n := len(columns) + 3
	rows := make([]float64, n)
	mean := make([]float64, n)
	cov := make([][]float64, n)
	for i := range cov {
		cov[i] = make([]float64, n)
	}
	fill := func(x *sample) {
		for k, c := range columns {
			rows[k] = c(x)
		}
		rows[n-3], rows[n-2], rows[n-1] = x.soil.Sand, x.soil.Silt, x.soil.Clay
	}
	for i := range s {
		fill(&s[i])
		for k := range rows {
			mean[k] += s[i].weight * rows[k]
		}
	}
	for i := range s {
		if s[i].weight < 1e-9 {
			continue
		}
		fill(&s[i])
		for a := range n {
			d := s[i].weight * (rows[a] - mean[a])
			for b := range n {
				cov[a][b] += d * (rows[b] - mean[b])
			}
		}
	}
	total := cov[n-3][n-3] + cov[n-2][n-2] + cov[n-1][n-1]
	for k := range columns { // sweep each column out of the rest
		pivot := cov[k][k]
		if pivot < 1e-9 {
			continue
		}
		for a := k + 1; a < n; a++ {
			f := cov[a][k] / pivot
			for b := k + 1; b < n; b++ {
				cov[a][b] -= f * cov[k][b]
			}
		}
	}
	left := cov[n-3][n-3] + cov[n-2][n-2] + cov[n-1][n-1]
	if total <= 0 {
		return 0
	}
	return clamp(1-left/total, 0, 1)
}
