package jar

import (
	"fmt"
	"math"
	"strings"

	"mudline/imaging"
	"mudline/internal/reading"
	"mudline/internal/record"
)

// nominalDepthMM stands in for the water depth where it is not stated, to turn
// millimetres of meniscus and layer into shares.
const nominalDepthMM = 120

// MeniscusMM is how far water climbs the inside of the glass, above the level
// surface: h = sqrt(2 (1 - sin q) g / (r G)) with the surface tension g 0.073
// N/m, density r, gravity G and a contact angle q of 50 degrees, as of glass
// that has seen soil and hands, is 1.9 mm (plate of infinite width; from
// memory: de Gennes, Brochard-Wyart and Quere, Capillarity and Wetting
// Phenomena, section 2.3). The line that is seen is its upper edge.
const MeniscusMM = 1.8

// depthOf is the water depth, or the stand-in.
func depthOf(rec *record.Record) float64 {
	if rec.WaterDepthMM > 0 {
		return rec.WaterDepthMM
	}
	return nominalDepthMM
}

const noJarRemedy = "take the photo again with the whole jar in view, upright, near the middle and lit from the front or side; or draw a box round it: --box x0,y0,x1,y1"

// placeShots decides where the jar stands in every photo.
func placeShots(shots []*shot, rec *record.Record) error {
	sightings := make([]*imaging.Sighting, len(shots))
	for i, s := range shots {
		sightings[i] = s.sighting
	}
	var missing []string
	for i, p := range imaging.Settle(sightings) {
		shots[i].place = p
		if p == nil {
			missing = append(missing, shots[i].file)
		}
	}
	if len(missing) > 0 {
		return &reading.Refusal{Code: reading.NoJar,
			Text:   fmt.Sprintf("no jar was found in %s", strings.Join(missing, ", ")),
			Remedy: noJarRemedy}
	}
	for _, s := range shots {
		s.frame = s.baseFrame(rec)
		if err := s.applyStatedFrame(rec); err != nil {
			return err
		}
		s.sighting = nil // its pictures are no longer needed
	}
	return nil
}

// baseFrame is the frame as found: its height 1 is the level surface of the
// water, below the edge of the meniscus that is seen.
func (s *shot) baseFrame(rec *record.Record) imaging.Frame {
	depth := depthOf(rec)
	return s.place.Frame.Rebased(depth / (depth + MeniscusMM))
}

// applyStatedFrame moves the glass, the floor and the water line to where a
// person placed them. A stated row of the water is the line they see, the
// meniscus.
func (s *shot) applyStatedFrame(rec *record.Record) error {
	lines := rec.Photos[s.file].Lines
	if err := s.applyStatedEdges(lines.Left, lines.Right); err != nil {
		return err
	}
	if lines.Floor == nil && lines.Water == nil {
		return nil
	}
	floor, water := 0.0, 1.0
	var err error
	if lines.Floor != nil {
		if floor, err = s.heightOf(lines.Floor, record.Floor, rec); err != nil {
			return err
		}
		s.place.FloorSD = statedSD
		s.stated = append(s.stated, "floor")
	}
	if lines.Water != nil {
		if water, err = s.heightOf(lines.Water, record.Water, rec); err != nil {
			return err
		}
		if depth := depthOf(rec); !lines.Water.MM {
			water = floor + (water-floor)*depth/(depth+MeniscusMM)
		}
		s.place.WaterSD, s.place.WaterSeen = statedSD, true
		s.stated = append(s.stated, "water")
	}
	if water-floor < 0.2 {
		return fmt.Errorf("%s: the stated floor and water lines are upside down or too close together", s.file)
	}
	f := s.frame.Rebased(water)
	if floor != 0 {
		f = raised(f, floor/water)
	}
	s.frame = f
	return nil
}

// applyStatedEdges moves the edges of the glass, at half the water's height, to
// stated columns of the photo.
func (s *shot) applyStatedEdges(left, right *record.Line) error {
	if left == nil && right == nil {
		return nil
	}
	f := s.frame
	l, r := f.At(-1, 0.5).X, f.At(1, 0.5).X
	newL, newR := l, r
	for _, e := range []struct {
		name string
		line *record.Line
		to   *float64
	}{{record.Left, left, &newL}, {record.Right, right, &newR}} {
		if e.line == nil {
			continue
		}
		if e.line.Value < 0 || e.line.Value > float64(s.photo.FullW) {
			return fmt.Errorf("%s: line %s at column %g px is outside the photo, which has columns 0 to %d", s.file, e.name, e.line.Value, s.photo.FullW)
		}
		*e.to = e.line.Value / s.photo.Scale
		s.stated = append(s.stated, e.name)
	}
	wider := (newR - newL) / (r - l)
	if !(wider > 0.2 && wider < 5) {
		return fmt.Errorf("%s: the stated edges of the glass are %.0f px apart: place the left one left and the right one right of the jar", s.file, (newR-newL)*s.photo.Scale)
	}
	shift := (newL + newR - l - r) / 2
	f.Floor.X, f.Water.X = f.Floor.X+shift, f.Water.X+shift
	f.HalfWidthFloor, f.HalfWidthWater = f.HalfWidthFloor*wider, f.HalfWidthWater*wider
	f.BowFloor, f.BowWater = f.BowFloor*wider, f.BowWater*wider
	s.frame = f
	return nil
}

// statedSD is how well a person places a line, in shares of the depth.
const statedSD = 0.003

// raised is the frame with its floor at height h of the given one.
func raised(f imaging.Frame, h float64) imaging.Frame {
	g := f
	s := f.Along(h)
	g.Floor = f.At(0, h)
	g.HalfWidthFloor = f.HalfWidthFloor + s*(f.HalfWidthWater-f.HalfWidthFloor)
	g.BowFloor = f.BowFloor + s*(f.BowWater-f.BowFloor)
	return g
}

// heightOf is the height of a stated line in shares of the present frame.
func (s *shot) heightOf(l *record.Line, name string, rec *record.Record) (float64, error) {
	if l.MM {
		if rec.WaterDepthMM == 0 {
			return 0, fmt.Errorf("%s: line %s is given in mm, which needs the water depth: state water-depth, or give the line in px", s.file, name)
		}
		return l.Value / rec.WaterDepthMM, nil
	}
	if l.Value < 0 || l.Value > float64(s.photo.FullH) {
		return 0, fmt.Errorf("%s: line %s at row %g px is outside the photo, which has rows 0 to %d", s.file, name, l.Value, s.photo.FullH)
	}
	h := s.frame.HeightOfRow(l.Value / s.photo.Scale)
	if math.IsNaN(h) || h < -0.5 || h > 2 {
		return 0, fmt.Errorf("%s: line %s at row %g px is not on the jar", s.file, name, l.Value)
	}
	return h, nil
}
