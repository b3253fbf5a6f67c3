package jar

import (
	"math"
	"strings"

	"mudline/imaging"
	"mudline/internal/reading"
	"mudline/internal/record"
	"mudline/layers"
	"mudline/texture"
)

// assumedTempC stands in for the water's temperature where it is not stated.
const assumedTempC = texture.RoomTempC

// assemble runs the settling physics on what was seen and writes the reading; from
// the last one of the jar while a line is being dragged, else nil. rec is with the water
// depth that sheets tell where none was stated.
func assemble(shots []*shot, rec *record.Record, behind *behind, eng imaging.Engine, warnings []reading.Warning, from *Result) (*Result, error) {
	res := &Result{shots: shots}
	r := &res.Reading
	r.Version, r.Jar, r.Stated, r.Engine = reading.Version, rec.Name, behind.stated(rec), eng.Name()
	r.TempC, r.TempFrom = assumedTempC, "assumed"
	if rec.TempC != nil {
		r.TempC, r.TempFrom = *rec.TempC, "stated"
	}
	if rec.WaterDepthMM > 0 {
		r.WaterDepthMM = reading.Ptr(rec.WaterDepthMM)
	}
	behind.report(r)
	for _, s := range shots {
		p := s.report(rec)
		p.Sheet = s.sheetReport()
		r.Photos = append(r.Photos, p)
		res.Scenes = append(res.Scenes, Scene{File: s.file, Picture: s.photo.Picture, Scale: s.photo.Scale, Frame: s.frame})
	}
	system, err := systemOf(rec)
	if err != nil {
		return nil, err
	}
	r.System = system.String()
	taper := taperOf(shots)
	found, err := invert(shots, rec, system, taper, from)
	if err != nil {
		return nil, err
	}
	tex := tellable(found)
	res.tex = tex
	if tex != nil {
		ruled(tex, shots[len(shots)-1].inOrder(), taper, depthOf(rec).MM)
		fillTexture(r, tex)
	}
	if r.ByThickness == nil {
		r.ByThickness = partRuler(shots[len(shots)-1].inOrder())
	}
	if last := shots[len(shots)-1].inOrder(); taper != 0 && r.ByVolume != nil {
		r.ByVolume = volumes(last, taper, depthOf(rec).MM)
	}
	r.Colours = coloursOf(lastPictured(shots), depthOf(rec).MM)
	r.Warnings = append(r.Warnings, doubts(shots, rec, found)...)
	r.Warnings = append(r.Warnings, taperDoubt(taper, rec)...)
	r.Warnings = append(r.Warnings, behind.doubts(shots, rec)...)
	r.Warnings = append(r.Warnings, warnings...)
	return res, ground(r, rec, system, tex, shots[len(shots)-1])
}

// lastPictured is the last photo whose picture was kept.
func lastPictured(shots []*shot) *shot {
	for i := len(shots) - 1; i > 0; i-- {
		if shots[i].photo.Picture != nil {
			return shots[i]
		}
	}
	return shots[0]
}

func systemOf(rec *record.Record) (texture.System, error) {
	if rec.System == "" {
		return texture.USDA, nil
	}
	return texture.ParseSystem(rec.System)
}

// report is what one photo shows, in full pixels and millimetres.
func (s *shot) report(rec *record.Record) reading.Photo {
	depth := depthOf(rec)
	f := s.frame.Scaled(s.photo.Scale)
	q := s.photo.Quality
	l, r := f.At(-1, 0.5), f.At(1, 0.5)
	row := func(b *layers.Boundary) *float64 {
		if b == nil {
			return nil
		}
		return reading.Ptr(f.At(0, depth.Share(b.HeightMM)).Y)
	}
	p := reading.Photo{
		File: s.file, ElapsedS: s.elapsed.Time.Seconds(), ElapsedFrom: s.elapsed.From, ElapsedSDS: s.elapsed.SD.Seconds(),
		SizePx:         [2]int{s.photo.FullW, s.photo.FullH},
		TurnedDeg:      s.photo.TurnedDeg,
		JarProbability: s.jarProbability(),
		CentreLinePx:   &[2]reading.PointPx{{f.Floor.X, f.Floor.Y}, {f.Water.X, f.Water.Y}},
		EdgesPx:        &[2]reading.PointPx{{l.X, l.Y}, {r.X, r.Y}},
		RowsPx: reading.Rows{Floor: reading.Ptr(f.Floor.Y), Water: reading.Ptr(f.Water.Y), Meniscus: reading.Ptr(f.At(0, 1+MeniscusMM/depth.MM).Y),
			SandTop: row(s.layers.SandTop), SiltTop: row(s.layers.SiltTop), DepositTop: row(s.layers.DepositTop), HazeTop: row(s.layers.HazeTop)},
		HeightsPercent: heights(&s.layers, 100/depth.MM),
		Stated:         keysOf(s.stated), Placed: placed(rec.Photos[s.file].Lines),
		Cloud:   reading.Ptr(s.layers.Cloud),
		Quality: reading.Quality{Sharpness: q.Sharpness, Brightness: q.Brightness, BlownOut: q.BlownOut, Black: q.Black},
	}
	if s.layers.FloatingMM > 0 && !depth.Supposed {
		p.FloatingMM = reading.Ptr(s.layers.FloatingMM)
	}
	if !depth.Supposed {
		p.HeightsMM = heights(&s.layers, 1)
	}
	return p
}

// placed is what a person stated of the lines, in their words, by the lines'
// names in a reading.
func placed(lines record.Lines) map[string]string {
	out := map[string]string{}
	for _, name := range record.LineNames {
		if l := *lines.Place(name); l != nil {
			out[name.Key()] = l.String()
		}
	}
	if len(out) == 0 {
		return nil
	}
	return out
}

// keysOf are the names of lines in a reading.
func keysOf(lines []layers.Line) (keys []string) {
	for _, l := range lines {
		keys = append(keys, l.Key())
	}
	return keys
}

// heights are those of a photo's lines, times k.
func heights(r *layers.Reading, k float64) *reading.Heights {
	of := func(b *layers.Boundary) *reading.Height {
		if b == nil {
			return nil
		}
		h := &reading.Height{Value: b.HeightMM * k, SD: b.SDMM * k}
		if b.WidthMM > 0 {
			h.Width = reading.Ptr(b.WidthMM * k)
		}
		return h
	}
	return &reading.Heights{DepositTop: of(r.DepositTop), SandTop: of(r.SandTop), SiltTop: of(r.SiltTop), HazeTop: of(r.HazeTop)}
}

// invert runs the settling physics; nil where not a single line was seen.
func invert(shots []*shot, rec *record.Record, system texture.System, taper float64, from *Result) (*texture.Result, error) {
	setup := texture.Setup{WaterDepthMM: rec.WaterDepthMM, TempC: rec.TempC, System: system, Walls: wallsOf(taper, rec.WaterDepthMM),
		Known: knownOf(shots, rec), Quick: from != nil}
	if from != nil {
		setup.From = from.tex
	}
	var obs []texture.Observation
	seen := false
	for _, s := range shots {
		o := s.observe(s.inOrder(), rec.Photos[s.file].Lines, rec)
		seen = seen || o.DepositTop != nil || o.SandTop != nil || o.SiltTop != nil
		obs = append(obs, o)
	}
	if !seen {
		return nil, nil
	}
	curve, of := curveOf(obs, shots, setup.LeastSD())
	setup.Steady = len(obs) >= FilmFrom && from == nil
	res, err := texture.Invert(curve, setup)
	if err != nil {
		return nil, err
	}
	for i := range res.Surprises {
		res.Surprises[i].Photo = of[res.Surprises[i].Photo]
	}
	return &res, nil
}

// contradictory is by how much more than their errors allow lines may scatter for
// percentages to be told. Of 34 rendered jars the worst has 3.5, one whose last top was
// misread; of 84 sets of photos of two of them (DEVELOPERS.md) four have more than this.
const contradictory = 5

// tellable is what physics found, nil where the lines contradict each other: then no soil
// fits them, and one that fits less badly than others says nothing.
func tellable(found *texture.Result) *texture.Result {
	if found != nil && found.Misfit > contradictory {
		return nil
	}
	return found
}

func measured(b *layers.Boundary, depth layers.Depth) *texture.Height {
	if b == nil {
		return nil
	}
	return &texture.Height{Share: depth.Share(b.HeightMM), SD: depth.Share(b.SDMM)}
}

// fillTexture copies the physics' result into the reading.
func fillTexture(r *reading.Reading, t *texture.Result) {
	estimate := func(e texture.Estimate) reading.Estimate {
		return reading.Estimate{Percent: e.Value, Low: e.Low, High: e.High}
	}
	r.Fractions = &reading.Fractions{Sand: estimate(t.Sand), Silt: estimate(t.Silt), Clay: estimate(t.Clay)}
	shares := func(f *texture.Fractions) *reading.Shares {
		if f == nil {
			return nil
		}
		return &reading.Shares{Sand: reading.Ptr(f.Sand), Silt: reading.Ptr(f.Silt), Clay: reading.Ptr(f.Clay)}
	}
	r.Soils = triples(t.Soils)
	for _, e := range t.Expected {
		r.Expected = append(r.Expected, expected(e))
	}
	r.ByThickness, r.ByPacking = shares(t.ByThickness), shares(t.ByPacking)
	r.ByVolume = r.ByThickness
	r.Why, r.WhySaid = t.Reason.Text.String(), t.Reason.Text.Ptr()
	r.SolidsGL = &reading.Range{Value: t.SolidsGL.Value, Low: t.SolidsGL.Low, High: t.SolidsGL.High}
	if s := estimate(t.SuspendedPercent); s.High >= 0.5 {
		r.Suspension = &s
	}
	for i, c := range t.Classes {
		if i == 0 {
			r.Class = &reading.Class{System: t.System.String(), Name: c.Name, Probability: c.Probability}
		} else if c.Probability >= 0.01 {
			r.Class.Others = append(r.Class.Others, reading.OtherClass{Name: c.Name, Probability: c.Probability})
		}
	}
	for _, c := range t.Causes {
		text := c.Text()
		r.Causes = append(r.Causes, reading.Cause{Code: strings.ReplaceAll(string(c.Kind), " ", "_"), Text: text.String(), Said: text.Ptr(), Share: c.Share})
	}
	r.SizeCurve = sizePoints(t.Tangent)
	if t.Resolved != nil {
		r.GrainCurve = &reading.GrainCurve{Points: sizePoints(t.Curve), FinestUM: t.Resolved.FinestUM, CoarsestUM: t.Resolved.CoarsestUM}
	}
}

func sizePoints(curve []texture.CurvePoint) (out []reading.SizePoint) {
	for _, p := range curve {
		out = append(out, reading.SizePoint{SizeUM: p.DiameterUM, Finer: p.Finer.Value, Low: p.Finer.Low, High: p.Finer.High})
	}
	return out
}

func triples(soils []texture.Fractions) [][3]float64 {
	out := make([][3]float64, len(soils))
	for i, f := range soils {
		for k, v := range []float64{f.Sand, f.Silt, f.Clay} {
			out[i][k] = math.Round(v*10) / 10
		}
	}
	return out
}

func expected(e texture.Expected) reading.Expected {
	percent := func(e texture.Estimate) reading.Range {
		return reading.Range{Value: 100 * e.Value, Low: 100 * e.Low, High: 100 * e.High}
	}
	return reading.Expected{ElapsedS: math.Round(e.ElapsedS), DepositTop: percent(e.DepositTop),
		SandTop: percent(e.SandTop), SiltTop: percent(e.SiltTop)}
}

// ruled tells physics what a ruler says of the last photo where the lines that it shows
// are all there: it may have been told of them as boundaries that might be lines.
func ruled(tex *texture.Result, l layers.Reading, taper, depthMM float64) {
	if l.SandTop == nil || l.SiltTop == nil || l.DepositTop == nil {
		return
	}
	thick := texture.Layers{SandTopMM: l.SandTop.HeightMM, SiltTopMM: l.SiltTop.HeightMM, DepositTopMM: l.DepositTop.HeightMM}
	volume := thick
	if taper != 0 {
		v := volumes(l, taper, depthMM)
		volume = texture.Layers{SandTopMM: *v.Sand, SiltTopMM: *v.Sand + *v.Silt, DepositTopMM: 100}
	}
	tex.Measure(thick, volume)
}

// partRuler is what a ruler says of the last photo where only one line within
// the soil was seen; nil where none was.
func partRuler(l layers.Reading) *reading.Shares {
	if l.DepositTop == nil || l.DepositTop.HeightMM <= 0 {
		return nil
	}
	share := func(b *layers.Boundary) float64 { return 100 * min(max(b.HeightMM/l.DepositTop.HeightMM, 0), 1) }
	switch {
	case l.SandTop != nil:
		sand := share(l.SandTop)
		return &reading.Shares{Sand: reading.Ptr(sand), SiltAndClay: reading.Ptr(100 - sand)}
	case l.SiltTop != nil:
		both := share(l.SiltTop)
		return &reading.Shares{SandAndSilt: reading.Ptr(both), Clay: reading.Ptr(100 - both)}
	}
	return nil
}
