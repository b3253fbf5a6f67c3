package jar

import (
	"math"
	"slices"

	"mudline/internal/record"
	"mudline/layers"
	"mudline/texture"
)

// observe is what the physics is told of a photo's lines.
func (s *located) observe(l layers.Reading, placed record.Lines, rec *record.Record) texture.Observation {
	depth := depthOf(rec)
	o := texture.Observation{ElapsedS: s.elapsed.Time.Seconds(), ElapsedSDS: s.elapsed.SD.Seconds(), Floating: depth.Share(l.FloatingMM)}
	o.DepositTop, o.SandTop, o.SiltTop = measured(l.DepositTop, depth), measured(l.SandTop, depth), measured(l.SiltTop, depth)
	weigh(&o, l, placed, depth)
	if c := l.Cloud; !math.IsNaN(c) {
		o.Cloud = &c
	}
	return o
}

// weigh hands the boundaries a photo might show, and the deposit's colours, to the
// physics in place of the lines chosen by eye alone; a line that a person placed
// stays.
func weigh(o *texture.Observation, l layers.Reading, placed record.Lines, depth layers.Depth) {
	for _, c := range l.Candidates {
		o.Candidates = append(o.Candidates, texture.Candidate{Share: depth.Share(c.HeightMM), SD: depth.Share(c.SDMM), SandOdds: c.SandOdds, SiltOdds: c.SiltOdds})
	}
	for _, c := range l.Shades {
		o.Shades = append(o.Shades, texture.Shade{Share: depth.Share(c.HeightMM), Lab: c.Lab})
	}
	may := func(odds func(texture.Candidate) float64) bool {
		return slices.ContainsFunc(o.Candidates, func(c texture.Candidate) bool { return odds(c) > 0 })
	}
	if placed.SandTop == nil && may(func(c texture.Candidate) float64 { return c.SandOdds }) {
		o.SandTop = nil
	}
	if placed.SiltTop == nil && may(func(c texture.Candidate) float64 { return c.SiltOdds }) {
		o.SiltTop = nil
	}
}

// plainly is the probability from which the physics' choice among the candidates is
// shown as the line in place of the one chosen by eye: less is a toss-up.
const plainly = 0.7

// choose lets the physics say which of the boundaries seen are the lines that are
// shown, so that what is drawn is what is reckoned with. It looks as if nothing had
// been stated of the lines, since one that is placed must move no other.
func choose(shots []*seen, rec *record.Record) {
	var obs []texture.Observation
	for _, s := range shots {
		obs = append(obs, s.observe(s.shown.layers, record.Lines{}, rec))
	}
	res, err := texture.Invert(obs, texture.Setup{WaterDepthMM: rec.WaterDepthMM, TempC: rec.TempC, Quick: true})
	if err != nil {
		return // the reading itself will say so
	}
	adopt(shots, res.Placed)
}

// adopt shows the candidates that are plainly lines as those.
func adopt(shots []*seen, placed []texture.Placed) {
	for _, p := range placed {
		seen := &shots[p.Photo].shown.layers
		c := seen.Candidates[p.Candidate]
		line := &seen.SandTop
		if p.Line == texture.SiltTopLine {
			line = &seen.SiltTop
		}
		if p.Probability < plainly || *line != nil && ((*line).Stated || (*line).HeightMM == c.HeightMM) {
			continue
		}
		*line = &layers.Boundary{HeightMM: c.HeightMM, SDMM: c.SDMM, WidthMM: c.WidthMM, Confidence: p.Probability}
	}
}

const (
	// innerOverOuter turns half the jar's outline, which stands a radius behind the
	// front where heights are measured, into the inner radius: 1.045 on 33 rendered
	// jars of glass 2 to 5 mm thick (0.025 standard deviation).
	innerOverOuter = 1.045
	// volumeSD is the standard deviation of the water's volume made with it, as a
	// share: other jars have other walls.
	volumeSD = 0.1
	// weighingSD is that of the soil's weight: kitchen scales, and soil not quite dry.
	weighingSD = 0.03
)

// knownOf is what the person says of how the jar was prepared.
func knownOf(shots []*shot, rec *record.Record) texture.Known {
	k := texture.Known{Dispersant: rec.Dispersant, ShakenMin: rec.ShakenMin, StonesPercent: rec.StonesPercent, OrganicPercent: rec.OrganicMatter}
	if rec.DrySoilG > 0 && rec.WaterDepthMM > 0 {
		radius := innerRadius(shots, rec.WaterDepthMM)
		litres := math.Pi * radius * radius * rec.WaterDepthMM * 1e-6
		if gl := rec.DrySoilG / litres; gl >= texture.MinSolidsGL && gl <= texture.MaxSolidsGL {
			k.SolidsGL, k.SolidsSDGL = gl, gl*math.Hypot(volumeSD, weighingSD)
		}
	}
	return k
}

// innerRadius is half the jar's inner width, mm: the middle of what the photos show.
func innerRadius(shots []*shot, depthMM float64) float64 {
	var all []float64
	for _, s := range shots {
		l, r := s.frame.At(-1, 0.5), s.frame.At(1, 0.5)
		width := math.Hypot(r.X-l.X, r.Y-l.Y)
		depth := math.Hypot(s.frame.Water.X-s.frame.Floor.X, s.frame.Water.Y-s.frame.Floor.Y)
		all = append(all, innerOverOuter*width/depth*depthMM/2)
	}
	slices.Sort(all)
	return all[len(all)/2]
}
