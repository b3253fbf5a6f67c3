package jar

import (
	"fmt"
	"math"

	"mudline/internal/reading"
	"mudline/internal/record"
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
	h := &reading.Hand{Said: record.Said(o), Questions: feel.Check(o)}
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
		h.Text = "What was noted by hand says nothing of the texture: try the ball, the ribbon and the grit."
		if len(h.Questions) > 0 {
			h.Text = "The hand test raises a question, so nothing is concluded from it yet."
		}
		return h
	}
	c, ok := feel.Compare(*o, seen.Soils)
	if !ok {
		h.Text = "The jar gave no percentages, so the hand test stands alone."
		return h
	}
	h.Verdict, h.Probability = string(c.Verdict), reading.Ptr(c.Probability)
	h.Text = verdictText(c)
	if c.Verdict != feel.Agree {
		h.Text += direction(seen.More(*o))
		for _, r := range feel.Reasons(*o, seen) {
			h.Reasons = append(h.Reasons, reading.HandReason{Code: r.Code, Text: r.Text, Remedy: r.Remedy})
		}
	}
	if c.Verdict == feel.Agree && feel.Tests(*o) < fewestTests {
		h.Text += " One or two tests fit many soils, though: try the ball, ribbons and the grit as well."
	}
	switch {
	case c.Verdict == feel.Disagree:
		h.Text += " Both stand as they are: neither corrects the other."
	case c.Effective < fewestSoils:
		h.Text += " They have too little in common for a joint estimate."
	default:
		h.Joint = joint(soils, c.Weights, system)
	}
	return h
}

// verdictText says how hands and jar go together.
func verdictText(c feel.Comparison) string {
	of100 := fmt.Sprintf("of 100 handfuls of the soil that the jar shows, %.0f would feel as far off as yours or farther", 100*c.Probability)
	if c.Probability < 0.005 {
		of100 = "of 100 handfuls of the soil that the jar shows, hardly one would feel as far off as yours"
	}
	switch c.Verdict {
	case feel.Agree:
		return "Your hands and the jar agree: " + of100 + "."
	case feel.Borderline:
		return "Your hands and the jar only just agree: " + of100 + "."
	}
	return "Your hands and the jar do not agree: " + of100 + "."
}

// plain is the difference, in points, from which on its direction is told.
const plain = 5

// direction says in what hands and jar differ most; empty where it is little.
func direction(more texture.Fractions) string {
	what, points := "clay", more.Clay
	if math.Abs(more.Sand) > math.Abs(points) {
		what, points = "sand", more.Sand
	}
	if math.Abs(more.Silt) > math.Abs(points) {
		what, points = "silt", more.Silt
	}
	switch {
	case points >= plain:
		return fmt.Sprintf(" Your hands feel about %.0f points more %s.", points, what)
	case points <= -plain:
		return fmt.Sprintf(" Your hands feel about %.0f points less %s.", -points, what)
	}
	return ""
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
