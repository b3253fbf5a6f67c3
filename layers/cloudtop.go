package layers

import "math"

// The top of a clearing suspension is easily taken for other lines: a table's
// edge or a sill seen through clear water, the joints of bricks, and the horizon
// of the room mirrored in the glass before mud. Three things tell it from them.
// Below it the mud is of one colour down to the deposit, and hides the far edge
// of that; above it the water never returns to the colour of the mud; and it is
// either a great change of colour, which no reflection is, or a change as gradual
// as clearing water makes it, towards what is seen behind the empty glass.

// cloudTop is a line in the water with what tells the top of a cloud from other
// lines.
type cloudTop struct {
	l line
	// change is the colour above the line minus that of the mud below it, and
	// uneven how far that differs from height to height, in CIELAB units.
	change, uneven float64
	// away is the smallest part of the change that is left anywhere above.
	away float64
	// nearer is how much nearer to the room the water is above the line than
	// below, and least the same anywhere above, in shares of the mud's distance.
	nearer, least float64
}

// Limits to what is taken for the top of a cloud. Colours in CIELAB units;
// heights as shares of the water depth.
const (
	hazeAboveDeposit = 0.05
	hazeHighest      = 0.92
	greatChange      = 10.5 // mirrored horizons reach 9 to 10 on rendered jars
	softChange       = 5.5
	softSharpness    = 0.36 // of the change that falls within the fine window
	softNearer       = 0.15
	clearingFromS    = 1200 // before, nothing has cleared by so little
	hazeStep         = 0.01
)

// haze is the top of a clearing suspension, nil where the water has no such
// step. top is the deposit's, lowest the height up to which its surface is seen.
func (p *photo) haze(top, lowest float64) *Boundary {
	if lowest > top {
		return nil // the far edge of the deposit is seen: there is no cloud before it
	}
	back, ok := p.roomColour()
	if !ok {
		return nil
	}
	h := p.s.Water.MM
	lines := append([]line(nil), p.lines...)
	for _, l := range p.broad(lowest+0.03*h, 0.95*h) {
		if !near(lines, l, h) {
			lines = append(lines, l)
		}
	}
	var best *cloudTop
	for i := range lines {
		c, ok := p.cloudTop(&lines[i], lowest, back)
		if ok && c.isOne(p.s.ElapsedS) && (best == nil || c.change > best.change) {
			best = &c
		}
	}
	if best == nil {
		return nil
	}
	b := p.boundary(&best.l, 0.01)
	b.Contrast, b.Confidence = best.change, 0.6
	return b
}

func (c *cloudTop) isOne(elapsedS float64) bool {
	if c.away < 0.5 || c.uneven > 0.3*c.change {
		return false
	}
	if c.change >= greatChange {
		return c.uneven < 0.2*c.change
	}
	return c.change >= softChange && c.l.size < softSharpness*c.change && elapsedS >= clearingFromS &&
		c.nearer >= softNearer && c.least >= 1.2*softNearer
}

// cloudTop measures a line in the water above a deposit that ends at lowest.
func (p *photo) cloudTop(l *line, lowest float64, back [3]float64) (c cloudTop, ok bool) {
	h := p.s.Water.MM
	if l.z < lowest+hazeAboveDeposit*h || l.z > hazeHighest*h || l.size < 0.8 || l.share < 0.7 || p.s.isArc(l) {
		return c, false
	}
	mud, uneven, ok0 := p.evenness(l.z-0.015*h, lowest+0.02*h)
	above, ok1 := p.colourOf(l.z+0.045*h, l.z+0.015*h)
	below, ok2 := p.colourOf(l.z-0.015*h, l.z-0.045*h)
	if !ok0 || !ok1 || !ok2 || distance(below, back) < distance(below, mud) {
		return c, false
	}
	c = cloudTop{l: *l, change: distance(above, below), uneven: uneven, away: 1, least: math.Inf(1)}
	c.nearer = along(above, mud, back) - along(below, mud, back)
	for z := l.z + 0.02*h; z < 0.94*h; z += hazeStep * h {
		if v, ok := p.colourOf(z+hazeStep*h, z); ok {
			c.away = min(c.away, along(v, mud, above))
			c.least = min(c.least, along(v, mud, back))
		}
	}
	return c, true
}

// evenness is the usual colour between two heights, and how far from it the
// colour is at half of them.
func (p *photo) evenness(hi, lo float64) (usual [3]float64, uneven float64, ok bool) {
	var by [3][]float64
	step := hazeStep * p.s.Water.MM
	for z := lo; z < hi; z += step {
		if v, ok := p.colourOf(z+step, z); ok {
			for ch := range 3 {
				by[ch] = append(by[ch], v[ch])
			}
		}
	}
	n := len(by[0])
	if n < 2 {
		return usual, 0, false
	}
	for ch := range 3 {
		usual[ch] = median(append([]float64(nil), by[ch]...))
	}
	off := make([]float64, n)
	for i := range off {
		off[i] = distance([3]float64{by[0][i], by[1][i], by[2][i]}, usual)
	}
	return usual, median(off), true
}

// along is how far v lies on the way from one colour to another, 0 to 1.
func along(v, from, to [3]float64) float64 {
	dot, n := 0.0, 1.0
	for ch := range 3 {
		dot += (v[ch] - from[ch]) * (to[ch] - from[ch])
		n += sq(to[ch] - from[ch])
	}
	return dot / n
}
