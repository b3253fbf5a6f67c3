package advice

import (
	"math"
	"strconv"

	"mudline/internal/reading"
	"mudline/internal/words"
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
		todo := words.Say("advice.dig-a-hole")
		if g.infiltration.Low >= 10 && g.organic <= peaty {
			todo = words.Say("advice.what-holds-water")
		}
		out = append(out, say("waterlogging", practice, words.Say("advice.waterlogged", words.Word("smell", "smell", string(g.o.Smell)), words.Told("todo", todo))))
	}
	if g.organic > peaty {
		out = append(out, say("organic_matter", rb209, words.Say("advice.organic-soil", words.Figures("organic", g.organic, 3))))
	}
	if g.torn() {
		out = append(out, say(reading.DoubtTopic, own, words.Say("advice.torn", words.Told("settle", g.settle()))))
	} else if g.wide() {
		out = append(out, say(reading.DoubtTopic, own, words.Say("advice.wide", words.Told("extent", g.extent()), words.Told("settle", g.settle()))))
	}
	return out
}

// Contaminated is what to do with soil that smells of fuel, and nothing else.
func Contaminated() reading.Statement {
	return say(reading.ContaminationTopic, practice, words.Say("advice.contaminated"))
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

func (g *ground) extent() words.Message {
	names := g.likely()
	return words.Say("result-range", words.Word("low", "class", names[0]), words.Word("high", "class", names[len(names)-1]))
}

// settling are the warnings of a reading whose remedy makes the texture surer,
// the one that does most for it first.
var settling = []reading.WarningCode{reading.Short, reading.SinglePhoto, reading.NoEarlyPhoto, reading.OneLayer, reading.SandSilt, reading.NoWaterDepth, reading.SiltClay,
	reading.Cloudy, reading.OddLine, reading.LinesContradict}

// settle says what would make the texture surer, in a sentence.
func (g *ground) settle() words.Message {
	would := func(todo words.Message) words.Message {
		return words.Sentences(words.Message{}, words.Say("advice.would-settle", words.Told("todo", todo)))
	}
	if g.torn() {
		for _, reason := range g.r.Hand.Reasons {
			if todo := reason.Help(); !todo.IsZero() {
				return would(todo)
			}
		}
	}
	for _, code := range settling {
		for _, w := range g.r.Warnings {
			if todo := w.Help(); w.Code == code && !todo.IsZero() {
				return would(todo)
			}
		}
	}
	return words.Say("advice.ribbons-settle")
}

func (g *ground) watering() reading.Statement {
	b := g.bed
	when := words.Say("advice.warm-dry")
	if b.DailyUseFrom != "assumed" {
		when = words.Say("advice.dry-at", figures("use", b.DailyUseMM, 2))
	}
	if g.soggy() {
		when = words.Say("advice.once-dry", words.Told("when", when))
	}
	plants := words.Word("plants", "crop", g.plants)
	middle, low, high := round(b.ReadilyMM.Value), round(b.ReadilyMM.Low), round(b.ReadilyMM.High)
	if b.Days.Value < 1 {
		use, goes := round(b.DailyUseMM), words.Told("goes", words.Say("advice.many-small"))
		if n := math.Ceil(1 / b.Days.Value); n <= 4 {
			goes = words.Whole("goes", n)
		}
		return say("watering", words.Then(saxton, fao56), words.Say("advice.water-daily", words.Told("when", when), plants, words.Beside("water", use, 0, 0),
			words.Arg{Name: "bed", Value: words.Watering{Litres: use}}, goes, words.Whole("low", low), words.Whole("high", high)))
	}
	return say("watering", words.Then(saxton, fao56), words.Say("advice.water", words.Told("when", when), plants, words.Beside("water", middle, 0, 0),
		words.Told("every", every(b.Days)), words.Arg{Name: "bed", Value: words.Watering{Litres: middle, Low: low, High: high}}))
}

func (g *ground) soggy() bool { return g.o.Smell == feel.Sour || g.o.Smell == feel.RottenEgg }

func (g *ground) drainage() reading.Statement {
	soil, in, from := g.soil(), g.infiltration, words.Then(infiltrate, practice)
	switch {
	case g.organic > peaty:
		return say("drainage", practice, words.Say("advice.drains-by-humus"))
	case in.Low >= 20:
		return say("drainage", from, words.Say("advice.drains-at-once", soil, words.Beside("dose", round(g.bed.ReadilyMM.High), 0, 0)))
	case in.High <= 10:
		return say("drainage", from, words.Say("advice.drains-slowly", soil, span("rate", in.Low, in.High), words.Told("how", g.split())))
	case in.Low >= 10:
		return say("drainage", from, words.Say("advice.drains-well", soil, span("rate", in.Low, in.High), words.Told("how", g.pace())))
	}
	rate := words.Say("advice.an-hour", words.Beside("rate", in.Low, in.High, 0))
	if math.IsInf(in.High, 1) {
		rate = words.Say("advice.as-fast-as-poured", words.Beside("rate", in.Low, 0, 0))
	}
	return say("drainage", from, words.Say("advice.drains-unsure", soil, words.Told("rate", rate)))
}

// split divides a watering that slow ground cannot take at once into what it takes
// in an hour at best.
func (g *ground) split() words.Message {
	n := math.Ceil(g.bed.ReadilyMM.Value / g.infiltration.High)
	switch {
	case n <= 1:
		return words.Say("advice.water-gently")
	case n > 4:
		return words.Say("advice.drip-line")
	}
	return words.Say("advice.split", words.Word("goes", "count", strconv.Itoa(int(n))))
}

// pace is how long a watering should take where the ground takes it well.
func (g *ground) pace() words.Message {
	hours := g.bed.ReadilyMM.Value / g.infiltration.Low
	switch {
	case hours <= 0.75:
		return words.Say("advice.half-an-hour")
	case hours <= 1.5:
		return words.Say("advice.an-hour-each")
	}
	return words.Say("advice.hours-each", words.Whole("hours", math.Ceil(hours)))
}

func (g *ground) working() reading.Statement {
	squeeze := words.Told("squeeze", words.Say("advice.squeeze"))
	switch p := g.share(heavy); {
	case g.share(sandy) >= surely:
		return say("working", practice, words.Say("advice.work-sand"))
	case p >= surely:
		return say("working", words.Then(osuJar, practice), words.Say("advice.work-clay", squeeze))
	case p <= hardly:
		return say("working", practice, words.Say("advice.work-loam", squeeze))
	}
	return say("working", practice, words.Say("advice.work-unsure", squeeze))
}

// amending advises compost: much once, for a new bed, and little after that, since
// the phosphorus of years of it stays in the ground (umnCompost).
func (g *ground) amending() reading.Statement {
	compost, yearly := words.Told("compost", words.Say("advice.compost")), words.Told("yearly", words.Say("advice.compost-yearly"))
	source := words.Then(osuMyths, umnCompost)
	switch p := g.share(heavy); {
	case p >= surely:
		return say("amendments", source, words.Say("advice.amend-clay", compost, yearly))
	case g.share(sandy) >= surely:
		return say("amendments", words.Then(source, minasny), words.Say("advice.amend-sand", compost, yearly))
	case p <= hardly:
		return say("amendments", source, words.Say("advice.amend-loam", compost, yearly))
	}
	return say("amendments", source, words.Say("advice.amend-unsure", compost, yearly))
}

func (g *ground) surface() reading.Statement {
	switch {
	case g.share(sealing) >= surely:
		return say("crusting", words.Then(osuTexture, practice), words.Say("advice.crust-silt"))
	case g.share(heavy) >= surely:
		return say("crusting", words.Then(osuTexture, practice), words.Say("advice.crust-clay"))
	case g.share(sandy) >= surely:
		return say("crusting", practice, words.Say("advice.mulch-sand"))
	}
	return say("crusting", words.Then(osuTexture, practice), words.Say("advice.mulch"))
}
