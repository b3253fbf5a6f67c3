package jar

import (
	"math"

	"mudline/internal/checked"
	"mudline/internal/reading"
	"mudline/internal/record"
	"mudline/internal/words"
	"mudline/texture"
	"mudline/texture/feel"
)

// fewestSoils is how many of the jar's soils, counted as equally weighted ones,
// must be left for a joint estimate: fewer cannot show its spread.
const fewestSoils = 20

// HandAlone is what hands say without a jar, by the limits of system and without
// a text: what was said, and either the questions it raises or, where it tells
// anything of the texture, the clay and the classes.
func HandAlone(o feel.Observation, system texture.System) *reading.Hand {
	h := &reading.Hand{Said: record.Said(o)}
	for _, q := range feel.Check(o) {
		h.Questions, h.QuestionsSaid = append(h.Questions, q.String()), append(h.QuestionsSaid, q)
	}
	if len(h.Questions) > 0 || !feel.Telling(o) {
		return h
	}
	alone := feel.ByHand(o, system)
	h.RibbonMM = ribbons(o.RibbonsMM)
	h.Clay = &reading.Range{Value: alone.Clay.Value, Low: alone.Clay.Low, High: alone.Clay.High}
	h.Classes = likely(alone.Classes)
	return h
}

// fewestTests is how many tests an agreement needs to say much.
const fewestTests = 3

// handOf sets the hands beside the jar; nil where nothing was observed. soils
// are the jar's equally likely soils by the limits of system, and seen.Soils the
// same ones by those of USDA, which hands go by; both are empty where the jar
// gave no fractions.
func handOf(o *feel.Observation, system texture.System, soils []texture.Fractions, seen feel.Jar) *reading.Hand {
	if o == nil || o.Empty() {
		return nil
	}
	h := HandAlone(*o, system)
	if h.Clay == nil {
		text := words.Say("jar.hand-says-nothing")
		switch {
		case len(h.Questions) > 0:
			text = words.Say("jar.hand-in-question")
		case o.Smell == feel.Fuel:
			text = words.Say("jar.hand-put-down")
		}
		return tell(h, text)
	}
	c, ok := feel.Compare(*o, seen.Soils)
	if !ok {
		return tell(h, words.Say("jar.hand-alone"))
	}
	h.Verdict, h.Probability = string(c.Verdict), reading.Ptr(c.Probability)
	var more, end words.Message
	switch {
	case c.Verdict != feel.Agree:
		more = direction(seen.More(*o))
		for _, r := range feel.Reasons(*o, seen) {
			h.Reasons = append(h.Reasons, reading.Because(r.Code, r.Text, r.Remedy))
		}
	case feel.Tests(*o) < fewestTests:
		more = words.Say("jar.hand-few-tests")
	}
	switch {
	case c.Verdict == feel.Disagree:
		end = words.Say("jar.hand-both-stand")
	case c.Effective < fewestSoils:
		end = words.Say("jar.hand-too-little")
	default:
		h.Joint = joint(soils, c.Weights, system)
	}
	return tell(h, words.Sentences(verdictText(c), more, end))
}

// tell puts the verdict into what the hands say.
func tell(h *reading.Hand, verdict words.Message) *reading.Hand {
	h.Text, h.TextSaid = verdict.String(), verdict.Ptr()
	return h
}

// verdictText says how hands and jar go together.
func verdictText(c feel.Comparison) words.Message {
	of100 := words.Say("jar.of-100-handfuls", words.Whole("handfuls", 100*c.Probability))
	if c.Probability < 0.005 {
		of100 = words.Say("jar.of-100-hardly-one")
	}
	switch c.Verdict {
	case feel.Agree:
		return words.Say("jar.hand-agrees")
	case feel.Borderline:
		return words.Say("jar.hand-only-just", words.Told("why", of100))
	}
	return words.Sentences(words.Say("jar.hand-disagrees", words.Told("why", of100)), checked.Pairs())
}

// plain is the difference, in points, from which on its direction is told.
const plain = 5

// direction says in what hands and jar differ most; nothing where it is little.
func direction(more texture.Fractions) words.Message {
	what, points := "clay", more.Clay
	if math.Abs(more.Sand) > math.Abs(points) {
		what, points = "sand", more.Sand
	}
	if math.Abs(more.Silt) > math.Abs(points) {
		what, points = "silt", more.Silt
	}
	switch {
	case points >= plain:
		return words.Say("jar.hand-more", words.Whole("points", points), words.Word("what", "fraction", what))
	case points <= -plain:
		return words.Say("jar.hand-less", words.Whole("points", -points), words.Word("what", "fraction", what))
	}
	return words.Message{}
}

func ribbons(mm []float64) *reading.Ribbon {
	n := float64(len(mm))
	if n == 0 {
		return nil
	}
	r := &reading.Ribbon{Count: len(mm)}
	for _, v := range mm {
		r.Mean += v / n
	}
	if n > 1 {
		squares := 0.0
		for _, v := range mm {
			squares += (v - r.Mean) * (v - r.Mean)
		}
		r.SD = reading.Ptr(math.Sqrt(squares / (n - 1)))
	}
	return r
}

// likely leaves out the classes that are as good as ruled out.
func likely(classes []texture.ClassProbability) []reading.OtherClass {
	var out []reading.OtherClass
	for _, c := range classes {
		if c.Probability >= 0.01 {
			out = append(out, reading.OtherClass{Name: c.Name, Probability: c.Probability})
		}
	}
	return out
}

// joint is jar and hands together: the jar's soils, each by what the hands make
// of it.
func joint(soils []texture.Fractions, weights []float64, system texture.System) *reading.Joint {
	sand, silt, clay := feel.Weighted(soils, weights)
	estimate := func(e texture.Estimate) reading.Estimate {
		return reading.Estimate{Percent: e.Value, Low: e.Low, High: e.High}
	}
	j := &reading.Joint{Fractions: reading.Fractions{Sand: estimate(sand), Silt: estimate(silt), Clay: estimate(clay)}}
	if classes := likely(texture.ClassProbabilities(soils, weights, system)); len(classes) > 0 {
		j.Class = &reading.Class{System: system.String(), Name: classes[0].Name, Probability: classes[0].Probability, Others: classes[1:]}
	}
	return j
}
