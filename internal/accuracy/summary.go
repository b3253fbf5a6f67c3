package main

import (
	"fmt"
	"math"
	"sort"

	"mudline/internal/jar"
	"mudline/internal/jartest"
	"mudline/internal/reading"
)

// summary gathers errors over all jars.
type summary struct {
	photos, found           int
	edges, tops, interfaces []float64 // percent of the width, of the water depth
	floors, waters          []float64 // percent of the water depth
	unseenTops, notTold     int
	tellable                int
	fractions, ruler        []float64 // points
	widths                  []float64
	covered, intervals      int
	firstNamed, inNinety    int
	jars, wrongSure         int
	failed                  []string
	topSigmas, faceSigmas   []float64
	fewFractions            []float64 // jars with fewer than three photos
}

func (s *summary) add(t *jartest.Truth, res *jar.Result, err error, photos bool) {
	s.jars++
	s.photos += len(t.Photos)
	if err != nil {
		s.failed = append(s.failed, fmt.Sprintf("%s: %v", t.Name, err))
		return
	}
	for i, p := range t.Photos {
		s.addPhoto(t, p, res.Reading.Photos[i], i == len(t.Photos)-1, photos)
	}
	s.addFractions(t, res.Reading)
}

func (s *summary) addPhoto(t *jartest.Truth, p jartest.TruthPhoto, got reading.Photo, last, show bool) {
	l, r := p.Rows.EdgeLeft, p.Rows.EdgeRight
	width := r[0] - l[0]
	e := got.EdgesPx
	// The edges are compared on the truth's rows, along the jar's sides.
	edge := math.Max(math.Abs(e[0][0]-l[0]), math.Abs(e[1][0]-r[0])) / width * 100
	s.edges = append(s.edges, edge)
	if edge <= 3 {
		s.found++
	}
	base, water := p.Rows.Points["inner_base"], p.Rows.Points["water_surface"]
	px := base.Row - water.Row
	s.floors = append(s.floors, (*got.RowsPx.Floor-base.Row)/px*100)
	s.waters = append(s.waters, (*got.RowsPx.Water-water.Row)/px*100)
	line := fmt.Sprintf("  %-26s edge %4.1f %% floor %+5.2f water %+5.2f", p.File, edge, s.floors[len(s.floors)-1], s.waters[len(s.waters)-1])
	h := got.HeightsMM
	top, sd := difference(h.DepositTop, p.FacingHeights.DepositTop)
	if math.IsNaN(top) {
		s.unseenTops++
	} else {
		s.tops = append(s.tops, math.Abs(top)/t.WaterHeightMM*100)
		s.topSigmas = append(s.topSigmas, math.Abs(top/sd))
	}
	line += fmt.Sprintf(" | top %s", show1(top, sd, p.FacingHeights.DepositTop))
	for _, b := range []struct {
		name  string
		got   *reading.Height
		truth *float64
	}{{"sand", h.SandTop, p.FacingHeights.SandSilt}, {"silt", h.SiltTop, p.FacingHeights.SiltClay}} {
		d, sd := difference(b.got, b.truth)
		line += fmt.Sprintf(" %s %s", b.name, show1(d, sd, b.truth))
		if !last {
			continue
		}
		if b.truth != nil {
			s.tellable++
		}
		if math.IsNaN(d) {
			s.notTold++
			continue
		}
		s.interfaces = append(s.interfaces, math.Abs(d)/t.WaterHeightMM*100)
		s.faceSigmas = append(s.faceSigmas, math.Abs(d/sd))
	}
	if show {
		fmt.Println(line)
	}
}

func show1(d, sd float64, truth *float64) string {
	at := math.NaN()
	if truth != nil {
		at = *truth
	}
	if math.IsNaN(d) {
		return fmt.Sprintf("   -  /  -  (%5.1f)", at)
	}
	return fmt.Sprintf("%+5.2f/%4.2f (%5.1f)", d, sd, at)
}

func difference(got *reading.Height, truth *float64) (d, sd float64) {
	if got == nil || truth == nil {
		return math.NaN(), math.NaN()
	}
	return got.Value - *truth, got.SD
}

func (s *summary) addFractions(t *jartest.Truth, r reading.Reading) {
	f := r.Fractions
	if f == nil {
		s.failed = append(s.failed, t.Name+": no fractions")
		return
	}
	truth := [3]float64{t.Soil.SandPct, t.Soil.SiltPct, t.Soil.ClayPct}
	ruler := [3]float64{t.ThicknessPct.Sand, t.ThicknessPct.Silt, t.ThicknessPct.Clay}
	var mine, theirs float64
	for i, e := range []reading.Estimate{f.Sand, f.Silt, f.Clay} {
		mine += math.Abs(e.Percent-truth[i]) / 3
		theirs += math.Abs(ruler[i]-truth[i]) / 3
		s.widths = append(s.widths, e.High-e.Low)
		s.intervals++
		if e.Low <= truth[i] && truth[i] <= e.High {
			s.covered++
		}
	}
	if len(t.Photos) >= 3 {
		s.fractions = append(s.fractions, mine)
		s.ruler = append(s.ruler, theirs)
	} else {
		s.fewFractions = append(s.fewFractions, mine)
	}
	name, p := "none", 0.0
	if r.Class != nil {
		name, p = r.Class.Name, r.Class.Probability
		if name == t.Soil.USDAClass {
			s.firstNamed++
		} else if p >= 0.9 {
			s.wrongSure++
		}
		if amongNinety(*r.Class, t.Soil.USDAClass) {
			s.inNinety++
		}
	}
	fmt.Printf("%-10s %d photos  truth %4.1f/%4.1f/%4.1f  read %4.1f/%4.1f/%4.1f  error %4.1f (a perfect ruler %4.1f)  %s, read %s %.2f\n",
		t.Name, len(t.Photos), truth[0], truth[1], truth[2], f.Sand.Percent, f.Silt.Percent, f.Clay.Percent, mine, theirs, t.Soil.USDAClass, name, p)
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

func (s *summary) print() {
	for _, f := range s.failed {
		fmt.Println("NOT READ", f)
	}
	fmt.Printf("jar found, both edges within 3 %% of its width: %d of %d photos (%.1f %%; bar 97)\n", s.found, s.photos, 100*float64(s.found)/float64(s.photos))
	fmt.Printf("floor row, %% of depth:  %s\n", quantiles(absolute(s.floors)))
	fmt.Printf("water row, %% of depth:  %s\n", quantiles(absolute(s.waters)))
	fmt.Printf("deposit top, %% of depth: %s (bars 0.7, 2.5); not seen in %d\n", quantiles(s.tops), s.unseenTops)
	fmt.Printf("interfaces of the last photo, %% of depth: %s (bars 1.5, 5); not told apart %d of %d\n", quantiles(s.interfaces), s.notTold, s.tellable)
	fmt.Printf("errors in standard deviations: deposit top %s; interfaces %s\n", quantiles(s.topSigmas), quantiles(s.faceSigmas))
	if len(s.fractions) > 0 {
		fmt.Printf("fractions, jars of 3 photos and more: mean absolute error %.2f points (bar 4.5); a perfect ruler %.2f\n", mean(s.fractions), mean(s.ruler))
	}
	if len(s.fewFractions) > 0 {
		fmt.Printf("fractions, jars of fewer photos: mean absolute error %.2f points\n", mean(s.fewFractions))
	}
	fmt.Printf("90 %% intervals hold the truth in %.0f %% (bar 85-97), median width %.1f points\n", 100*float64(s.covered)/math.Max(float64(s.intervals), 1), quantile(s.widths, 0.5))
	fmt.Printf("class named first %d of %d (bar 70 %%), among 90 %% of probability %d (bar 92 %%), wrong with probability 0.9 or more %d (bar 0)\n", s.firstNamed, s.jars, s.inNinety, s.wrongSure)
}

func absolute(v []float64) []float64 {
	out := make([]float64, len(v))
	for i, x := range v {
		out[i] = math.Abs(x)
	}
	return out
}

func quantiles(v []float64) string {
	return fmt.Sprintf("median %.2f, 90th percentile %.2f, worst %.2f of %d", quantile(v, 0.5), quantile(v, 0.9), quantile(v, 1), len(v))
}

func quantile(v []float64, q float64) float64 {
	if len(v) == 0 {
		return math.NaN()
	}
	s := append([]float64(nil), v...)
	sort.Float64s(s)
	return s[min(int(q*float64(len(s))), len(s)-1)]
}

func mean(v []float64) float64 {
	var sum float64
	for _, x := range v {
		sum += x
	}
	return sum / float64(len(v))
}
