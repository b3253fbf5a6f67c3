package layers

import (
	"math"
	"sort"
)

// inside is what is known of the boundaries inside the deposit of one jar.
type inside struct {
	marks []mark
	slope slope
	modes []mode
}

// lookInside finds all that may be a boundary, and the odds.
func lookInside(ps []*photo, c choice, out []Reading) (in inside) {
	f := factsOf(ps, c, out)
	in.marks = marksOf(ps, c, out)
	for i := range in.marks {
		in.marks[i].measure(ps, out, f)
	}
	none := sandOdds(in.marks, &sandWeights, sandNone)
	sort.SliceStable(in.marks, func(i, j int) bool { return in.marks[i].odds > in.marks[j].odds })
	in.slope = slopeOf(ps, out, in.marks, none, f)
	p, _ := siltOdds(&in.slope, &siltWeights, siltNone)
	in.modes = modesOf(&in.slope, p, f.h)
	return in
}

// nameSand marks where the sand ends, in every photo that lies above it, when
// one mark is likely enough.
func (in *inside) nameSand(ps []*photo, out []Reading) {
	if len(in.marks) == 0 || in.marks[0].odds < sandNamed {
		return
	}
	m := &in.marks[0]
	h := ps[0].s.Water.MM
	doubt := in.sandDoubt(h)
	var heights []float64
	for i := range ps {
		if l := m.seen[i]; l != nil {
			heights = append(heights, l.z)
		}
	}
	elsewhere := median(heights)
	for i, p := range ps {
		top := out[i].DepositTop
		switch {
		case top == nil:
		case m.seen[i] != nil && m.seen[i].z <= top.HeightMM:
			b := p.boundary(m.seen[i], 0.003)
			b.SDMM = math.Hypot(b.SDMM, doubt)
			b.Confidence = m.odds
			out[i].SandTop = b
		case top.HeightMM > elsewhere:
			// Hidden here, but the sand of the other photos has not gone.
			sd := math.Hypot(math.Hypot(0.008*h, doubt), p.s.FrameSDMM)
			out[i].SandTop = &Boundary{HeightMM: elsewhere, SDMM: sd, WidthMM: 0.02 * h, Confidence: m.odds}
		}
	}
}

// nearRival is within what share of the water depth another mark counts as
// doubt about the height rather than as another boundary.
const nearRival = 0.03

// sandDoubt is the standard deviation that rivals close by add to the sand's top.
func (in *inside) sandDoubt(waterMM float64) float64 {
	m, all, sum := &in.marks[0], 0.0, 0.0
	for i := range in.marks {
		if d := in.marks[i].z - m.z; math.Abs(d) < nearRival*waterMM {
			all += in.marks[i].odds
			sum += in.marks[i].odds * d * d
		}
	}
	return math.Sqrt(sum / all)
}

// nameSilt marks where the silt ends in the late photos.
func (in *inside) nameSilt(ps []*photo, out []Reading) {
	if len(in.modes) == 0 || in.modes[0].odds < siltNamed {
		return
	}
	m := in.modes[0]
	if m.sd > siltMaxSD*ps[0].s.Water.MM {
		return
	}
	step := around(m.z, ps, out)
	for i, p := range ps {
		r := &out[i]
		if !latePhoto(ps, i) || r.DepositTop == nil || r.DepositTop.HeightMM <= m.z || r.SandTop != nil && r.SandTop.HeightMM >= m.z {
			continue
		}
		r.SiltTop = &Boundary{HeightMM: m.z, SDMM: math.Hypot(m.sd, p.s.FrameSDMM), WidthMM: 2.5 * m.sd,
			Contrast: distance(step, [3]float64{}), Confidence: m.odds}
	}
}

// leastOdds is below which a boundary is not handed on.
const leastOdds = 0.02

// handOn lists the candidates of every photo and the shades of the late ones.
func (in *inside) handOn(ps []*photo, out []Reading) {
	for i, p := range ps {
		top := out[i].DepositTop
		if top == nil {
			continue
		}
		var list []Candidate
		for j := range in.marks {
			m := &in.marks[j]
			if l := m.seen[i]; l != nil && l.z <= top.HeightMM {
				b := p.boundary(l, 0.003)
				list = append(list, Candidate{HeightMM: l.z, SDMM: b.SDMM, WidthMM: b.WidthMM, Step: l.d, SandOdds: m.odds})
			}
		}
		if latePhoto(ps, i) {
			for _, m := range in.modes {
				if m.z < top.HeightMM {
					list = append(list, Candidate{HeightMM: m.z, SDMM: math.Hypot(m.sd, p.s.FrameSDMM), WidthMM: 2.5 * m.sd,
						Step: around(m.z, ps, out), SiltOdds: m.odds})
				}
			}
			out[i].Shades = p.shades(top.HeightMM)
		}
		for _, c := range list {
			if c.SandOdds+c.SiltOdds >= leastOdds {
				out[i].Candidates = append(out[i].Candidates, c)
			}
		}
		sort.SliceStable(out[i].Candidates, func(a, b int) bool { return out[i].Candidates[a].HeightMM < out[i].Candidates[b].HeightMM })
	}
}
