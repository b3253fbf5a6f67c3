package layers

import (
	"math"
	"sort"
)

// mark is a height at which a boundary inside the deposit may lie, gathered
// from the lines that the photos show there.
type mark struct {
	z float64
	// seen holds the line each photo shows there, nil where it shows none.
	seen   []*line
	weight float64 // the largest weight of them
	traits [sandTraits]float64
	odds   float64 // that it is the top of the sand
}

// Gradual changes are sought with a window and a gap so wide, as shares of the
// water depth, and within so much only the strongest counts.
const (
	broadWindow = 0.025
	broadGap    = 0.004
	broadReach  = 0.012
	leastBroad  = 0.5 // CIELAB units
)

// footReach is up to where the fine window reaches down to the foot.
const footReach = fineWindow + 0.0025

// inner are the lines of a photo that may be boundaries inside a deposit of
// height top: the sharp ones, then the gradual ones between them. t is the line
// taken for the top.
func (p *photo) inner(t int, top float64) []line {
	h := p.s.Water.MM
	var out []line
	for i := range p.lines {
		l := &p.lines[i]
		if p.s.isArc(l) || l.z < lowestLine*h/2 || l.z > top+0.002*h {
			continue
		}
		if l.z < footReach*h && l.d[0] < 0 {
			continue // the dark foot comes into the window
		}
		bare := p.s.ElapsedS <= sandDownS && !l.darker()
		if (i == t || l.z > top-0.004*h) && !bare {
			continue
		}
		out = append(out, *l)
	}
	for _, l := range p.broad(0.018*h, top-0.012*h) {
		if !near(out, l, h) {
			out = append(out, l)
		}
	}
	return out
}

// broad finds gradual changes between two heights.
func (p *photo) broad(lo, hi float64) []line {
	k, h := p.k, p.s.Water.MM
	gap := k.rows(broadGap * h)
	every := max(gap/2, 1)
	var at []int
	var resp []step
	for r := k.row(hi); r <= k.row(lo); r += every {
		// Near the floor and the top the window is cut short.
		win := min(k.rows(broadWindow*h), k.row(0.012*h)-r-gap, r-gap-k.row(hi+0.008*h))
		if win < max(k.rows(0.006*h), 2) {
			continue
		}
		at, resp = append(at, r), append(resp, k.stepAt(r, win, gap, nil, p.buf))
	}
	var out []line
	reach := k.rows(broadReach*h) / every
	for i, s := range resp {
		if s.size < leastBroad || s.share < 0.6 {
			continue
		}
		top := true
		for j := max(i-reach, 0); j <= min(i+reach, len(resp)-1) && top; j++ {
			top = resp[j].size < s.size || resp[j].size == s.size && j >= i
		}
		if top {
			l := line{step: s, z: k.height(float64(at[i])), sd: 0.006 * h}
			l.weight = 0.5 * math.Log1p(s.size*min(1, s.size/(s.noise+1e-9)/5)*s.share*s.share)
			out = append(out, l)
		}
	}
	return out
}

// marksOf gathers the lines inside the deposit over all photos: lines at one
// height are one mark. Strongest first.
func marksOf(ps []*photo, c choice, out []Reading) []mark {
	type ref struct {
		photo int
		l     *line
	}
	var all []ref
	for i, p := range ps {
		if out[i].DepositTop == nil || c.top[i] == unseen {
			continue
		}
		in := p.inner(c.top[i], out[i].DepositTop.HeightMM)
		for j := range in {
			all = append(all, ref{i, &in[j]})
		}
	}
	sort.SliceStable(all, func(a, b int) bool { return all[a].l.weight > all[b].l.weight })
	var marks []mark
	for _, r := range all {
		if m := markAt(marks, r.l.z, ps[0].s.Water.MM); m != nil {
			fit := func(l *line) float64 { return l.size * math.Exp(-0.5*sq((l.z-m.z)/(0.004*ps[0].s.Water.MM))) }
			if old := m.seen[r.photo]; old == nil || fit(r.l) > fit(old) {
				m.seen[r.photo] = r.l
			}
			continue
		}
		m := mark{z: r.l.z, weight: r.l.weight, seen: make([]*line, len(ps))}
		m.seen[r.photo] = r.l
		marks = append(marks, m)
	}
	return marks
}

// markAt is the mark that a line at height z belongs to, nil for none.
func markAt(marks []mark, z, waterMM float64) *mark {
	var best *mark
	for i := range marks {
		d := math.Abs(marks[i].z - z)
		if d < 0.01*waterMM && (best == nil || d < math.Abs(best.z-z)) {
			best = &marks[i]
		}
	}
	return best
}
