package jar

import (
	"errors"
	"math"
	"slices"

	"mudline/imaging"
	"mudline/internal/record"
	"mudline/internal/words"
	"mudline/layers"
)

// What a person states never moves a line that they did not touch. So the lines
// are first looked for as if nothing had been stated, and keep the rows of the
// photo at which they were seen. Then their heights are told in the frame that
// the stated floor, water and edges make, and stated lines take the place of
// theirs. Combine and Preview both do that.

// shown is what one photo shows: its lines, and the frame their heights are told in.
type shown struct {
	layers    layers.Reading
	frame     imaging.Frame
	depth     layers.Depth // that they are told by
	frameSDMM float64
}

// tellLines tells the lines seen in all photos, with what was stated of them.
func tellLines(jars []*seen, rec *record.Record) ([]*shot, error) {
	shots := make([]*shot, len(jars))
	for i, j := range jars {
		told, err := j.tell(rec)
		if err != nil {
			return nil, err
		}
		shots[i] = told
	}
	yieldToStated(shots, rec, layers.SandTop)
	yieldToStated(shots, rec, layers.SiltTop)
	for i, s := range shots {
		s.layers.Notes = layers.NotesOn(s.layers, depthOf(rec), i == len(shots)-1)
		s.outline = s.outlineNow()
	}
	return shots, nil
}

func (s *seen) tell(rec *record.Record) (*shot, error) {
	depth := depthOf(rec)
	stated, err := s.statedLayers(rec)
	if err != nil {
		return nil, err
	}
	if wrong := stated.Sound(depth); !wrong.IsZero() {
		return nil, unsound(s.file, wrong, words.Say("do.state-in-order"))
	}
	out := &shot{seen: *s}
	out.stated = slices.Clone(s.stated)
	r := s.shown.layers
	r.FloatingMM *= depth.MM / s.shown.depth.MM
	lines := rec.Photos[s.file].Lines
	for _, top := range layers.Tops {
		s.retell(r.Place(top), depth.MM)
		if said := *lines.Place(top); said != nil {
			out.stated = append(out.stated, top)
			if said.None {
				*r.Place(top) = nil
			}
		}
	}
	s.retellDeposit(&r, &lines, depth.MM)
	told, conflicts := r.With(stated, layers.StatedSDMM(s.frameSDMM(depth.MM), depth))
	out.layers = told
	for _, c := range conflicts {
		both := []words.Arg{line("found", c.Found), depth.Tell("found_at", c.FoundMM, 1), line("placed", c.Placed), depth.Tell("placed_at", c.PlacedMM, 1)}
		if c.Found == layers.DepositTop {
			return nil, record.MistakeIn(s.file, "lines", words.Say("jar.line-contradicts", append(both, words.Told("todo", words.Say("do.correct-or-place-soil-top", record.PhotoArgs(s.file)...)))...))
		}
		out.gaveWay = append(out.gaveWay, words.Say("jar.line-gave-way", both...))
	}
	return out, nil
}

// line names a line in a message.
func line(arg string, name layers.Line) words.Arg {
	return words.Word(arg, "the-line", string(name))
}

// retell tells the height of a line, seen in the frame it was found in, in the
// present one: its row stays. A line that is off the present jar is dropped.
func (s *seen) retell(line **layers.Boundary, depthMM float64) {
	if *line == nil || (*line).Stated { // stated lines are put in anew
		*line = nil
		return
	}
	b := **line
	k := depthMM / s.shown.depth.MM
	h := s.shown.depth.Share(b.HeightMM)
	if s.frame != s.shown.frame {
		h = s.frame.HeightOfRow(s.shown.frame.At(0, h).Y)
	}
	if math.IsNaN(h) || h < 0 || h > 1 {
		*line = nil
		return
	}
	// What of its doubt was the frame's is now that of the present frame.
	own := max(0, b.SDMM*b.SDMM-s.shown.frameSDMM*s.shown.frameSDMM)
	b.HeightMM, b.WidthMM = h*depthMM, b.WidthMM*k
	b.SDMM = math.Hypot(math.Sqrt(own)*k, s.frameSDMM(depthMM))
	*line = &b
}

// retellDeposit tells the candidates and the shades of the deposit in the present
// frame. A line that is said not to be there has none.
func (s *seen) retellDeposit(r *layers.Reading, lines *record.Lines, depthMM float64) {
	none := func(l *record.Line) bool { return l != nil && l.None }
	candidates := r.Candidates
	r.Candidates = nil
	for _, c := range candidates {
		b := &layers.Boundary{HeightMM: c.HeightMM, SDMM: c.SDMM, WidthMM: c.WidthMM}
		if s.retell(&b, depthMM); b == nil {
			continue
		}
		c.HeightMM, c.SDMM, c.WidthMM = b.HeightMM, b.SDMM, b.WidthMM
		if none(lines.SandTop) {
			c.SandOdds = 0
		}
		if none(lines.SiltTop) {
			c.SiltOdds = 0
		}
		r.Candidates = append(r.Candidates, c)
	}
	shades := r.Shades
	r.Shades = nil
	for _, x := range shades {
		b := &layers.Boundary{HeightMM: x.HeightMM}
		if s.retell(&b, depthMM); b != nil {
			x.HeightMM = b.HeightMM
			r.Shades = append(r.Shades, x)
		}
	}
}

// statedLayers are the lines within the water that a person placed.
func (s *framed) statedLayers(rec *record.Record) (stated layers.Lines, err error) {
	lines := rec.Photos[s.file].Lines
	for _, top := range layers.Tops {
		said := *lines.Place(top)
		if said == nil || said.None {
			continue
		}
		h, err := s.heightOf(said, top, rec)
		if err != nil {
			return stated, err
		}
		mm := h * depthOf(rec).MM
		*stated.Place(top) = &mm
	}
	return stated, nil
}

// inOrder are the lines for the physics, in which layers follow each other
// upwards: one that was found on the wrong side of one that was placed, but
// within its doubt, is level with that.
func (s *shot) inOrder() layers.Reading {
	r := s.layers
	for i, top := range layers.Tops {
		found := r.Place(top)
		if *found == nil || (*found).Stated {
			continue
		}
		b := **found
		for j, other := range layers.Tops {
			if p := *r.Place(other); p != nil && p.Stated {
				if j < i {
					b.HeightMM = max(b.HeightMM, p.HeightMM)
				} else {
					b.HeightMM = min(b.HeightMM, p.HeightMM)
				}
			}
		}
		*found = &b
	}
	return r
}

// yieldToStated takes back a line found in other photos where it lies far from
// the same line as a person placed it: it was another line that was seen.
func yieldToStated(shots []*shot, rec *record.Record, name layers.Line) {
	for _, s := range shots {
		placed := *s.layers.Place(name)
		if placed == nil || !placed.Stated {
			continue
		}
		for _, o := range shots {
			found := o.layers.Place(name)
			if *found != nil && (*found).Stated {
				continue
			}
			o.passOver(name, placed)
			if *found == nil {
				continue
			}
			if elsewhere((*found).HeightMM, (*found).SDMM, placed) {
				o.gaveWay = append(o.gaveWay, words.Say("jar.line-gave-way-elsewhere", line("found", name),
					depthOf(rec).Tell("found_at", (*found).HeightMM, 1), depthOf(rec).Tell("placed_at", placed.HeightMM, 1), words.Name("file", s.file)))
				*found = nil
			}
		}
	}
}

// elsewhere says whether a height is not that of a placed line.
func elsewhere(mm, sdMM float64, placed *layers.Boundary) bool {
	return math.Abs(mm-placed.HeightMM) > 3*math.Hypot(sdMM, placed.SDMM)
}

// passOver takes the odds of a line, placed in another photo, from the candidates
// that lie elsewhere.
func (s *shot) passOver(name layers.Line, placed *layers.Boundary) {
	for i := range s.layers.Candidates {
		c := &s.layers.Candidates[i]
		switch {
		case !elsewhere(c.HeightMM, c.SDMM, placed):
		case name == layers.SandTop:
			c.SandOdds = 0
		case name == layers.SiltTop:
			c.SiltOdds = 0
		}
	}
}

// curable says whether what was stated may show lines where the picture by
// itself showed none.
func curable(err error, shots []*framed, rec *record.Record) bool {
	var r *layers.Refusal
	if !errors.As(err, &r) || r.Code != layers.RefusedNoDeposit && r.Code != layers.RefusedStillMixed {
		return false
	}
	for _, s := range shots {
		l := rec.Photos[s.file].Lines
		if l.Floor != nil || l.Water != nil || l.Left != nil || l.Right != nil || l.DepositTop != nil && !l.DepositTop.None {
			return true
		}
	}
	return false
}
