package jar

import (
	"math"
	"slices"

	"mudline/internal/record"
	"mudline/texture"
)

// weigh hands the boundaries a photo might show to the physics in place of the
// lines chosen by eye alone; a line that a person placed stays.
func (s *shot) weigh(o *texture.Observation, rec *record.Record, k float64) {
	placed := rec.Photos[s.file].Lines
	for _, c := range s.layers.Candidates {
		o.Candidates = append(o.Candidates, texture.Candidate{MM: c.HeightMM * k, SDMM: c.SDMM * k, SandOdds: c.SandOdds, SiltOdds: c.SiltOdds})
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
