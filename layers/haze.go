package layers

import "math"

// Cloud is judged by colour alone: through clear water the jar shows what is
// behind it, much as through the empty glass above the water; mud shows its
// own colour, which is near that of the deposit. The answer is rough (about
// a quarter of the scale either way) and says little when the background
// happens to have the colour of the soil.

// readWater fills in cloud, haze and floating matter.
func (p *photo) readWater(r *Reading, t int) {
	r.FloatingMM = p.floating()
	if t == unseen {
		r.Cloud = p.cloudWithoutDeposit()
		return
	}
	top := p.lines[t].z
	lowest := top
	if arc := p.arcAbove(top); arc >= 0 {
		lowest = p.lines[arc].z
	}
	r.Cloud = p.cloud(top, lowest)
	r.HazeTop = p.haze(top, lowest)
}

// roomColour is the colour seen through the glass above the water.
func (p *photo) roomColour() ([3]float64, bool) {
	return p.colourOf(1.09*p.s.Water.MM, 1.03*p.s.Water.MM)
}

// cloud is the opacity of the water from lowest up, above a deposit whose top
// is at top.
func (p *photo) cloud(top, lowest float64) float64 {
	h := p.s.Water.MM
	back, ok1 := p.roomColour()
	soil, ok2 := p.colourOf(top-0.01*h, top-0.05*h)
	if !ok1 || !ok2 {
		return 0.5
	}
	var ratio []float64
	for i := range 5 {
		z := lowest + 0.03*h + (0.92*h-lowest-0.03*h)*(float64(i)+0.5)/5
		if w, ok := p.colourOf(z+0.02*h, z-0.02*h); ok {
			a, b := distance(w, back), distance(w, soil)
			ratio = append(ratio, a/(a+b+1e-9))
		}
	}
	if len(ratio) == 0 {
		return 0.5
	}
	c := (median(ratio) - 0.08) / 0.65
	if lowest > top {
		c *= 0.8 // the far edge of the deposit is seen through it
	}
	return max(0, min(1, c))
}

// cloudWithoutDeposit compares the water with the room only.
func (p *photo) cloudWithoutDeposit() float64 {
	h := p.s.Water.MM
	back, ok1 := p.roomColour()
	w, ok2 := p.colourOf(0.8*h, 0.3*h)
	if !ok1 || !ok2 {
		return 0.5
	}
	return min(1, distance(w, back)/15)
}

// colourOf is the median colour of the front of the jar between two heights.
func (p *photo) colourOf(hi, lo float64) (v [3]float64, ok bool) {
	a, b := max(p.k.row(hi), 0), min(p.k.row(lo), p.k.h)
	if b <= a {
		return v, false
	}
	for ch := range 3 {
		for c := range p.k.n {
			p.buf.med[c] = (p.k.sum[3*(p.k.n*b+c)+ch] - p.k.sum[3*(p.k.n*a+c)+ch]) / float64(b-a)
		}
		v[ch] = median(p.buf.med[:p.k.n])
	}
	return v, true
}

func distance(a, b [3]float64) float64 {
	return math.Sqrt(sq(a[0]-b[0]) + sq(a[1]-b[1]) + sq(a[2]-b[2]))
}
