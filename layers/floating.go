package layers

// floating is the thickness of debris or foam at the water's surface: rows
// much grainier than the water below, without a break from the surface down.
// The meniscus, a line or two thick, does not count.
func (p *photo) floating() float64 {
	h := p.s.Water.MM
	const block = 0.005
	usual := p.grainOver(0.92*h, 0.86*h)
	water, ok := p.colourOf(0.92*h, 0.86*h)
	if usual <= 0 || !ok {
		return 0
	}
	thick, miss := 0.0, 0
	for f := 1.0; f > 0.90; f -= block {
		g := p.grainOver(f*h, (f-block)*h)
		c, _ := p.colourOf(f*h, (f-block)*h)
		debris := g > 1.6*usual && g > 1.6 && c[0] < water[0]+2.5
		foam := g > 2.5*usual && g > 2.5
		if debris || foam {
			thick, miss = (1-f+block)*h, 0
		} else if miss++; miss > 1 {
			break
		}
	}
	if thick < 0.012*h {
		return 0
	}
	return thick
}

// grainOver is the mean texture between two heights.
func (p *photo) grainOver(hi, lo float64) float64 {
	a, b := max(p.k.row(hi), 0), min(p.k.row(lo), p.k.h)
	if b <= a {
		return 0
	}
	sum := 0.0
	for r := a; r < b; r++ {
		sum += p.k.grain[r]
	}
	return sum / float64(b-a)
}
