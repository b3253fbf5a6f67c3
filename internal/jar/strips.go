package jar

import (
	"math"

	"mudline/imaging"
	"mudline/imaging/jarfind"
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
func readLayers(jars []*framed, rec *record.Record, eng imaging.Engine) ([]*seen, error) {
	found, err := lookForLayers(jars, rec, eng, false)
	if curable(err, jars, rec) {
		found, err = lookForLayers(jars, rec, eng, true)
	}
	if err != nil {
		return nil, layersRefusal(err, jars)
	}
	choose(found, rec)
	return found, nil
}

// lookForLayers finds the layers in all photos, with the help of what was
// stated if so told.
func lookForLayers(jars []*framed, rec *record.Record, eng imaging.Engine, helped bool) ([]*seen, error) {
	out := make([]*seen, len(jars))
	strips := make([]layers.Strip, len(jars))
	for i, s := range jars {
		frame, place := s.baseFrame(rec), s.found
		if helped {
			frame, place = s.frame, s.place
			stated, err := s.statedLayers(rec)
			if err != nil {
				return nil, err
			}
			strips[i].Stated = stated
		}
		s.cut(&strips[i], frame, frameSDMM(place, depthOf(rec).MM), rec, eng)
		out[i] = &seen{framed: *s, shown: shown{frame: frame, depth: strips[i].Water, frameSDMM: strips[i].FrameSDMM}}
	}
	found, err := layers.Read(strips)
	if err != nil {
		return nil, err
	}
	for i := range found {
		out[i].shown.layers = found[i]
	}
	return out, nil
}

// cut lays the front of the jar, as it stands in the frame its lines are looked
// for in, straight for package layers. sdMM is the doubt of heights by that frame.
func (s *located) cut(strip *layers.Strip, f imaging.Frame, sdMM float64, rec *record.Record, eng imaging.Engine) {
	st := eng.CutStrip(s.photo.Picture, f, stripTop, stripBottom)
	strip.W, strip.H, strip.USpan, strip.Lab = st.W, st.H, st.USpan, st.Lab
	fillStrip(strip, f, depthOf(rec), sdMM, s.elapsed.Time.Seconds())
}

// fillStrip says which heights a strip shows, and when.
func fillStrip(strip *layers.Strip, f imaging.Frame, depth layers.Depth, sdMM, elapsedS float64) {
	perPixel := depth.MM / math.Hypot(f.Water.X-f.Floor.X, f.Water.Y-f.Floor.Y)
	strip.TopMM, strip.BottomMM, strip.Water = stripTop*depth.MM, stripBottom*depth.MM, depth
	strip.ElapsedS, strip.FrameSDMM = elapsedS, sdMM
	strip.BowFloorMM, strip.BowWaterMM = f.BowFloor*perPixel, f.BowWater*perPixel
}

// frameSDMM is the standard deviation of heights in the deposit that comes from
// the floor and the water line.
func (s *framed) frameSDMM(depthMM float64) float64 { return frameSDMM(s.place, depthMM) }

func frameSDMM(p *jarfind.Placement, depthMM float64) float64 {
	return depthMM * math.Hypot(0.75*p.FloorSD, 0.25*p.WaterSD)
}
