package feel

import (
	"math"
	"regexp"
	"slices"
	"strings"

	"mudline/internal/words"
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
type Reason struct {
	Code         string
	Text, Remedy words.Message
}

// because is a reason by its code, under which its texts stand in the catalogues.
func because(code string) Reason {
	return Reason{Code: code, Text: text("reason " + code), Remedy: text("remedy " + code)}
}

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
	organic := because("organic_matter")
	if dark {
		organic.Text = words.Say("hand.reason-dark-soil")
	}
	add(dark, reason{organic, 1.2, 0, 0, 0.2})
	add(false, reason{because("clay_clumped"), 1.3, 0, 0, 0.2})
	if j.Cloudy {
		add(true, reason{because("still_settling"), 0.6, 0.3, 0, 0})
	}
	add(o.StonesOut == No, reason{because("stones"), 0, 0.9, 1, 0})
	add(o.Moistened == No || o.Ball == NoBall && o.Moistened == "", reason{because("too_dry"), 0, 1.1, 0.3, 0})
	add(o.Kneaded == No, reason{because("not_kneaded"), 0, 1, 0.8, 0})
	add(o.Sticky == Strong && o.Moistened != No, reason{because("too_wet"), 0.5, 0.2, 0, 1})
	if r := j.RulerClay; moreClay < 0 && r > estimate(j.Soils, evenly(len(j.Soils)), clay).Value+5 {
		add(false, reason{because("thickness"), 0, 0.6, 0, 0})
	}
	add(false, reason{because("gravel"), 0.2, 0, 0, 0.9})
	add(false, reason{because("fine_sand"), 0, 0, 0.5, 0.5})
	add(o.Hands != Practised, reason{because("practice"), 0.2, 0.2, 0.2, 0.2})
	add(false, reason{because("other_soil"), 0.4, 0.4, 0.4, 0.4})
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
