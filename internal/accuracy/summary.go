package main

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"mudline/internal/jartest"
	"mudline/internal/reading"
)

// summary gathers errors over all jars of a set in one mode.
type summary struct {
	jars, photos int
	refused      []string // jars without a reading or without percentages, and why

	edges, floors, waters []float64 // percent of the jar's width; of the water depth
	unwarned              int       // edges off by more than farOff without a warning
	tops, topSDs          []float64 // percent of the depth, standard deviations
	topsUnseen            int

	lines, lineSDs       []float64
	said, missed, untrue int
	tellable             int

	fractions, withRefused []float64 // points, jars read and all jars
	series, ruler          []float64 // of jars of 3 photos and more
	widths                 []float64
	covered, intervals     int
	first, ninety, sure    int // class named first, among 90 %, wrong with 90 % and more
	firm                   int // class named with 90 % and more
	likely, likelyRight    int // with reading.Enough and more, and of these the true one

	leftOut []string // photos without which a jar was read

	moves         moves
	here, unaided []float64 // points, of jars read in this mode and unaided too
}

const (
	found  = 3  // percent of the width within which an edge counts as found
	farOff = 10 // and from which a person must be warned
	near   = 3  // percent of the depth within which a line said is a true one
)

func (s *summary) add(t *jartest.Truth, g got, show bool) {
	s.jars++
	s.photos += len(t.Photos)
	r := g.reading
	if g.err != nil || r.Fractions == nil {
		why := "no percentages"
		if g.err != nil {
			why = g.err.Error()
		}
		s.refused = append(s.refused, t.Name+": "+why)
		s.withRefused = append(s.withRefused, errorOf(t, [3]float64{100. / 3, 100. / 3, 100. / 3}))
	}
	if g.err != nil {
		return
	}
	for i, p := range t.Photos {
		got := photoOf(r, p.File)
		if got == nil {
			s.leftOut = append(s.leftOut, p.File)
			continue
		}
		line := s.addPhoto(t, p, r, *got)
		if i == len(t.Photos)-1 {
			line += s.addLines(t, p, *got)
		}
		if show {
			fmt.Printf("  %-26s %s\n", p.File, line)
		}
		if g.unaided == nil {
			continue
		}
		if before := photoOf(*g.unaided, p.File); before != nil {
			s.moves.add(t, p, *before, *got)
		}
	}
	if r.Fractions != nil {
		s.addFractions(t, g)
	}
	if u := g.unaided; u != nil && u.Fractions != nil && r.Fractions != nil {
		s.here, s.unaided = append(s.here, errorOf(t, percents(r))), append(s.unaided, errorOf(t, percents(*u)))
	}
}

// photoOf is what was read in a photo; nil where it was left out.
func photoOf(r reading.Reading, file string) *reading.Photo {
	i := slices.IndexFunc(r.Photos, func(p reading.Photo) bool { return p.File == file })
	if i < 0 {
		return nil
	}
	return &r.Photos[i]
}

// addPhoto compares the glass, the floor, the water and the deposit's top.
func (s *summary) addPhoto(t *jartest.Truth, p jartest.TruthPhoto, r reading.Reading, got reading.Photo) string {
	l, right := p.Rows.EdgeLeft[0], p.Rows.EdgeRight[0]
	e := got.EdgesPx
	edge := math.Max(math.Abs(e[0][0]-l), math.Abs(e[1][0]-right)) / (right - l) * 100
	s.edges = append(s.edges, edge)
	if edge > farOff && !warnedOfPlace(r, p.File) {
		s.unwarned++
	}
	floor, water := p.Rows.Points["inner_base"].Row, p.Rows.Points["water_surface"].Row
	floorOff, waterOff := (*got.RowsPx.Floor-floor)/(floor-water)*100, (*got.RowsPx.Water-water)/(floor-water)*100
	s.floors, s.waters = append(s.floors, math.Abs(floorOff)), append(s.waters, math.Abs(waterOff))
	off, sd := difference(got.HeightsMM.DepositTop, p.FacingHeights.DepositTop)
	if math.IsNaN(off) {
		s.topsUnseen++
	} else {
		s.tops, s.topSDs = append(s.tops, math.Abs(off)/t.WaterHeightMM*100), append(s.topSDs, math.Abs(off/sd))
	}
	return fmt.Sprintf("edge %4.1f %% floor %+5.2f water %+5.2f | top %s", edge, floorOff, waterOff, apart(off, sd, p.FacingHeights.DepositTop))
}

// warnedOfPlace says whether a person was told that the jar may stand elsewhere.
func warnedOfPlace(r reading.Reading, file string) bool {
	for _, w := range r.Warnings {
		if strings.Contains(w.Text, file) && (strings.Contains(string(w.Code), "jar") || strings.Contains(string(w.Code), "edge") || strings.Contains(string(w.Code), "outline")) {
			return true
		}
	}
	return false
}

// addLines compares the lines within the soil of the last photo.
func (s *summary) addLines(t *jartest.Truth, p jartest.TruthPhoto, got reading.Photo) (line string) {
	h := p.FacingHeights
	for _, b := range []struct {
		name  string
		got   *reading.Height
		truth *float64
	}{{"sand", got.HeightsMM.SandTop, h.SandSilt}, {"silt", got.HeightsMM.SiltTop, h.SiltClay}} {
		off, sd := difference(b.got, b.truth)
		line += fmt.Sprintf(" %s %s", b.name, apart(off, sd, b.truth))
		if b.truth != nil {
			s.tellable++
			if b.got == nil {
				s.missed++
			} else {
				s.lines, s.lineSDs = append(s.lines, math.Abs(off)/t.WaterHeightMM*100), append(s.lineSDs, math.Abs(off/sd))
			}
		}
		if b.got == nil {
			continue
		}
		s.said++
		if !isNear(b.got.Value, h.SandSilt, t.WaterHeightMM) && !isNear(b.got.Value, h.SiltClay, t.WaterHeightMM) {
			s.untrue++
		}
	}
	return line
}

func isNear(mm float64, truth *float64, depthMM float64) bool {
	return truth != nil && math.Abs(mm-*truth) <= near*depthMM/100
}

// addFractions compares sand, silt and clay and prints the jar's line.
func (s *summary) addFractions(t *jartest.Truth, g got) {
	f, read := g.reading.Fractions, percents(g.reading)
	truth := soilOf(t)
	for i, e := range []reading.Estimate{f.Sand, f.Silt, f.Clay} {
		s.widths = append(s.widths, e.High-e.Low)
		s.intervals++
		if e.Low <= truth[i] && truth[i] <= e.High {
			s.covered++
		}
	}
	mine, ruler := errorOf(t, read), errorOf(t, [3]float64{t.ThicknessPct.Sand, t.ThicknessPct.Silt, t.ThicknessPct.Clay})
	s.fractions, s.withRefused = append(s.fractions, mine), append(s.withRefused, mine)
	if len(t.Photos) >= 3 {
		s.series, s.ruler = append(s.series, mine), append(s.ruler, ruler)
	}
	name, p := s.addClass(g.reading.Class, t.Soil.USDAClass)
	fmt.Printf("%-10s %-10s %d photos  truth %4.1f/%4.1f/%4.1f  read %4.1f/%4.1f/%4.1f  error %4.1f (a perfect ruler %4.1f)  %s, read %s %.2f\n",
		t.Name, g.mode, len(t.Photos), truth[0], truth[1], truth[2], read[0], read[1], read[2], mine, ruler, t.Soil.USDAClass, name, p)
}

func (s *summary) addClass(c *reading.Class, truth string) (name string, p float64) {
	if c == nil {
		return "none", 0
	}
	if c.Probability >= 0.9 {
		s.firm++
	}
	if c.Probability >= reading.Enough {
		s.likely++
		if c.Name == truth {
			s.likelyRight++
		}
	}
	switch {
	case c.Name == truth:
		s.first++
	case c.Probability >= 0.9:
		s.sure++
	}
	if amongNinety(*c, truth) {
		s.ninety++
	}
	return c.Name, c.Probability
}

// amongNinety tells whether a class is among the likeliest that together make
// up 90 % of the probability.
func amongNinety(c reading.Class, name string) bool {
	if c.Name == name {
		return true
	}
	sum := c.Probability
	for _, o := range c.Others {
		if sum >= 0.9 {
			return false
		}
		if o.Name == name {
			return true
		}
		sum += o.Probability
	}
	return false
}

func soilOf(t *jartest.Truth) [3]float64 {
	return [3]float64{t.Soil.SandPct, t.Soil.SiltPct, t.Soil.ClayPct}
}

// percents are the sand, silt and clay of a reading that has them.
func percents(r reading.Reading) [3]float64 {
	return [3]float64{r.Fractions.Sand.Percent, r.Fractions.Silt.Percent, r.Fractions.Clay.Percent}
}

// errorOf is the mean absolute error of three percentages, in points.
func errorOf(t *jartest.Truth, read [3]float64) (points float64) {
	for i, v := range soilOf(t) {
		points += math.Abs(read[i]-v) / 3
	}
	return points
}
