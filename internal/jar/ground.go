package jar

import (
	"math"

	"mudline/internal/advice"
	"mudline/internal/reading"
	"mudline/internal/record"
	"mudline/layers"
	"mudline/texture"
	"mudline/texture/feel"
	"mudline/texture/moisture"
)

// ground adds what the person's hands say beside the jar, and what the texture
// means for the garden. It comes last: both look at all the rest.
func ground(r *reading.Reading, rec *record.Record, system texture.System, tex *texture.Result, last *shot) error {
	o := advice.Options{OrganicMatter: rec.OrganicMatter, RootingDepthMM: rec.RootingDepthMM, DailyUseMM: rec.DailyUseMM}
	seen := feel.Jar{Cloudy: last.noted(layers.NoteCloudy), RulerClay: math.NaN()}
	var soils []texture.Fractions
	if tex != nil {
		soils, seen.Soils, o.Soils = tex.Soils, tex.SoilsAt50UM, tex.SoilsAt50UM
	}
	if b := r.ByThickness; b != nil && b.Clay != nil {
		seen.RulerClay = *b.Clay
	}
	if rec.Hand == nil || rec.Hand.Smell != feel.Fuel { // such a jar is not shaken again
		r.NextPhoto = nextPhoto(tex)
	}
	r.Hand = handOf(rec.Hand, system, soils, seen)
	if rec.Hand != nil {
		o.Smell = rec.Hand.Smell
	}
	if rec.Crop != "" {
		c, err := moisture.FindCrop(rec.Crop)
		if err != nil {
			return err
		}
		o.Crop = &c
	}
	r.Meaning = advice.Of(*r, o)
	return nil
}
