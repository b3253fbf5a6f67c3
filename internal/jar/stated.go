package jar

import (
	"math"

	"mudline/imaging"
	"mudline/imaging/jarfind"
	"mudline/internal/record"
	"mudline/internal/words"
	"mudline/layers"
)

// statedSD is how well a person places a line, in shares of the depth.
const statedSD = 0.003

// applyStatedFrame moves the floor, the water line and the glass to where a
// person placed them. A stated row of the water is the line they see, the
// meniscus.
func (s *framed) applyStatedFrame(rec *record.Record) error {
	lines := rec.Photos[s.file].Lines
	if err := s.applyStatedEnds(lines.Floor, lines.Water, rec); err != nil {
		return err
	}
	return s.applyStatedEdges(lines.Left, lines.Right)
}

func (s *framed) applyStatedEnds(floorLine, waterLine *record.Line, rec *record.Record) (err error) {
	if floorLine == nil && waterLine == nil {
		return nil
	}
	depth := depthOf(rec).MM
	floor, seen := 0.0, 1+MeniscusMM/depth
	if floorLine != nil {
		if floor, err = s.heightOf(floorLine, layers.Floor, rec); err != nil {
			return err
		}
		s.place.FloorSD = statedSD
		s.stated = append(s.stated, layers.Floor)
	}
	if waterLine != nil {
		if seen, err = s.heightOf(waterLine, layers.Water, rec); err != nil {
			return err
		}
		s.place.WaterSD, s.place.WaterSeen = statedSD, true
		s.stated = append(s.stated, layers.Water)
	}
	water := floor + (seen-floor)*depth/(depth+MeniscusMM) // level
	if water-floor < 0.2 {
		return record.MistakeIn(s.file, "lines", words.Say("jar.ends-upside-down"))
	}
	f := s.frame.Rebased(water)
	if floor != 0 {
		f = raised(f, floor/water)
	}
	s.frame = f
	return nil
}

// raised is the frame with its floor at height h of the given one.
func raised(f imaging.Frame, h float64) imaging.Frame {
	g := f
	s := f.Along(h)
	g.Floor = f.At(0, h)
	g.HalfWidthFloor = f.HalfWidthFloor + s*(f.HalfWidthWater-f.HalfWidthFloor)
	g.BowFloor = f.BowFloor + s*(f.BowWater-f.BowFloor)
	return g
}

// applyStatedEdges moves the edges of the glass, at half the water's height, to
// stated columns of the photo.
func (s *framed) applyStatedEdges(left, right *record.Line) error {
	if left == nil && right == nil {
		return nil
	}
	f := s.frame
	l, r := f.At(-1, 0.5).X, f.At(1, 0.5).X
	newL, newR := l, r
	for _, e := range []struct {
		name layers.Line
		line *record.Line
		to   *float64
	}{{layers.Left, left, &newL}, {layers.Right, right, &newR}} {
		if e.line == nil {
			continue
		}
		if e.line.Value < 0 || e.line.Value > float64(s.photo.FullW) {
			return record.MistakeIn(s.file, "lines."+string(e.name), words.Say("jar.column-outside", lineAt(e.name, e.line, words.Whole("most", s.photo.FullW))...))
		}
		*e.to = e.line.Value / s.photo.Scale
		s.stated = append(s.stated, e.name)
	}
	wider := (newR - newL) / (r - l)
	if !(wider > 0.2 && wider < 5) {
		return record.MistakeIn(s.file, "lines", words.Say("jar.edges-apart", words.Whole("pixels", (newR-newL)*s.photo.Scale)))
	}
	f.HalfWidthFloor, f.HalfWidthWater = f.HalfWidthFloor*wider, f.HalfWidthWater*wider
	f.BowFloor, f.BowWater = f.BowFloor*wider, f.BowWater*wider
	shift := newL - f.At(-1, 0.5).X
	f.Floor.X, f.Water.X = f.Floor.X+shift, f.Water.X+shift
	s.frame = f
	return nil
}

// heightOf is the height of a stated line in shares of the present frame.
func (s *framed) heightOf(l *record.Line, name layers.Line, rec *record.Record) (float64, error) {
	if l.MM {
		if rec.WaterDepthMM == 0 {
			return 0, record.MistakeIn(s.file, "lines."+string(name), words.Say("jar.line-needs-depth", words.Word("line", "record-key", string(name))))
		}
		return l.Value / rec.WaterDepthMM, nil
	}
	if l.Value < 0 || l.Value > float64(s.photo.FullH) {
		return 0, record.MistakeIn(s.file, "lines."+string(name), words.Say("jar.row-outside", lineAt(name, l, words.Whole("most", s.photo.FullH))...))
	}
	h := s.frame.HeightOfRow(l.Value / s.photo.Scale)
	if math.IsNaN(h) || h < -0.5 || h > 2 {
		return 0, record.MistakeIn(s.file, "lines."+string(name), words.Say("jar.row-off-jar", lineAt(name, l)...))
	}
	return h, nil
}

// lineAt names a stated line and its pixel.
func lineAt(name layers.Line, l *record.Line, more ...words.Arg) []words.Arg {
	return append(more, words.Word("line", "record-key", string(name)), words.Figures("pixel", l.Value, 6))
}

// placedWhole is the jar in a photo that shows none, as a person placed its
// floor, its water and both its edges by pixels; nil where they did not.
func (s *source) placedWhole(rec *record.Record) *jarfind.Placement {
	lines := rec.Photos[s.file].Lines
	for _, l := range []*record.Line{lines.Floor, lines.Water, lines.Left, lines.Right} {
		if l == nil || l.MM {
			return nil
		}
	}
	k := 1 / s.photo.Scale
	left, right, floor, water := lines.Left.Value*k, lines.Right.Value*k, lines.Floor.Value*k, lines.Water.Value*k
	if half := (right - left) / 2; half <= 0 || floor-water < half/4 {
		return nil
	}
	return s.placedAt(left, right, floor, water)
}

// placedAt is a jar whose edges, floor and water stand at columns and rows of the
// working picture. How far its circles bow is that of a usual camera with its eye
// level a little above the middle of the picture.
func (s *source) placedAt(left, right, floor, water float64) *jarfind.Placement {
	half := (right - left) / 2
	size := s.photo.Picture.Rect.Size()
	const usualFocal, usualEye = 26.0 / 36, 0.45 // of the long side; of the height
	bow := func(y float64) float64 {
		return (y - usualEye*float64(size.Y)) * half / (usualFocal * float64(max(size.X, size.Y)))
	}
	return &jarfind.Placement{
		Frame: imaging.Frame{
			Floor: imaging.Point{X: left + half, Y: floor}, Water: imaging.Point{X: left + half, Y: water},
			HalfWidthFloor: half, HalfWidthWater: half, BowFloor: bow(floor), BowWater: bow(water),
		},
		FloorSD: statedSD, WaterSD: statedSD, WaterSeen: true, Ratio: (floor - water) / half,
	}
}
