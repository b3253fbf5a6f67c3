package jar

import (
	"math"

	"mudline/imaging"
	"mudline/internal/record"
	"mudline/layers"
)

// The strip reaches from a little under the floor to a little over the water,
// in shares of the water depth.
const (
	stripTop    = 1.12
	stripBottom = -0.08
)

// readLayers lays every photo's jar straight and finds the layers in all of
// them together.
func readLayers(shots []*shot, rec *record.Record, eng imaging.Engine) error {
	strips := make([]layers.Strip, len(shots))
	for i, s := range shots {
		if err := s.cut(rec, eng); err != nil {
			return err
		}
		strips[i] = s.strip
	}
	found, err := layers.Read(strips)
	if err != nil {
		return layersRefusal(err, shots)
	}
	for i, s := range shots {
		s.layers = found[i]
		s.strip = layers.Strip{}
	}
	return nil
}

// cut lays the front of the jar straight for package layers.
func (s *shot) cut(rec *record.Record, eng imaging.Engine) error {
	depth := depthOf(rec)
	st := eng.CutStrip(s.photo.Picture, s.frame, stripTop, stripBottom)
	perPixel := depth / math.Hypot(s.frame.Water.X-s.frame.Floor.X, s.frame.Water.Y-s.frame.Floor.Y)
	s.strip = layers.Strip{
		W: st.W, H: st.H, USpan: st.USpan, Lab: st.Lab,
		TopMM: stripTop * depth, BottomMM: stripBottom * depth, WaterMM: depth,
		ElapsedS:   s.elapsed.Time.Seconds(),
		FrameSDMM:  s.frameSDMM(depth),
		BowFloorMM: s.frame.BowFloor * perPixel, BowWaterMM: s.frame.BowWater * perPixel,
	}
	return s.applyStatedLayers(rec)
}

// frameSDMM is the standard deviation of heights in the deposit that comes from
// the floor and the water line.
func (s *shot) frameSDMM(depthMM float64) float64 {
	return depthMM * math.Hypot(0.75*s.place.FloorSD, 0.25*s.place.WaterSD)
}

// applyStatedLayers hands over the layer lines a person placed.
func (s *shot) applyStatedLayers(rec *record.Record) error {
	lines := rec.Photos[s.file].Lines
	for _, l := range []struct {
		name, key string
		line      *record.Line
		to        **float64
	}{
		{record.DepositTop, "deposit_top", lines.DepositTop, &s.strip.Stated.DepositTop},
		{record.SandTop, "sand_top", lines.SandTop, &s.strip.Stated.SandTop},
		{record.SiltTop, "silt_top", lines.SiltTop, &s.strip.Stated.SiltTop},
	} {
		if l.line == nil {
			continue
		}
		h, err := s.heightOf(l.line, l.name, rec)
		if err != nil {
			return err
		}
		mm := h * depthOf(rec)
		*l.to = &mm
		s.stated = append(s.stated, l.key)
	}
	return nil
}
