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
// them together: as the picture shows them or, where it does not, in the frame
// and with the lines that a person placed.
func readLayers(shots []*shot, rec *record.Record, eng imaging.Engine) error {
	err := lookForLayers(shots, rec, eng, false)
	if curable(err, shots, rec) {
		err = lookForLayers(shots, rec, eng, true)
	}
	if err != nil {
		return layersRefusal(err, shots)
	}
	choose(shots, rec)
	return tellLines(shots, rec)
}

// lookForLayers finds the layers in all photos, with the help of what was
// stated if so told.
func lookForLayers(shots []*shot, rec *record.Record, eng imaging.Engine, helped bool) error {
	strips := make([]layers.Strip, len(shots))
	for i, s := range shots {
		s.shown.frame = s.baseFrame(rec)
		place := s.found
		if helped {
			s.shown.frame, place = s.frame, s.place
			stated, err := s.statedLayers(rec)
			if err != nil {
				return err
			}
			strips[i].Stated = stated
		}
		s.cut(&strips[i], place, rec, eng)
		s.shown.depthMM, s.shown.frameSDMM = strips[i].WaterMM, strips[i].FrameSDMM
	}
	found, err := layers.Read(strips)
	for i := range found {
		shots[i].shown.layers = found[i]
	}
	return err
}

// cut lays the front of the jar, as it stands in the frame its lines are looked
// for in, straight for package layers.
func (s *shot) cut(strip *layers.Strip, place *imaging.Placement, rec *record.Record, eng imaging.Engine) {
	depth, f := depthOf(rec), s.shown.frame
	st := eng.CutStrip(s.photo.Picture, f, stripTop, stripBottom)
	strip.W, strip.H, strip.USpan, strip.Lab = st.W, st.H, st.USpan, st.Lab
	fillStrip(strip, f, depth, frameSDMM(place, depth), s.elapsed.Time.Seconds())
}

// fillStrip says which heights a strip shows, and when.
func fillStrip(strip *layers.Strip, f imaging.Frame, depthMM, sdMM, elapsedS float64) {
	perPixel := depthMM / math.Hypot(f.Water.X-f.Floor.X, f.Water.Y-f.Floor.Y)
	strip.TopMM, strip.BottomMM, strip.WaterMM = stripTop*depthMM, stripBottom*depthMM, depthMM
	strip.ElapsedS, strip.FrameSDMM = elapsedS, sdMM
	strip.BowFloorMM, strip.BowWaterMM = f.BowFloor*perPixel, f.BowWater*perPixel
}

// frameSDMM is the standard deviation of heights in the deposit that comes from
// the floor and the water line.
func (s *shot) frameSDMM(depthMM float64) float64 { return frameSDMM(s.place, depthMM) }

func frameSDMM(p *imaging.Placement, depthMM float64) float64 {
	return depthMM * math.Hypot(0.75*p.FloorSD, 0.25*p.WaterSD)
}
