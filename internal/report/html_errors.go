package report

import (
	"fmt"
	"math"
	"slices"

	"mudline/internal/reading"
	"mudline/texture"
)

// errorView is the error analysis.
type errorView struct {
	Causes []causeRow
	// Reading says how exactly the lines were read, Times the photos' times.
	Reading, Times string
	Assumed        []string
	Surer          []string
	// Repeat says what three jars of the same soil would show.
	Repeat string
}

// causeRow is one cause of the doubt.
type causeRow struct {
	Name, Kind, Text string
	Share            float64
}

var causeNames = map[string]string{
	"heights": "Where the lines lie in the photos", "times": "When the photos were taken", "temperature": "The water's temperature",
	"water_depth": "The water's depth", "packing": "How tightly the layers are packed", "floc_share": "How much of the clay clumps",
	"grain_curve": "How fine the sand and the silt are", "grain_density": "How heavy the grains are",
	"hindered_settling": "How much the grains hold each other up",
	"amount_of_soil":    "How much soil is in the jar", "stones": "How many stones lie with the sand", "crumbs": "How much clay stays in crumbs",
	"organic_matter": "How much organic matter sank",
}

func errorsOf(r reading.Reading, o Options) errorView {
	var v errorView
	for _, c := range r.Causes {
		if c.Share < leastCause {
			continue
		}
		name := causeNames[c.Code]
		if name == "" {
			name = capital(c.Code)
		}
		v.Causes = append(v.Causes, causeRow{name, sourceOfDoubt(c.Code), capital(sentence(c.Text)), c.Share})
	}
	v.Reading, v.Times = o.readingError(r), timesError(r)
	v.Assumed = o.assumed(r)
	if n := r.NextPhoto; n != nil {
		v.Surer = append(v.Surer, n.Text)
	}
	for _, w := range r.Warnings {
		if w.Remedy != "" && !slices.Contains(v.Surer, capital(sentence(w.Remedy))) {
			v.Surer = append(v.Surer, capital(sentence(w.Remedy)))
		}
	}
	if f := r.Fractions; f != nil {
		v.Repeat = fmt.Sprintf("Repeat it: shake the same jar again, or fill two more with the same soil, and photograph them at the same times. This reading gives %s %.0f %% with an interval from %.0f to %.0f %%. If the three results lie closer together than that, the jar repeats well, and what doubt is left is shared by all three: the physics, the packing, your sample. If they lie further apart, the sample or the shaking differed.",
			"sand", f.Sand.Percent, f.Sand.Low, f.Sand.High)
	}
	return v
}

// readingError weighs the error of the last photo's lines against the layers.
func (o Options) readingError(r reading.Reading) string {
	if len(r.Photos) == 0 {
		return ""
	}
	last := r.Photos[len(r.Photos)-1]
	_, shown := heightsOf(last, r)
	if shown == nil || shown.DepositTop == nil || shown.DepositTop.Value <= 0 {
		return ""
	}
	top := shown.DepositTop
	worst := 0.0
	for _, h := range []*reading.Height{shown.SandTop, shown.SiltTop, top} {
		if h != nil {
			worst = math.Max(worst, 2*h.SD)
		}
	}
	percent := shown == last.HeightsPercent
	write := func(v float64) string {
		if percent {
			return fmt.Sprintf("%.1f %% of the water depth", v)
		}
		return o.length(v)
	}
	return fmt.Sprintf("In the last photo the soil is %s thick, and the lines were read to ± %s or better (95 times in 100). An error of %s in one line alone moves a layer by %s of the thickness.",
		write(top.Value), write(worst), write(worst), points(100*worst/top.Value))
}

// timesError says how far off the times may be.
func timesError(r reading.Reading) string {
	worst, which := 0.0, ""
	for _, p := range r.Photos {
		if p.ElapsedS > 0 && p.ElapsedSDS/p.ElapsedS > worst {
			worst, which = p.ElapsedSDS/p.ElapsedS, elapsed(p.ElapsedS)
		}
	}
	if worst == 0 {
		return ""
	}
	return fmt.Sprintf("The least sure time, of the photo after %s, is good to ± %.0f %%. By Stokes' law the smallest grain that is down goes with one over the square root of the time, so its size is good to ± %.0f %%.",
		which, 200*worst, 100*worst)
}

// assumed lists what the reading takes for granted.
func (o Options) assumed(r reading.Reading) []string {
	var out []string
	if r.TempFrom == "assumed" {
		out = append(out, "The water was at about "+o.degrees(r.TempC)+"; nobody measured it. Each degree changes settling times by about 2.4 %.")
	}
	if r.WaterDepthMM == nil {
		out = append(out, "Jars of any usual depth were allowed for, since the water depth was not measured.")
	}
	return append(out,
		fmt.Sprintf("Grains weigh about as much as quartz, %.0f kg a cubic metre, give or take a little.", texture.QuartzDensity),
		"The soil was shaken until no lumps were left, and lay still from then on.",
		"All that settles is mineral soil below 2 mm: stones were picked out, and plant remains float or weigh little.",
		"What the front of the jar shows is how the soil lies inside.")
}
