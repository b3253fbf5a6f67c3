package advice

import (
	"mudline/internal/reading"
	"mudline/internal/words"
	"mudline/texture/moisture"
)

// more is the rest of what the texture means: the numbers with what they rest
// on, then what helps and what is known not to.
func (g *ground) more() []reading.Statement {
	out := []reading.Statement{g.assumed()}
	if g.beyond > 0.05 {
		out = append(out, say("limits", saxton, words.Say("advice.beyond-equations", words.Whole("share", 100*g.beyond),
			words.Figures("clay", moisture.MaxClay, 3), words.Figures("organic", moisture.MaxOrganic, 3))))
	}
	out = append(out,
		say("water", saxton, words.Say("advice.water-held",
			words.Whole("capacity", g.capacity.Value), words.Whole("capacity_low", g.capacity.Low), words.Whole("capacity_high", g.capacity.High),
			words.Whole("wilting", g.wilting.Value), words.Whole("wilting_low", g.wilting.Low), words.Whole("wilting_high", g.wilting.High),
			words.Beside("available", g.available.Value, 0, 0), words.Whole("low", g.available.Low), words.Whole("high", g.available.High))),
		say("spread", bands, words.Say("advice.spread")),
		g.deeper(),
		say("drainage", saxton, words.Say("advice.full", words.Beside("rate", g.conductivity.Value, 0, decimals(g.conductivity.Value)),
			words.Decimal("low", g.conductivity.Low, decimals(g.conductivity.Low)), words.Decimal("high", g.conductivity.High, decimals(g.conductivity.High)))),
		say("drainage", practice, words.Say("advice.test-drainage")),
		say("organic_matter", minasny, words.Say("advice.organic-carbon", words.Beside("more", 10, 20, 0))),
	)
	if g.share(heavy) > hardly {
		out = append(out, say("drainage", infiltrate, words.Say("advice.sodic", words.Beside("rate", moisture.SodicClay.HighMMH, 0, 0))))
	}
	out = append(out,
		say("amendments", practice, words.Say("advice.gypsum")),
		say("amendments", practice, words.Say("advice.lime")),
		say("amendments", newYork, words.Say("advice.texture-stays")))
	if g.share(sandy) < surely {
		out = append(out, say("compaction", words.Then(osuJar, practice), words.Say("advice.compaction")))
	}
	if !g.soggy() {
		out = append(out, say("waterlogging", practice, words.Say("advice.smells-later")))
	}
	if s := g.r.Suspension; s != nil && s.Percent >= 1 && g.share(heavy) > hardly {
		out = append(out, say("dispersion", practice, words.Say("advice.dispersion")))
	}
	return out
}

// assumed names what the figures were reckoned with.
func (g *ground) assumed() reading.Statement {
	b := g.bed
	out := words.Say("advice.reckoned", words.Word("plants", "crop", g.plants),
		words.Beside("depth", b.RootingDepthMM, 0, 0), words.Word("depth_from", "from", b.RootingDepthFrom),
		figures("use", b.DailyUseMM, 2), words.Told("use_from", ranged(b.DailyUseFrom, b.DailyUseMM, useSpread)), words.Whole("depletion", 100*b.Depletion),
		words.Figures("organic", g.organic, 2), words.Told("organic_from", ranged(g.organicFrom, g.organic, organicSpread)))
	if b.RootingDepthFrom == "assumed" || b.DailyUseFrom == "assumed" || g.organicFrom == "assumed" {
		out = words.Sentences(out, words.Say("advice.state-your-own"))
	}
	return say("assumptions", fao56, out)
}

// ranged says where a value is from; what is assumed has a range.
func ranged(from string, v, factor float64) words.Message {
	if from == "assumed" {
		return words.Say("advice.assumed-within", words.Figures("low", v/factor, 2), words.Figures("high", v*factor, 2))
	}
	return words.WordOf("from", from)
}

// deeper says how long the water lasts plants with other roots.
func (g *ground) deeper() reading.Statement {
	var each words.Message
	for _, name := range []string{"lettuce", "carrot", "tomato", "cool-season lawn"} {
		c, err := moisture.FindCrop(name)
		if err != nil || c.Name == g.bed.Crop {
			continue
		}
		use := g.bed.DailyUseMM
		_, readily, days := g.lasts(c.RootsFromMM, moisture.Depletion(c.Depletion, use), use)
		each = words.Then(each, words.Say("advice.lasts", words.Word("plants", "crop", c.Plants), words.Beside("water", round(readily.Value), 0, 0), words.Told("every", every(days))))
	}
	return say("watering", fao56, words.Say("advice.other-roots", figures("use", g.bed.DailyUseMM, 2), words.Told("each", each)))
}

// decimals are those of a rate in millimetres an hour.
func decimals(mmH float64) int {
	if mmH < 9.95 {
		return 1
	}
	return 0
}

// laboratory says when one is worth its price.
func (g *ground) laboratory() reading.Statement {
	said := words.Say("advice.laboratory")
	switch n := len(g.classes); {
	case g.wide() || g.torn():
		said = words.Sentences(said, words.Say("advice.laboratory-doubt"))
	case n > 0 && g.classes[0].Probability >= surely:
		said = words.Sentences(said, words.Say("advice.laboratory-known"))
	}
	return say("laboratory", practice, said)
}
