package layers

import "math"

// Through clear water a camera that looks down sees the surface of the deposit
// as an ellipse. Its near edge, on the front of the glass, is the height to be
// read, and often the fainter of the two; its far edge is a bold line well
// above. In a strip, where the front of the glass has been laid straight, the
// near edge is level and the far edge is an arc, twice as bent as the glass.
// The two prove each other: the arc stands above the level line by a distance
// that the bow of the frame fixes.

// arcAbove is the lowest strongly curved line above a height, or -1: the far
// edge of the deposit's surface, seen through clear water.
func (p *photo) arcAbove(z float64) int {
	for i := len(p.lines) - 1; i >= 0; i-- {
		l := &p.lines[i]
		if l.z > z && p.s.isArc(l) && l.size > 3 {
			return i
		}
	}
	return -1
}

// Light from the far edge of the deposit's surface comes through the water,
// which makes that edge look nearer. In thin glass full of water (index 1.333)
// it stands 2/1.333 of the front edge's bow above it were the jar as wide
// inside as outside; with common wall thicknesses about 1.3 times.
const (
	arcPerBow   = 1.31
	arcPerBowSD = 0.20
)

// bowAt is how far a level circle at height z bows, and whether it is known.
func (s *Strip) bowAt(z float64) (mm float64, known bool) {
	if s.BowFloorMM == 0 && s.BowWaterMM == 0 {
		return 0, false
	}
	return s.BowFloorMM + (s.BowWaterMM-s.BowFloorMM)*z/s.Water.MM, true
}

// isArc says whether a line curves too much to lie on the front of the glass.
// The frame's own error is a bow of up to 2 % of the water depth.
func (s *Strip) isArc(l *line) bool {
	if l.size < 2.5 || l.rough > max(0.003*s.Water.MM, 1.5*s.mmPerRow()) {
		return false
	}
	if bow, known := s.bowAt(l.z); known {
		return l.curve > max(0.022*s.Water.MM, 0.6*bow)
	}
	return l.curve > 0.045*s.Water.MM
}

// surelyArc says whether a line curves more than any error of the frame would
// bend a level one. What isArc but not surelyArc may be either.
func (s *Strip) surelyArc(l *line) bool {
	if bow, known := s.bowAt(l.z); known {
		return s.isArc(l) && l.curve > max(0.035*s.Water.MM, 0.9*bow)
	}
	return s.isArc(l)
}

// arcFits rewards a top that stands where it should below the far edge of the
// deposit's surface.
func (p *photo) arcFits(arc int, top *line) float64 {
	l, z := &p.lines[arc], top.z
	bow, known := p.s.bowAt(z)
	if !known {
		if d := (l.z - z) / l.curve; d > 0.5 && d < 1.6 {
			return 1
		}
		return 0
	}
	// A curve left in the top itself is an error of the bow; half of what is
	// measured, since the measure is as uncertain.
	bow = max(0, bow-0.5*top.curve)
	sd := math.Hypot(arcPerBowSD*bow, 0.012*p.s.Water.MM)
	return 2 - min(4, sq((l.z-z-arcPerBow*bow)/sd))
}

// shape gives the curve (mm, see line.curve) to look for at a height; nil
// stands for level lines.
type shape func(z float64) float64

// arcShapes are the curves the far edge of the deposit's surface may have: what
// the frame's bow says, give or take, or a range when the bow is not known.
func (s *Strip) arcShapes() []shape {
	var out []shape
	if _, known := s.bowAt(0); known {
		for _, f := range []float64{0.7, 1, 1.3} {
			out = append(out, func(z float64) float64 {
				bow, _ := s.bowAt(z)
				return max(0, f*bow*arcPerBow)
			})
		}
		return out
	}
	for _, f := range []float64{0.05, 0.075, 0.10, 0.14} {
		out = append(out, func(float64) float64 { return f * s.Water.MM })
	}
	return out
}

// trulyCurved says whether a line found along a curve fits that curve better
// than a line bent only as much as a frame may err; where the curve is small, or
// of no known size, also better than one that leans.
func (k *columns) trulyCurved(l line, r int, bowKnown bool, buf *scratch) bool {
	if l.curve == 0 {
		return false
	}
	shift := make([]int, k.n)
	win, gap := k.rows(fineWindow*k.waterMM), max(k.rows(0.0012*k.waterMM), 1)
	reach := k.rows(0.1 * l.curve)
	leans := []float64{0}
	if !bowKnown || l.curve < 0.045*k.waterMM {
		leans = []float64{0, -0.006, 0.006, -0.012, 0.012}
	}
	for _, lean := range leans {
		for c, u := range k.u {
			shift[c] = int(math.Round((0.35*l.curve*lift(u) + lean*k.waterMM*u) / k.mmPerRow))
		}
		for q := r - 1; q <= r+reach; q++ {
			if k.stepAt(q, win, gap, shift, buf).size > 0.93*l.size {
				return false
			}
		}
	}
	return true
}

// leanOnArc mends the height of a faint near edge by the far edge above it.
func (p *photo) leanOnArc(b *Boundary, top *line, arc int) {
	bow, known := p.s.bowAt(top.z)
	if !known || top.weight > 0.8 || p.arcFits(arc, top) < 0 {
		return
	}
	h := p.s.Water.MM
	seen := sq(b.SDMM) + sq(0.006*h)
	z := p.lines[arc].z - arcPerBow*max(0, bow-0.5*top.curve)
	told := sq(arcPerBowSD*bow) + sq(0.008*h)
	b.HeightMM = (b.HeightMM/seen + z/told) / (1/seen + 1/told)
	b.SDMM = math.Sqrt(1 / (1/seen + 1/told))
}

// nearEdges adds, below every far edge, the near edge it calls for, where the
// picture shows none: faint, and as uncertain as the bow.
func (p *photo) nearEdges() {
	h := p.s.Water.MM
	for _, l := range p.lines {
		if p.s.ElapsedS <= sandDownS || !p.s.surelyArc(&l) || l.size < 3 {
			continue
		}
		// z + arcPerBow*bow(z) = l.z, with bow linear in z.
		bow0, known := p.s.bowAt(0)
		bow1, _ := p.s.bowAt(l.z)
		if !known || bow1 <= 0 {
			continue
		}
		z := (l.z - arcPerBow*bow0) / (1 + arcPerBow*(bow1-bow0)/l.z)
		if z < lowestTop*h || p.lineAt(z) >= 0 {
			continue
		}
		p.lines = append(p.lines, line{
			step: step{d: [3]float64{-0.4}, size: 0.4, noise: 0.05, share: 1},
			z:    z, sd: math.Hypot(0.006*h, arcPerBowSD*bow1),
		})
	}
	sortLines(p.lines)
}
