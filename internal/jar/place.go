package jar

import (
	"mudline/imaging"
	"mudline/imaging/jarfind"
	"mudline/internal/reading"
	"mudline/internal/record"
	"mudline/internal/words"
	"mudline/layers"
	"mudline/texture"
)

// MeniscusMM is how far water climbs the inside of the glass, above the level
// surface: h = sqrt(2 (1 - sin q) g / (r G)) with the surface tension g 0.073
// N/m, density r, gravity G and a contact angle q of 50 degrees, as of glass
// that has seen soil and hands, is 1.9 mm (plate of infinite width; from
// memory: de Gennes, Brochard-Wyart and Quere, Capillarity and Wetting
// Phenomena, section 2.3). The line that is seen is its upper edge.
const MeniscusMM = 1.8

// depthOf is the water depth that heights are told by. Where nobody knows it, the usual one
// turns the millimetres of the meniscus, and of what a hand can place, into shares of it.
func depthOf(rec *record.Record) layers.Depth {
	if rec.WaterDepthMM > 0 {
		return layers.Depth{MM: rec.WaterDepthMM}
	}
	return layers.Depth{MM: texture.UsualDepthMM, Supposed: true}
}

// noJar refuses photos in which no jar can be read; boxed says that a person drew a box
// round it in all of them.
func noJar(said words.Message, boxed bool) *reading.Refusal {
	todo := words.Say("do.photo-again-or-box")
	if boxed {
		todo = words.Say("do.box-whole-jar")
	}
	return reading.Refuse(reading.NoJar, said, todo)
}

// locate decides where the jar stands in every photo. Those in which none was found are
// left out where enough others stay.
func locate(photos []timed, rec *record.Record, out *leftOut) ([]located, error) {
	var stay []located
	var missing []string
	boxed := true
	for _, s := range standing(photos, rec) {
		if s.found == nil {
			missing, boxed = append(missing, s.file), boxed && rec.BoxOf(s.file) != nil
		} else {
			stay = append(stay, s)
		}
	}
	if len(missing) == 0 {
		return stay, nil
	}
	if !mayGo(len(*out)+len(missing), len(stay)) {
		return nil, noJar(words.Say("jar.none", words.Names("photos", "", missing)), boxed)
	}
	for _, file := range missing {
		out.add(file, noJar(words.Say("jar.none", words.Names("photos", "", []string{file})), boxed))
	}
	return stay, nil
}

// standing says where the jar stands in every photo; nothing is found in one that shows
// none and in which no person placed it.
func standing(photos []timed, rec *record.Record) []located {
	sightings := make([]*jarfind.Sighting, len(photos))
	for i, o := range photos {
		sightings[i] = o.sighting
	}
	out := make([]located, len(photos))
	for i, p := range jarfind.Settle(sightings) {
		o := photos[i]
		if p == nil {
			p = o.placedWhole(rec)
		}
		out[i] = located{source: o.source, elapsed: o.elapsed, found: p}
	}
	return out
}

// frameAll puts all jars in their frames, by the depth that was stated or that sheets
// behind them tell.
func frameAll(jars []located, rec *record.Record) ([]*framed, *behind, error) {
	shots := make([]*framed, len(jars))
	for i, l := range jars {
		shots[i] = &framed{located: l}
	}
	b := lookBehind(shots, rec)
	for round := range 2 {
		known := b.known(rec)
		placed := false
		for _, s := range shots {
			if err := s.inFrame(known); err != nil {
				return nil, nil, err
			}
			placed = placed || len(s.stated) > 0
		}
		if round > 0 || !placed {
			break
		}
		b.measure(shots, depthOf(known).MM) // by the lines as a person placed them
	}
	return shots, b, nil
}

// inFrame puts the glass, the floor and the water where they were found, and
// then where a person placed them.
func (s *framed) inFrame(rec *record.Record) error {
	place := *s.found
	s.place, s.stated = &place, nil
	s.frame = s.baseFrame(rec)
	return s.applyStatedFrame(rec)
}

// baseFrame is the frame as found: its height 1 is the level surface of the
// water, below the edge of the meniscus that is seen.
func (s *located) baseFrame(rec *record.Record) imaging.Frame {
	depth := depthOf(rec).MM
	return s.found.Frame.Rebased(depth / (depth + MeniscusMM))
}
