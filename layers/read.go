package layers

import "math"

// Read finds the boundaries in all photos of one jar, given in order of time.
// Lines a person stated win over what is seen. The error is a *Refusal when
// the photos do not show what is asked for.
func Read(strips []Strip) ([]Reading, error) {
	if err := check(strips); err != nil {
		return nil, err
	}
	ps := make([]*photo, len(strips))
	for i := range strips {
		ps[i] = newPhoto(&strips[i])
	}
	c := choose(ps)
	if err := refuse(ps, c); err != nil {
		return nil, err
	}
	out := make([]Reading, len(ps))
	for i, p := range ps {
		p.readTop(&out[i], c.top[i], c.rival[i])
		p.readWater(&out[i], c.top[i])
	}
	in := lookInside(ps, c, out)
	in.nameSand(ps, out)
	in.nameSilt(ps, out)
	in.handOn(ps, out)
	readGrain(ps, out)
	for i, p := range ps {
		p.applyStated(&out[i])
		p.addNotes(&out[i], i == len(ps)-1)
	}
	return out, nil
}

func newPhoto(s *Strip) *photo {
	p := &photo{s: s, k: newColumns(s)}
	p.buf = newScratch(p.k.n)
	p.lines, p.noise = p.k.lines(s, p.buf)
	p.nearEdges()
	p.weigh()
	p.grain = p.k.grainTop()
	if s.Stated.DepositTop != nil {
		p.lines = append(p.lines, statedLine(max(*s.Stated.DepositTop, lowestLine*s.Water.MM/2)))
		p.weigh()
		p.tops = []int{len(p.lines) - 1}
		return p
	}
	for i := range p.lines {
		l := &p.lines[i]
		if s.surelyArc(l) || l.z > highestTop*s.Water.MM {
			continue
		}
		if l.z < lowestTop*s.Water.MM && (l.d[0] < 0 || l.z < lowestLine*s.Water.MM/2) {
			continue // the dark foot comes into the window
		}
		if l.weight < leastWeight {
			continue
		}
		p.tops = append(p.tops, i)
	}
	p.tops = append(p.tops, unseen)
	return p
}

// Where a deposit's top is looked for, as shares of the water depth.
const (
	lowestTop  = 0.017
	highestTop = 0.65
)

// readTop turns the chosen line into the deposit's top.
func (p *photo) readTop(r *Reading, t int, rival []float64) {
	if t == unseen {
		return
	}
	h := p.s.Water.MM
	l := p.lines[t]
	b := p.boundary(&l, 0.0015)
	b.Confidence = max(0.3, min(0.95, 0.3+0.35*p.evidence(&l)))
	if arc := p.arcAbove(l.z); arc >= 0 {
		p.leanOnArc(b, &l, arc)
	}
	if bare := l.d[0] > 0 && p.s.ElapsedS <= sandDownS; bare {
		// Sand under mud, with a film of silt between that is too thin to
		// make a line of its own: the deposit begins where the change does.
		if z, ok := p.onset(&l); ok && z > l.z {
			b.HeightMM = z
			b.SDMM = math.Hypot(b.SDMM, 0.0045*h)
			b.WidthMM = max(b.WidthMM, 2*(z-l.z))
		} else {
			b.SDMM = math.Hypot(b.SDMM, 0.006*h)
		}
	}
	wrong, sd := p.doubt(rival, t)
	b.Confidence *= 1 - wrong
	b.SDMM = math.Hypot(b.SDMM, sd)
	r.DepositTop = b
}

// boundary is a line as a reading; own is the standard deviation any line has
// beside its fit and the frame's, as a share of the water depth.
func (p *photo) boundary(l *line, own float64) *Boundary {
	h := p.s.Water.MM
	faint := 0.008 * max(0, 1.2-l.weight)
	sd := math.Sqrt(sq(l.sd) + sq(p.s.FrameSDMM) + sq(own*h) + sq(faint*h))
	return &Boundary{HeightMM: l.z, SDMM: sd, WidthMM: p.width(l), Contrast: l.size}
}

// width is how far a change is spread (10 to 90 %), from how much more of it a
// wide window sees than a fine one.
func (p *photo) width(l *line) float64 {
	h := p.s.Water.MM
	fine := fineWindow * h
	wide := p.k.stepAt(p.k.row(l.z), p.k.rows(wideWindow*h), 1, nil, p.buf)
	if l.size <= 0 {
		return fine
	}
	return fine * max(0.5, min(4, 2*wide.size/l.size-1))
}

// couldBe says whether a line lies on the front of the glass near a height.
func (p *photo) couldBe(l *line, z float64) bool {
	return math.Abs(l.z-z) < sameLine*p.s.Water.MM && !p.s.isArc(l)
}

// lineAt is the clearest line on the front of the glass near a height, or -1.
func (p *photo) lineAt(z float64) int {
	best := -1
	for i := range p.lines {
		l := &p.lines[i]
		if p.couldBe(l, z) && (best < 0 || l.size > p.lines[best].size) {
			best = i
		}
	}
	return best
}

// sameLine is how far a line may stand from one photo to the next and still be
// the same, as a share of the water depth.
const sameLine = 0.012
