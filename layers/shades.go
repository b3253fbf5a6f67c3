package layers

import "math"

// Slices of the deposit for Shades: so thick at least, as a share of the water
// depth, and so many at most.
const (
	leastSlice = 0.008
	mostSlices = 24
)

// shades is what the deposit looks like between the floor and its top.
func (p *photo) shades(top float64) []Shade {
	h := p.s.Water.MM
	lo, hi := lowestLine*h, top-0.004*h
	n := min(mostSlices, int((hi-lo)/(leastSlice*h)))
	if n < 1 {
		return nil
	}
	var out []Shade
	for i := range n {
		a, b := lo+(hi-lo)*float64(i)/float64(n), lo+(hi-lo)*float64(i+1)/float64(n)
		lab, ok := p.colourOf(b, a)
		if !ok {
			continue
		}
		out = append(out, Shade{HeightMM: (a + b) / 2, Lab: lab, Grain: p.grainOver(b, a), SD: p.shadeSD(b, a)})
	}
	return out
}

// shadeSD is the standard error of a slice's colour, the mean of the channels:
// how far the columns' own changes from the lower to the upper half of the slice
// scatter about their median, and the mottling that mud has anyway.
func (p *photo) shadeSD(hi, lo float64) float64 {
	a, b := p.k.row(hi), p.k.row(lo)
	m := (a + b) / 2
	n := 0
	for c := range p.k.n {
		if d, ok := p.k.diff(c, a, m, m, b); ok {
			copy(p.buf.per[3*n:], d[:])
			n++
		}
	}
	if n == 0 {
		return mottle[0]
	}
	sum := 0.0
	for ch := range 3 {
		med := p.buf.med[:n]
		for c := range n {
			med[c] = p.buf.per[3*c+ch]
		}
		mid := median(med)
		for c := range n {
			med[c] = math.Abs(p.buf.per[3*c+ch] - mid)
		}
		// Half of the difference is the spread of the mean; the median of n
		// columns has 1.25/sqrt(n) of it.
		sum += sq(1.4826 * median(med) / 2 * 1.25 / math.Sqrt(float64(n)))
		sum += sq(mottle[ch]) * siltPatch * p.s.Water.MM / max(hi-lo, siltPatch*p.s.Water.MM) / 4
	}
	return math.Sqrt(sum / 3)
}
