package feel

import (
	"math"
	"regexp"
	"slices"
	"strings"

	"mudline/texture"
)

// Jar is what is known of a jar beside its soils.
type Jar struct {
	// Soils are equally likely soils, by the USDA size limits.
	Soils []texture.Fractions
	// Cloudy says that the water was not clear at the last photo.
	Cloudy bool
	// RulerClay is the share of the deposit's thickness that is clay, in
	// percent; NaN where that was not told.
	RulerClay float64
}

// More is how much more sand, silt and clay the hands feel than the jar shows,
// in points: the medians of what the hands alone allow, less those of the jar.
func (j Jar) More(o Observation) texture.Fractions {
	hands, even := ByHand(o, texture.USDA), evenly(len(j.Soils))
	more := func(e texture.Estimate, of func(texture.Fractions) float64) float64 {
		return e.Value - estimate(j.Soils, even, of).Value
	}
	return texture.Fractions{Sand: more(hands.Sand, sand), Silt: more(hands.Silt, silt), Clay: more(hands.Clay, clay)}
}

// Reason is why hands and jar may differ, and what would settle it. Both texts
// are sentences.
type Reason struct{ Code, Text, Remedy string }

// reason has, for each direction in which it makes hands differ from the jar, how
// likely it is: 0 where it works the other way. The directions and the causes
// are published or common practice (Foss et al. 1975 on stones and organic
// matter; grit of cemented clay in the guides after Thien; poor dispersion,
// Gee & Bauder 1986); their order is a judgement.
type reason struct {
	Reason
	moreClay, lessClay, moreSand, lessSand float64
}

// telling is by how much an answer that points to a reason raises it; much is
// the difference, in points, that counts in full.
const (
	telling = 4.0
	much    = 20.0
)

// Reasons lists why hands and jar may differ the way they do, the likeliest
// first: by the direction of the difference, and raised by what was said. It is
// empty where they do not differ by more than five points.
func Reasons(o Observation, j Jar) []Reason {
	if len(j.Soils) == 0 {
		return nil
	}
	more := j.More(o)
	share := func(points float64) float64 { return math.Min(math.Max(points, 0)/much, 1) }
	if math.Max(math.Abs(more.Clay), math.Abs(more.Sand)) < 5 {
		return nil
	}
	list := o.candidates(j, more.Clay)
	weight := func(r reason) float64 {
		return r.moreClay*share(more.Clay) + r.lessClay*share(-more.Clay) + r.moreSand*share(more.Sand) + r.lessSand*share(-more.Sand)
	}
	slices.SortStableFunc(list, func(a, b reason) int {
		switch wa, wb := weight(a), weight(b); {
		case wa > wb:
			return -1
		case wa < wb:
			return 1
		}
		return 0
	})
	var out []Reason
	for _, r := range list {
		if weight(r) > 0 {
			out = append(out, r.Reason)
		}
	}
	return out
}

// candidates are all reasons, raised by what speaks for each.
func (o Observation) candidates(j Jar, moreClay float64) []reason {
	var out []reason
	add := func(raised bool, r reason) {
		if raised {
			for _, v := range []*float64{&r.moreClay, &r.lessClay, &r.moreSand, &r.lessSand} {
				*v *= telling
			}
		}
		out = append(out, r)
	}
	dark := Dark(o.ColourMoist, o.ColourDry)
	organic := "Humus binds a ball, and soil rich in it feels more clayey than it is."
	if dark {
		organic = "The soil is dark, so it may be rich in humus, which binds a ball and feels like clay."
	}
	add(dark, reason{Reason{"organic_matter", organic,
		"Do the hand test again with soil from below the dark top layer, or ask a laboratory for the organic matter."}, 1.2, 0, 0, 0.2})
	add(false, reason{Reason{"clay_clumped", "In the jar, clay that is not broken up sinks as silt and is counted with it.",
		"Shake the jar again with a teaspoon of dishwasher powder for ten minutes, and take the photos anew."}, 1.3, 0, 0, 0.2})
	if j.Cloudy {
		add(true, reason{Reason{"still_settling", "The water was still cloudy at the last photo, so part of the clay is only reckoned, not seen.",
			"Take one more photo when the water is clear."}, 0.6, 0.3, 0, 0})
	}
	add(o.StonesOut == No, reason{Reason{"stones", "Stones and roots cut a ribbon short and feel like sand.",
		"Pick out stones and roots, and do the test again."}, 0, 0.9, 1, 0})
	add(o.Moistened == No || o.Ball == NoBall && o.Moistened == "", reason{Reason{"too_dry", "Soil that is too dry keeps no ball, and its ribbons break early.",
		"Add water drop by drop until the soil is like putty, and do the test again."}, 0, 1.1, 0.3, 0})
	add(o.Kneaded == No, reason{Reason{"not_kneaded", "Crumbs of clay that are not kneaded out feel like sand and break a ribbon.",
		"Knead the soil for two minutes, a dry clay for up to ten, and do the test again."}, 0, 1, 0.8, 0})
	add(o.Sticky == Strong && o.Moistened != No, reason{Reason{"too_wet", "Soil that is too wet smears: it feels stickier and smoother than it is, and hides the grit.",
		"Work in a little dry soil until the handful no longer shines, and do the test again."}, 0.5, 0.2, 0, 1})
	if r := j.RulerClay; moreClay < 0 && r > estimate(j.Soils, evenly(len(j.Soils)), clay).Value+5 {
		add(false, reason{Reason{"thickness", "Clay lies loosely in the jar, so its layer looks like more than it weighs: the hands go by weight.",
			"Compare your hands with the corrected percentages, not with the thickness of the layers."}, 0, 0.6, 0, 0})
	}
	add(false, reason{Reason{"gravel", "Gravel left in the jar lies with the sand and makes it look sandier.",
		"Sieve the soil through 2 mm and fill a fresh jar."}, 0.2, 0, 0, 0.9})
	add(false, reason{Reason{"fine_sand", "Very fine sand feels smooth and is easily taken for silt; coarse sand feels like more than it is.",
		"Rub a wet pinch near your ear: sand can be heard."}, 0, 0, 0.5, 0.5})
	add(o.Hands != Practised, reason{Reason{"practice", "Hands that are new to this often miss the class by one or two.",
		"Let somebody practised feel the same soil, or practise on one whose laboratory result you know."}, 0.2, 0.2, 0.2, 0.2})
	add(false, reason{Reason{"other_soil", "The handful and the jar may not hold the same soil.",
		"Take both from one well-mixed bucket."}, 0.4, 0.4, 0.4, 0.4})
	return out
}

var (
	darkWords   = regexp.MustCompile(`(?i)\b(black|blackish|dark|humic|peaty)\b`)
	valueChroma = regexp.MustCompile(`([0-9.]+)/([0-9.]*)$`)
)

// Dark says whether soil is as dark as organic matter makes it: by plain words,
// or by a Munsell notation with a value of at most 3 moist or 5 dry and a chroma
// of at most 3 (mollic colours, Keys to Soil Taxonomy; from memory).
func Dark(moist, dry string) bool {
	return dark(moist, 3) || dark(dry, 5)
}

func dark(colour string, value float64) bool {
	if m := valueChroma.FindStringSubmatch(strings.TrimSpace(colour)); m != nil {
		chroma := 0.0 // a neutral grey
		if m[2] != "" {
			chroma = decimal(m[2])
		}
		return decimal(m[1]) <= value && chroma <= 3
	}
	return darkWords.MatchString(colour) && !strings.Contains(strings.ToLower(colour), "dark red")
}
