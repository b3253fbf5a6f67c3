package jar

import (
	"slices"
	"time"

	"mudline/imaging/appearance"
	"mudline/internal/reading"
	"mudline/internal/record"
	"mudline/internal/words"
)

// muddyUntil is how long water is looked at for its mud: later it may be clear,
// and show what stands behind it.
const muddyUntil = 3 * time.Hour

// differentJars refuses photos that plainly show two jars, and warns of those
// that may. A photo in which a person placed the floor or the water is taken at
// their word.
func differentJars(shots []*framed) (warnings []reading.Warning, err error) {
	type seen struct {
		appearance.Appearance
		file string
	}
	var before []seen
	lit := allLit(shots)
	for _, s := range shots {
		if len(s.stated) > 0 {
			continue
		}
		l := seen{s.appearance(lit), s.file}
		for _, o := range before {
			sign, plain := o.Unlike(l.Appearance)
			two := []words.Arg{words.Name("one", o.file), words.Name("other", l.file), words.Told("sign", sayOf(sign))}
			if plain {
				return nil, reading.Refuse(reading.DifferentJars, words.Say("jar.two-jars", two...), words.Say("do.each-jar-by-itself", record.PhotoArgs(l.file)...))
			}
			if sign != appearance.NoSign && len(warnings) == 0 {
				warnings = append(warnings, reading.Warn(reading.MaybeTwoJars, words.Say("jar.maybe-two-jars", two...), words.Say("do.each-jar-if-two")))
			}
		}
		before = append(before, l)
	}
	return warnings, nil
}

// appearance is as if white paper were white, where lit says that the sheets of all
// photos tell how.
func (s *framed) appearance(lit bool) appearance.Appearance {
	var white func([3]float64) [3]float64
	if lit {
		white = s.back.white.Of
	}
	return appearance.Of(s.photo.Picture, s.place.Frame, s.place.Ratio, white, s.elapsed.Time < muddyUntil)
}

// allLit says whether the light of every photo is known from a sheet.
func allLit(shots []*framed) bool {
	return !slices.ContainsFunc(shots, func(s *framed) bool { return s.back == nil || s.back.white == nil })
}

func sayOf(sign appearance.Sign) words.Message {
	switch sign {
	case appearance.OtherSoil:
		return words.Say("jar.two-soils")
	case appearance.OtherMud:
		return words.Say("jar.two-muds")
	case appearance.OtherLid:
		return words.Say("jar.two-lids")
	}
	return words.Message{}
}
