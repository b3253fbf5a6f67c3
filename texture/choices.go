package texture

import "math"

// Candidate is a boundary seen inside the deposit that might be the sand's top or
// the silt's. Which it is, settling decides together with the picture's odds.
type Candidate struct {
	Share, SD float64 // height above the inner floor and its standard deviation, shares of the water depth
	// SandOdds and SiltOdds are the picture's probabilities, 0..1, that the sand's
	// top or the silt's lies there; the rest of 1 is that neither does.
	SandOdds, SiltOdds float64
}

// Placed says which candidate of a photo a line was found to be.
type Placed struct {
	Photo       int // index of the observation
	Line        Line
	Candidate   int // index into its candidates
	Probability float64
}

// choice is a place where a line may lie.
type choice struct {
	mm, sd, odds float64
	candidate    int
}

// leastNowhere is the least chance that a line is at none of its candidates.
const leastNowhere = 0.05

// choose makes of a photo's candidates what is measured of the sand's top or the
// silt's: a mixture of places, and evenly anywhere below the deposit's top for the
// chance that it is none of them. False where no candidate may be the line.
func choose(photo int, line lineKind, o Observation, straight func(share, sd float64) (mm, sdMM float64), depthMM float64) (measured, bool) {
	m := measured{photo: photo, line: line, time: o.ElapsedS, together: 1}
	sum, sd := 0.0, 0.0
	for i, c := range o.Candidates {
		odds := c.SandOdds
		if line == siltTop {
			odds = c.SiltOdds
		}
		if odds <= 0 {
			continue
		}
		mm, own := straight(c.Share, c.SD)
		h := choice{mm, own, odds, i}
		m.choices = append(m.choices, h)
		sum += odds
		m.value, sd = m.value+odds*mm, sd+odds*h.sd
	}
	if m.choices == nil {
		return m, false
	}
	m.value, sd = m.value/sum, sd/sum
	alone := newMeasured(photo, line, m.value, sd, o.ElapsedS)
	m.shared, m.scale = alone.shared, alone.scale
	top := depthMM / 2
	if o.DepositTop != nil {
		top, _ = straight(o.DepositTop.Share, 0)
	}
	most := math.Min(sum, 1-leastNowhere)
	for i := range m.choices {
		m.choices[i].odds *= most / sum
		m.choices[i].sd *= math.Sqrt(1 - alike[line])
	}
	m.nowhere = (1 - most) / math.Max(top, 5)
	return m, true
}

// weighChoices is the density of the line's lying at pred, per mm, and the pull of
// the choices on it with their information.
func (m *measured) weighChoices(pred predicted) (density, pull, info float64) {
	for _, c := range m.choices {
		d := c.density(pred)
		v := c.sd*c.sd + pred.unsure*pred.unsure
		density += d
		info += d / v
		pull += d * (c.mm - pred.at) / v
	}
	density += m.nowhere
	return density, pull / density, info / density
}

func (c choice) density(pred predicted) float64 {
	sd := math.Hypot(c.sd, pred.unsure)
	r := (c.mm - pred.at) / sd
	return c.odds / sd / math.Sqrt(2*math.Pi) * math.Exp(-r*r/2)
}

// temper is what a photo's odds count for: photos of one jar are fooled by the
// same things, so n of them count for the root of n.
func (m *measured) temper() float64 { return 1 / math.Sqrt(float64(m.together)) }

// together tells every choice of a line how many photos there are of it.
func together(data []measured) {
	for _, line := range []lineKind{sandTop, siltTop} {
		n := 0
		for _, m := range data {
			if m.line == line && m.choices != nil {
				n++
			}
		}
		for i := range data {
			if data[i].line == line {
				data[i].together = n
			}
		}
	}
}

// placed lists the candidates that more likely than not are a line, by settling
// and the picture together.
func (pr *problem) placed(s []sample) []Placed {
	var out []Placed
	for k := range pr.data {
		m := &pr.data[k]
		p := make([]float64, len(m.choices))
		for i := range s {
			if s[i].weight < 1e-6 {
				continue
			}
			density, _, _ := m.weighChoices(s[i].pred[k])
			for c := range p {
				p[c] += s[i].weight * m.choices[c].density(s[i].pred[k]) / density
			}
		}
		for c := range p {
			if p[c] > 0.5 {
				out = append(out, Placed{m.photo, lineOf[m.line], m.choices[c].candidate, math.Min(p[c], 1)})
			}
		}
	}
	return out
}
