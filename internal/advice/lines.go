package advice

import (
	"fmt"
	"math"
	"strings"

	"mudline/internal/reading"
	"mudline/texture/feel"
)

// lines are what to do or know this week, the most pressing first.
func (g *ground) lines() []reading.Statement {
	out := append(g.alarms(), g.watering())
	if !g.soggy() { // of whose drainage the alarm speaks
		out = append(out, g.drainage())
	}
	out = append(out, g.working())
	if g.organic > peaty {
		return out
	}
	return append(out, g.amending(), g.surface())
}

// alarms come before all else, and only where there is cause.
func (g *ground) alarms() []reading.Statement {
	var out []reading.Statement
	switch g.o.Smell {
	case feel.Fuel:
		out = append(out, Contaminated())
	case feel.Sour, feel.RottenEgg:
		where := "Dig a hole a spade deep: if water still stands in it a day later, raise the bed or lead the water off."
		if g.infiltration.Low >= 10 && g.organic <= peaty {
			where = "Soil of this texture drains by itself, so look for what holds the water up: a packed layer, high ground water or a leak."
		}
		out = append(out, say("waterlogging", practice, "A %s smell means that the soil is too wet and short of air. Stop watering. %s", g.o.Smell, where))
	}
	if g.organic > peaty {
		out = append(out, say("organic_matter", "Defra RB209", "With %.3g %% organic matter it is an organic soil (a peat above 20 %%): humus rules it, so do not go by its texture class. The water figures here are those for 8 %%.", g.organic))
	}
	if g.torn() {
		out = append(out, say("doubt", own, "Jar and hands disagree, so the texture is in doubt, and with it all that follows. %s", g.settle()))
	} else if g.wide() {
		out = append(out, say("doubt", own, "This reading is too wide to act on by class: it leaves open anything from %s. The next lines are safe over that range. %s", g.extent(), g.settle()))
	}
	return out
}

// Contaminated is what to do with soil that smells of fuel, and nothing else.
func Contaminated() reading.Statement {
	return say("contamination", practice, "Stop here: soil that smells of fuel may be contaminated. Do not handle it any more, wash your hands, grow nothing to eat in it, and ask your local environment office. Until that is settled nothing else here is to be acted on.")
}

// peaty is the organic matter, percent by weight, above which texture names
// lose their meaning: an organic soil in Defra's RB209.
const peaty = 10.0

// torn says that jar and hands disagree.
func (g *ground) torn() bool { return g.r.Hand != nil && g.r.Hand.Verdict == string(feel.Disagree) }

// wide says that the reading is too uncertain to act on: it spans both sandy and
// heavy soil, or so much of the clay scale that no two classes next to each other
// hold it (loam and clay loam together span 33 points).
func (g *ground) wide() bool {
	clay := make([]float64, len(g.soils))
	for i, f := range g.soils {
		clay[i] = f.Clay
	}
	c := within(clay)
	return c.High-c.Low > 33 && len(g.likely()) > 2 || g.share(sandy) > 0.05 && g.share(heavy) > 0.05
}

func (g *ground) extent() string {
	names := g.likely()
	return names[0] + " to " + names[len(names)-1]
}

// settling are the warnings of a reading whose remedy makes the texture surer,
// the one that does most for it first.
var settling = []string{"short", "single_photo", "no_early_photo", "one_layer", "sand_silt_not_told_apart", "no_water_depth", "silt_clay_not_told_apart",
	"clay_still_in_suspension", "odd_line"}

// settle says what would make the texture surer.
func (g *ground) settle() string {
	if g.torn() {
		for _, reason := range g.r.Hand.Reasons {
			if reason.Remedy != "" {
				return "What would settle it: " + sentence(reason.Remedy)
			}
		}
	}
	for _, code := range settling {
		for _, w := range g.r.Warnings {
			if w.Code == code && w.Remedy != "" {
				return "What would settle it: " + sentence(w.Remedy)
			}
		}
	}
	return "What would settle it: press five ribbons by hand and state them, or send a sample to a laboratory."
}

func sentence(s string) string { return strings.TrimSuffix(s, ".") + "." }

func (g *ground) watering() reading.Statement {
	b := g.bed
	when := "in warm weather without rain"
	if b.DailyUseFrom != "assumed" {
		when = fmt.Sprintf("without rain, at %.2g mm a day", b.DailyUseMM)
	}
	if g.soggy() {
		when = "once the ground has dried: " + when
	}
	middle, low, high := amount(b.ReadilyMM.Value), amount(b.ReadilyMM.Low), amount(b.ReadilyMM.High)
	if b.Days.Value < 1 {
		use, goes := amount(b.DailyUseMM), "many small"
		if n := math.Ceil(1 / b.Days.Value); n <= 4 {
			goes = fmt.Sprintf("%.0f", n)
		}
		return say("watering", saxton+"; "+fao56, "%s, give %s about %s mm of water every day, %s litres on each square metre, in %s goes: this ground holds only %s to %s litres ready for their roots. Take off what rain gave.",
			when, g.plants, use, use, goes, low, high)
	}
	return say("watering", saxton+"; "+fao56, "%s, give %s about %s mm of water %s: %s litres on each square metre (%s to %s, as the soil may be). Take off what rain gave.",
		when, g.plants, middle, every(b.Days), middle, low, high)
}

func (g *ground) soggy() bool { return g.o.Smell == feel.Sour || g.o.Smell == feel.RottenEgg }

func (g *ground) drainage() reading.Statement {
	name, in, dose := g.soil(), g.infiltration, g.bed.ReadilyMM
	switch {
	case g.organic > peaty:
		return say("drainage", practice, "How fast it takes water in depends on its humus, so go by the ground: water slowly, and stop when puddles stay for a minute.")
	case in.Low >= 20:
		return say("drainage", infiltrate+"; "+practice, "%s drains at once. Whatever you give beyond %s mm in one go runs below the roots and takes plant food along: water and feed little and often.", name, amount(dose.High))
	case in.High <= 10:
		return say("drainage", infiltrate+"; "+practice, "%s takes water in slowly, by published tables %s an hour. %s", name, span(in.Low, in.High), g.split())
	case in.Low >= 10:
		return say("drainage", infiltrate+"; "+practice, "%s drains well and takes in, by published tables, %s an hour: %s", name, span(in.Low, in.High), g.pace())
	}
	most := fmt.Sprintf("%.0f to %.0f mm an hour", in.Low, in.High)
	if math.IsInf(in.High, 1) {
		most = fmt.Sprintf("%.0f mm an hour to as fast as you pour", in.Low)
	}
	return say("drainage", infiltrate+"; "+practice, "%s may take in anything from %s, so go by the ground: water slowly, and stop when puddles stay for a minute.", name, most)
}

// split divides a watering that slow ground cannot take at once into what it takes
// in an hour at best.
func (g *ground) split() string {
	n := math.Ceil(g.bed.ReadilyMM.Value / g.infiltration.High)
	switch {
	case n <= 1:
		return "Water gently, and stop when puddles stay."
	case n > 4:
		return "Let a drip line run for a day or more rather than flood it."
	}
	return "Split the watering into " + []string{"two", "three", "four"}[int(n)-2] + " goes some hours apart, and stop when puddles stay."
}

// pace is how long a watering should take where the ground takes it well.
func (g *ground) pace() string {
	hours := g.bed.ReadilyMM.Value / g.infiltration.Low
	switch {
	case hours <= 0.75:
		return "half an hour for one watering is slow enough."
	case hours <= 1.5:
		return "take an hour over one watering."
	}
	return "take " + fmt.Sprintf("%.0f", math.Ceil(hours)) + " hours over one watering."
}

func (g *ground) working() reading.Statement {
	const squeeze = "squeeze a handful from a spade's depth: if it crumbles at a poke, dig; if it stays a lump or smears, wait"
	switch p := g.share(heavy); {
	case g.share(sandy) >= surely:
		return say("working", practice, "You can dig almost any day, even the day after rain; bone-dry sand blows and slides, so wet it first.")
	case p >= surely:
		return say("working", osuJar+"; "+practice, "Before digging, %s two or three more days. Worked or walked on wet, it packs hard and stays so for the season: keep to paths or boards.", squeeze)
	case p <= hardly:
		return say("working", practice, "A day or two after rain it can usually be dug. To be sure, %s a day.", squeeze)
	}
	return say("working", practice, "It may be heavy ground, so before digging %s two more days. Keep off it while it is wet.", squeeze)
}

// amending advises compost: much once, for a new bed, and little after that, since
// the phosphorus of years of it stays in the ground (umnCompost).
func (g *ground) amending() reading.Statement {
	const (
		once   = "75 to 100 mm (3 to 4 inches) of compost"
		yearly = "After that give 25 mm (1 inch) or less a year, and none where a soil test finds much phosphorus."
		source = osuMyths + "; " + umnCompost
	)
	switch p := g.share(heavy); {
	case p >= surely:
		return say("amendments", source, "Work %s into a new bed, once. %s Do not add sand: it does not open clay.", once, yearly)
	case g.share(sandy) >= surely:
		return say("amendments", source+"; "+minasny, "Work %s into a new bed, once: in sand it does most for the water held. %s", once, yearly)
	case p <= hardly:
		return say("amendments", source, "Work %s into a new bed, once. %s", once, yearly)
	}
	return say("amendments", source, "Work %s into a new bed, once, which is right for all that this soil may be. %s Add no sand.", once, yearly)
}

func (g *ground) surface() reading.Statement {
	switch {
	case g.share(sealing) >= surely:
		return say("crusting", osuTexture+"; "+practice, "Rain seals its surface. Keep it covered with mulch, water seed rows with a fine rose, and rake a crust open before the seedlings come.")
	case g.share(heavy) >= surely:
		return say("crusting", osuTexture+"; "+practice, "Mulch before it dries out: bare clay crusts and cracks, and then water runs down the cracks past the roots.")
	case g.share(sandy) >= surely:
		return say("crusting", practice, "Cover bare ground with 50 to 75 mm (2 to 3 inches) of mulch: the little water it holds then goes to the plants.")
	}
	return say("crusting", osuTexture+"; "+practice, "Cover bare ground with 50 mm (2 inches) of mulch: it saves water, and keeps rain from sealing the surface.")
}
