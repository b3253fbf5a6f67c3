package jar

import (
	"cmp"
	"math"
	"slices"

	"mudline/imaging"
	"mudline/imaging/sheetmark"
	"mudline/internal/reading"
	"mudline/internal/record"
)

// behind is what the sheets behind the jar tell, in all photos together; its fields
// are nil where none does.
type behind struct {
	identity        *sheetmark.Sheet // of the sheet that most photos show
	name            string
	scale           float64             // of the print: a millimetre on the sheet is so many on paper
	diameter, depth *sheetmark.Measured // depth is to the level surface
}

// sheetBehind is the sheet behind the jar in one photo.
type sheetBehind struct {
	*sheetmark.Sheet
	fault reading.WarningCode // why nothing is measured by it, a warning's code; "" if it is
	size  sheetmark.Size
	white *sheetmark.White // of the photo's light; nil where it is not known
}

// lookBehind takes of the sheets that each photo shows the one that the jar stands
// before, and measures by it.
func lookBehind(shots []*framed, rec *record.Record) *behind {
	b := &behind{scale: 1}
	if rec.SheetLineMM > 0 {
		b.scale = rec.SheetLineMM / sheetmark.CheckMM
	}
	for _, s := range shots {
		if len(s.sheets) == 0 {
			continue
		}
		foot := sheetmark.Point(s.found.Frame.At(0, 0.5))
		nearest := slices.MinFunc(s.sheets, func(x, y *sheetmark.Sheet) int {
			return cmp.Compare(off(x, foot), off(y, foot))
		})
		s.back = &sheetBehind{Sheet: nearest}
	}
	whiten(shots)
	b.measure(shots, depthOf(rec).MM)
	count := map[sheetmark.Identity]int{}
	for _, s := range shots {
		if s.back == nil {
			continue
		}
		if count[s.back.Identity]++; b.identity == nil || count[s.back.Identity] > count[b.identity.Identity] {
			b.identity = s.back.Sheet
		}
	}
	for _, s := range shots {
		if b.name == "" && s.back != nil && s.back.Identity == b.identity.Identity {
			b.name, _ = s.back.Name()
		}
	}
	return b
}

// whiten finds the light of the photos, those of one sheet together.
func whiten(shots []*framed) {
	lights := map[sheetmark.Identity][]*sheetmark.Light{}
	of := map[sheetmark.Identity][]*sheetBehind{}
	for _, s := range shots {
		if s.back == nil || s.photo.Picture == nil { // of a film few pictures are kept
			continue
		}
		if l, ok := s.back.Light(s.photo.Picture); ok {
			id := s.back.Identity
			lights[id], of[id] = append(lights[id], &l), append(of[id], s.back)
		}
	}
	for id, backs := range of {
		for i, w := range sheetmark.Whites(lights[id]) {
			backs[i].white = w
		}
	}
}

// off is how far from the middle line of a sheet a place in the picture is, on the
// sheet's plane, in millimetres.
func off(s *sheetmark.Sheet, at sheetmark.Point) float64 {
	p, ok := s.Stand.On(at)
	if !ok {
		return math.Inf(1)
	}
	return math.Abs(p.X)
}

// What all photos of a jar may have wrong alike, as a share: of its depth the printer's
// scale, the glass, the lean that is usual; of its width the wall of the glass too,
// which looks like paper beside mud.
const (
	commonDepthSD = 0.005
	commonWidthSD = 0.012
)

// measure measures the jar by the sheet of each photo, in the frames they have, or as
// found where they have none yet, and takes the photos together.
func (b *behind) measure(shots []*framed, depthMM float64) {
	var diameters, depths []sheetmark.Measured
	for _, s := range shots {
		if s.back == nil {
			continue
		}
		frame, top := s.found.Frame, 1.0
		if len(s.stated) > 0 {
			frame, top = s.frame, 1+MeniscusMM/depthMM
		}
		s.back.measure(s, frame, top, b.scale)
		if s.back.fault == "" {
			diameters = append(diameters, s.back.size.Diameter)
			depths = append(depths, s.back.size.Depth)
		}
	}
	b.diameter, b.depth = together(diameters, commonWidthSD), together(depths, commonDepthSD)
	if b.depth != nil {
		b.depth.MM -= MeniscusMM
	}
}

// together is the weighted mean of one length in several photos, with what they may have
// wrong alike, as a share; nil for none.
func together(seen []sheetmark.Measured, common float64) *sheetmark.Measured {
	if len(seen) == 0 {
		return nil
	}
	weight := func(m sheetmark.Measured) float64 { return 1 / (m.SD * m.SD) }
	sum, all := 0.0, 0.0
	for _, m := range seen {
		sum, all = sum+weight(m)*m.MM, all+weight(m)
	}
	mean, scatter := sum/all, 0.0
	for _, m := range seen {
		scatter += weight(m) * (m.MM - mean) * (m.MM - mean)
	}
	if n := float64(len(seen) - 1); n > 0 {
		scatter /= n
	}
	return &sheetmark.Measured{MM: mean, SD: math.Hypot(math.Sqrt(math.Max(scatter, 1)/all), common*mean)}
}

// Bounds of what a jar before a sheet can be, and of how it and the sheet can stand.
const (
	leastDiameter, mostDiameter = 25.0, 160.0
	mostRollDeg                 = 10.0
	mostLeanDeg                 = 14.0
)

// measure measures the jar of a photo by its sheet, from the floor of the frame up to a
// height of it. scale is that of the print.
func (d *sheetBehind) measure(s *framed, f imaging.Frame, top, scale float64) {
	d.fault = ""
	rim := func(h float64) sheetmark.Rim {
		return sheetmark.Rim{Left: sheetmark.Point(f.At(-1, h)), Right: sheetmark.Point(f.At(1, h)), Front: sheetmark.Point(f.At(0, h))}
	}
	w, h := d.Paper.SizeMM()
	at, ok := d.Stand.On(rim(top / 2).Front)
	if !ok || math.Abs(at.X) > w/2 || at.Y < 0 || at.Y > h {
		d.fault = reading.SheetAside
		return
	}
	up := sheetmark.Point(f.At(0, top))
	low := sheetmark.Point(f.At(0, 0))
	a, okA := d.Stand.On(up)
	c, okC := d.Stand.On(low)
	if !okA || !okC || math.Abs(math.Atan2(a.X-c.X, a.Y-c.Y)) > mostRollDeg*math.Pi/180 {
		d.fault = reading.SheetNotUpright
		return
	}
	d.size, ok = d.Stand.Measure(sheetmark.Vessel{Floor: rim(0), Water: rim(top)})
	for _, m := range []*sheetmark.Measured{&d.size.Diameter, &d.size.Depth} {
		*m = sheetmark.Measured{MM: scale * m.MM, SD: scale * m.SD}
	}
	switch {
	case ok && math.Abs(d.size.LeanDeg) > mostLeanDeg:
		d.fault = reading.SheetNotUpright
	case !ok || d.size.Diameter.MM < leastDiameter || d.size.Diameter.MM > mostDiameter || d.size.Depth.MM < record.MinDepthMM || d.size.Depth.MM > record.MaxDepthMM:
		d.fault = reading.SheetAside
	}
	along := math.Hypot(s.found.FloorSD, s.found.WaterSD) * d.size.Depth.MM
	d.size.Depth.SD = math.Hypot(d.size.Depth.SD, along)
}

// known is the record with the depth that the sheets tell, where none was stated.
func (b *behind) known(rec *record.Record) *record.Record {
	if rec.WaterDepthMM > 0 || b.depth == nil {
		return rec
	}
	k := *rec
	k.WaterDepthMM = b.depth.MM
	return &k
}

// measured says whether the depth of a record from known is the sheets'.
func (b *behind) measured(rec *record.Record) bool {
	return b.depth != nil && rec.WaterDepthMM == b.depth.MM
}

// stated are the keys that a person stated, the record being from known.
func (b *behind) stated(rec *record.Record) []string {
	keys := rec.Stated()
	if b.measured(rec) {
		keys = slices.DeleteFunc(keys, func(k string) bool { return k == "water-depth" })
	}
	return keys
}

// report writes into the reading what the sheets tell of the jar.
func (b *behind) report(r *reading.Reading) {
	if r.WaterDepthMM != nil {
		r.WaterDepthFrom = "stated"
		if b.depth != nil && *r.WaterDepthMM == b.depth.MM {
			r.WaterDepthFrom, r.WaterDepthSDMM = "sheet", reading.Ptr(b.depth.SD)
		}
	}
	if b.identity == nil {
		return
	}
	length := func(m *sheetmark.Measured) *reading.Length {
		if m == nil {
			return nil
		}
		return &reading.Length{Value: m.MM, SD: m.SD}
	}
	r.Sheet = &reading.Sheet{Identity: b.identity.Identity.String(), Name: b.name, Paper: b.identity.Paper.String(),
		JarDiameterMM: length(b.diameter), WaterDepthMM: length(b.depth)}
}

// sheetReport is the sheet as the photo shows it, in full pixels; nil without one.
func (s *framed) sheetReport() *reading.SheetInPhoto {
	if s.back == nil {
		return nil
	}
	st, k := s.back.Stand, s.photo.Scale
	up, deg := st.Up, 180/math.Pi
	p := &reading.SheetInPhoto{Identity: s.back.Identity.String(), Marks: len(s.back.Seen), ResidualPx: s.back.RMS * k,
		DistanceMM: st.DistanceMM(), FocalPx: st.Focal * k, RollDeg: -math.Atan2(st.Right.Y, st.Right.X) * deg, Mirrored: st.Mirror}
	if w := s.back.white; w != nil {
		gain := w.Gain()
		p.LightGain, p.LightTone, p.SoilLab = &gain, w.Tone, s.soilLab()
	}
	for i, c := range s.back.Corners() {
		p.CornersPx[i] = reading.PointPx{c.X * k, c.Y * k}
	}
	if s.back.fault == "" {
		p.LeanDeg = reading.Ptr(s.back.size.LeanDeg)
		sin, cos := math.Sincos(s.back.size.LeanDeg / deg)
		up = up.Times(cos).Plus(st.Out.Times(sin))
	}
	p.TiltDeg = math.Asin(up.Z) * deg
	return p
}
