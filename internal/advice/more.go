package advice

import (
	"fmt"
	"strings"

	"mudline/internal/reading"
	"mudline/texture/moisture"
)

// more is the rest of what the texture means: the numbers with what they rest
// on, then what helps and what is known not to.
func (g *ground) more() []reading.Statement {
	out := []reading.Statement{g.assumed()}
	if g.beyond > 0.05 {
		out = append(out, say("limits", saxton, "%.0f %% of the soils that this reading leaves possible lie outside what the equations were fitted to (clay under %g %%, organic matter under %g %%): they are counted as if at the limit.",
			100*g.beyond, moisture.MaxClay, moisture.MaxOrganic))
	}
	out = append(out,
		say("water", saxton, "After draining it holds about %.0f %% water by volume (%.0f to %.0f), and %.0f %% (%.0f to %.0f) when plants wilt: that leaves them %.0f mm in a metre of soil (%.0f to %.0f).",
			g.capacity.Value, g.capacity.Low, g.capacity.High, g.wilting.Value, g.wilting.Low, g.wilting.High, g.available.Value, g.available.Low, g.available.High),
		say("spread", "FAO-56, table 19; UC Drought Management, soil characteristics", "The intervals hold the doubt about the texture, and how far soils of one texture differ: about a quarter up or down in the water for plants. Stones hold none: take off their share."),
		g.deeper(),
		say("drainage", saxton, "Full of water, it would pass about %s mm an hour (%s to %s). That is not how fast it takes rain in: crust, cracks, worms and cover outweigh texture, and published rates for one texture differ two- or threefold.",
			rate(g.conductivity.Value), rate(g.conductivity.Low), rate(g.conductivity.High)),
		say("drainage", practice, "To see how it drains, dig a hole 300 mm (a foot) deep, fill it, let it empty and fill it again. If the second filling stands until the next day, it drains badly, whatever its texture."),
		say("organic_matter", minasny, "Organic matter: each 1 %% more organic carbon holds some 10 to 20 mm more water in a metre of soil, most in sand and hardly any in clay. Studies differ; some found more."),
	)
	if g.share(heavy) > hardly {
		out = append(out, say("drainage", infiltrate, "Clay that is high in sodium takes in less than %.0f mm an hour, slower than clay does by its texture: if puddles stay for days, have sodium tested.", moisture.SodicClay.HighMMH))
	}
	out = append(out,
		say("amendments", practice, "Gypsum helps ground that is high in sodium, which a soil test shows; elsewhere it does little."),
		say("amendments", practice, "Lime only on a soil test: texture sets how much is needed, not whether."),
		say("amendments", "New York Agriculture in the Classroom, Types by Texture", "Nothing you add changes the texture itself in practice; what changes is how the soil holds together."))
	if g.share(sandy) < surely {
		out = append(out, say("compaction", osuJar+"; "+practice, "The finer the soil, the more easily it packs when wet. Beds narrow enough to reach across need no foot on them."))
	}
	if !g.soggy() {
		out = append(out, say("waterlogging", practice, "If the moist soil ever smells sour or of rotten eggs, it is too wet and short of air: stop watering and look at the drainage."))
	}
	if s := g.r.Suspension; s != nil && s.Percent >= 1 && g.share(heavy) > hardly {
		out = append(out, say("dispersion", practice, "Clay that stays in the water for days was well parted in the jar. Clay that clouds plain rain water, too, seals the ground: have sodium tested if puddles stay milky."))
	}
	return out
}

// assumed names what the figures were reckoned with.
func (g *ground) assumed() reading.Statement {
	b := g.bed
	from := func(s string) string {
		return map[string]string{"stated": "as you stated", "crop": "the shallow end of what is usual for them", "assumed": "assumed"}[s]
	}
	ranged := func(s string, v, factor float64) string {
		if s == "assumed" {
			return fmt.Sprintf("assumed, with %.2g to %.2g as its range", v/factor, v*factor)
		}
		return from(s)
	}
	hint := ""
	if b.RootingDepthFrom == "assumed" || b.DailyUseFrom == "assumed" || g.organicFrom == "assumed" {
		hint = " State your own crop, daily use and organic matter for figures that fit."
	}
	return say("assumptions", fao56, "Reckoned for %s with roots %.0f mm deep (%s) that use %.2g mm of water a day (%s) and take %.0f %% of the water before they suffer, and for %.2g %% organic matter (%s).%s",
		g.plants, b.RootingDepthMM, from(b.RootingDepthFrom), b.DailyUseMM, ranged(b.DailyUseFrom, b.DailyUseMM, useSpread), 100*b.Depletion, g.organic, ranged(g.organicFrom, g.organic, organicSpread), hint)
}

// deeper says how long the water lasts plants with other roots.
func (g *ground) deeper() reading.Statement {
	var parts []string
	for _, name := range []string{"lettuce", "carrot", "tomato", "cool-season lawn"} {
		c, err := moisture.FindCrop(name)
		if err != nil || c.Name == g.bed.Crop {
			continue
		}
		use := g.bed.DailyUseMM
		_, readily, days := g.lasts(c.RootsFromMM, moisture.Depletion(c.Depletion, use), use)
		parts = append(parts, fmt.Sprintf("%s %s mm %s", c.Plants, amount(readily.Value), every(days)))
	}
	return say("watering", fao56, "At the same %.2g mm a day: %s. In cool, dull weather, at half of that, it lasts at least twice as long.", g.bed.DailyUseMM, strings.Join(parts, "; "))
}

func rate(mmH float64) string {
	if mmH < 9.95 {
		return fmt.Sprintf("%.1f", mmH)
	}
	return fmt.Sprintf("%.0f", mmH)
}

// laboratory says when one is worth its price.
func (g *ground) laboratory() reading.Statement {
	text := "A jar reading is not a laboratory analysis. A laboratory is worth its price before you buy lime, gypsum or fertiliser for a whole garden, before you grow food near old painted walls, busy roads, orchards or industry (ask for lead and other metals), and where money or a permit hangs on the texture class."
	if g.wide() || g.torn() {
		return say("laboratory", practice, "%s For this soil, whose texture is still in doubt, ask for a particle size analysis as well.", text)
	}
	if n := len(g.classes); n > 0 && g.classes[0].Probability >= surely {
		return say("laboratory", practice, "%s For the garden itself this texture is known well enough.", text)
	}
	return say("laboratory", practice, "%s", text)
}
