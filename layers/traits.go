package layers

import "math"

// What speaks for a mark as the top of the sand, and as the top of the silt.
// All traits are of order one and held within bounds, so that no single one
// decides.
const (
	sandTraits = 10
	siltTraits = 4
)

// jarFacts is what the traits of all marks of one jar need.
type jarFacts struct {
	h     float64
	grain float64 // median over the photos, 0 for none
	early float64 // the deposit's top by sandDownS, the latest such; 0 for none
	soon  bool    // that was too early for all sand to be down
	down  float64 // its top when the silt was just down, 0 for no such photo
	last  float64 // its top in the last photo
	sand  float64 // where choose has the sand end
}

// soonS is until when the last sand is still falling.
const soonS = 60

// downUntilS is how long the deposit's top may be taken for the silt's.
const downUntilS = 6 * 3600

func factsOf(ps []*photo, c choice, out []Reading) jarFacts {
	f := jarFacts{h: ps[0].s.Water.MM, sand: c.sand}
	var g []float64
	for i, p := range ps {
		g = append(g, p.grain)
		b := out[i].DepositTop
		if b == nil {
			continue
		}
		f.last = b.HeightMM
		if p.s.ElapsedS <= sandDownS {
			f.early, f.soon = b.HeightMM, p.s.ElapsedS < soonS
		}
		if t := p.s.ElapsedS; f.down == 0 && t >= siltDownS && t <= downUntilS {
			f.down = b.HeightMM
		}
	}
	f.grain = median(g)
	return f
}

// around is the colour change from above to below a height, over some 2.5 % of
// the water depth either way, averaged over the photos that show the layers of
// the last one.
func around(z float64, ps []*photo, out []Reading) (d [3]float64) {
	h := ps[0].s.Water.MM
	n := 0.0
	for i, p := range ps {
		b := out[i].DepositTop
		if b == nil || !latePhoto(ps, i) || b.HeightMM < z+0.012*h {
			continue
		}
		if s, ok := p.change(min(z+0.028*h, b.HeightMM-0.004*h), z, max(z-0.028*h, 0.008*h)); ok {
			for ch := range 3 {
				d[ch] += s.d[ch]
			}
			n++
		}
	}
	for ch := range 3 {
		d[ch] /= max(n, 1)
	}
	return d
}

// change is the step from what lies between hi and z to what lies between z and
// lo, leaving out a little about z.
func (p *photo) change(hi, z, lo float64) (step, bool) {
	gap := 0.003 * p.s.Water.MM
	a0, a1, b0, b1 := p.k.row(hi), p.k.row(z+gap), p.k.row(z-gap), p.k.row(lo)
	n := 0
	for c := range p.k.n {
		if v, ok := p.k.diff(c, a0, a1, b0, b1); ok {
			copy(p.buf.per[3*n:], v[:])
			n++
		}
	}
	if n == 0 {
		return step{}, false
	}
	return consensus(p.buf, n), true
}

// measure fills in the traits of a mark.
func (m *mark) measure(ps []*photo, out []Reading, f jarFacts) {
	d := around(m.z, ps, out)
	size := math.Sqrt(sq(d[0]) + sq(d[1]) + sq(d[2]))
	chosen := 0.0
	if f.sand > 0 {
		chosen = math.Exp(-0.5 * sq((m.z-f.sand)/(0.006*f.h)))
	}
	early, above := 0.0, 0.0
	if f.early > 0 {
		over := (f.early - m.z) / f.h
		off := (over - 0.006) / 0.015
		if f.soon && off < 0 {
			off *= 0.3 // more sand was to come
		} else {
			above = min(2, max(0, -over-0.006)/0.01)
		}
		early = 1 - min(3, off*off)
	}
	grainy, bare := 0.0, 0.0
	if f.grain > 0 {
		grainy = 1 - min(4, sq((math.Log(m.z/f.grain)-grainToSand)/grainToSandSD))
	} else {
		bare = min(3, m.z/f.h/0.04)
	}
	m.traits = [sandTraits]float64{
		min(m.weight, 2.5), m.share(ps, out), chosen, early, above, grainy, bare,
		bounded(d[0]/3, 1.5), bounded(-d[1]/1.5, 1.5), math.Log1p(size),
	}
}

// share is the part of the photos that show the mark, of those whose deposit
// reaches above it.
func (m *mark) share(ps []*photo, out []Reading) float64 {
	n, seen := 0.0, 0.0
	for i := range ps {
		if b := out[i].DepositTop; b != nil && b.HeightMM > m.z+0.012*ps[i].s.Water.MM {
			n++
			if m.seen[i] != nil && m.seen[i].weight > 0.3 {
				seen++
			}
		}
	}
	return seen / max(n, 1)
}

func bounded(v, most float64) float64 { return max(-most, min(most, v)) }
