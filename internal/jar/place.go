package jar

import (
	"mudline/imaging"
	"mudline/internal/reading"
	"mudline/internal/record"
	"mudline/internal/words"
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

// noJar refuses photos in which no jar can be read.
func noJar(said words.Message) *reading.Refusal {
	return reading.Refuse(reading.NoJar, said, words.Say("do.photo-again-or-box"))
}

// placeShots decides where the jar stands in every photo.
func placeShots(shots []*shot, rec *record.Record) error {
	sightings := make([]*imaging.Sighting, len(shots))
	for i, s := range shots {
		sightings[i] = s.sighting
	}
	var missing []string
	for i, p := range imaging.Settle(sightings) {
		if p == nil {
			p = shots[i].placedWhole(rec)
		}
		shots[i].found = p
		if p == nil {
			missing = append(missing, shots[i].file)
		}
	}
	if len(missing) > 0 {
		return noJar(words.Say("jar.none", words.Names("photos", "", missing)))
	}
	for _, s := range shots {
		s.sighting = nil // its pictures are no longer needed
	}
	return nil
}

// framed puts all jars in their frames, by the depth that was stated or that sheets
// behind them tell.
func framed(shots []*shot, rec *record.Record) (*behind, error) {
	b := lookBehind(shots, rec)
	for round := range 2 {
		known := b.known(rec)
		placed := false
		for _, s := range shots {
			if err := s.inFrame(known); err != nil {
				return nil, err
			}
			placed = placed || len(s.stated) > 0
		}
		if round > 0 || !placed {
			break
		}
		b.measure(shots, depthOf(known)) // by the lines as a person placed them
	}
	return b, nil
}

// inFrame puts the glass, the floor and the water where they were found, and
// then where a person placed them.
func (s *shot) inFrame(rec *record.Record) error {
	place := *s.found
	s.place, s.stated = &place, nil
	s.frame = s.baseFrame(rec)
	return s.applyStatedFrame(rec)
}

// baseFrame is the frame as found: its height 1 is the level surface of the
// water, below the edge of the meniscus that is seen.
func (s *shot) baseFrame(rec *record.Record) imaging.Frame {
	depth := depthOf(rec)
	return s.found.Frame.Rebased(depth / (depth + MeniscusMM))
}
