// Package advice says what a texture means for the garden: how much water a bed
// holds and how often it wants some, how it drains, when it can be worked, and
// what helps. It speaks from the whole cloud of soils that a reading leaves
// possible, so that nothing is said more surely than the reading allows.
package advice

import (
	"math"

	"mudline/internal/reading"
	"mudline/texture"
	"mudline/texture/feel"
	"mudline/texture/moisture"
)

// Options are what is known of the ground beside its texture. Zero values are
// not stated, and plain defaults are then reckoned with and named.
type Options struct {
	// OrganicMatter is percent by weight.
	OrganicMatter *float64
	// Crop is what grows there, see moisture.FindCrop.
	Crop *moisture.Crop
	// RootingDepthMM (50 to 3000) and DailyUseMM (0.1 to 20) are zero where not
	// stated; package record holds what is stated to these ranges.
	RootingDepthMM, DailyUseMM float64
	// Smell is what the moist soil smells of.
	Smell feel.Smell
	// Soils are equally likely soils with silt up to 50 um. They are needed for
	// a reading whose own silt ends at 20 um, and win over it in any case.
	Soils []texture.Fractions
}

// The plain defaults. 2.5 % organic matter is what the class table of Saxton &
// Rawls (2006) is printed for; 5 mm is used on a warm summer's day, and the day
// that FAO-56 table 22 is printed for; lettuce stands for small vegetables.
const (
	usualOrganic = 2.5
	usualUseMM   = 5.0
	usualCrop    = "lettuce"
	usualPlants  = "small vegetables"
)

// Of says what a reading means. It is nil where the reading gives no fractions,
// and where they keep a silt limit of 20 um and o.Soils is empty: what is
// published about water keeps to 50 um.
func Of(r reading.Reading, o Options) *reading.Meaning {
	g := survey(r, o)
	if g == nil {
		return nil
	}
	m := &reading.Meaning{OrganicMatter: g.organic, OrganicMatterFrom: g.organicFrom, FieldCapacity: g.capacity, WiltingPoint: g.wilting,
		AvailableMMPerM: g.available, ConductivityMMH: g.conductivity, Bed: g.bed, Laboratory: g.laboratory()}
	lines := g.lines()
	if o.Smell == feel.Fuel { // nothing else is to be done with it
		m.Lines = lines[:1]
		return m
	}
	n := min(len(lines), maxLines)
	m.Lines, m.More = lines[:n], append(lines[n:len(lines):len(lines)], g.more()...)
	return m
}

const maxLines = 5

// ground is what the lines are written from.
type ground struct {
	r       reading.Reading
	o       Options
	soils   []texture.Fractions
	classes []texture.ClassProbability
	order   []string // of classes, coarse to fine

	organic                                    float64
	organicFrom                                string
	capacity, wilting, available, conductivity reading.Range
	infiltration                               reading.Range // High may be infinite
	beyond                                     float64       // share of the soils outside the equations
	crop                                       moisture.Crop
	plants                                     string // a word of the family "crop"
	bed                                        reading.Bed
}

func survey(r reading.Reading, o Options) *ground {
	g := &ground{r: r, o: o, soils: cloud(r, o)}
	if len(g.soils) == 0 {
		return nil
	}
	system, err := texture.ParseSystem(r.System)
	if err != nil || system.SiltLimitUM() != texture.USDA.SiltLimitUM() {
		system = texture.USDA // the soils have silt up to 50 um
	}
	g.order = texture.ClassNames(system)
	even := make([]float64, len(g.soils))
	for i := range even {
		even[i] = 1
	}
	g.classes = texture.ClassProbabilities(g.soils, even, system)
	g.organic, g.organicFrom = usualOrganic, "assumed"
	if p := o.OrganicMatter; p != nil && *p >= 0 && *p <= 100 {
		g.organic, g.organicFrom = *p, "stated"
	}
	g.water()
	g.plant()
	return g
}

// siltTo50 tells whether a system's silt ends at 50 um, as USDA's does, for which a
// name that is none counts.
func siltTo50(system string) bool {
	s, _ := texture.ParseSystem(system) // USDA with the error
	return s.SiltLimitUM() == texture.USDA.SiltLimitUM()
}

// cloud gives equally likely soils with silt up to 50 um.
func cloud(r reading.Reading, o Options) []texture.Fractions {
	switch {
	case len(o.Soils) > 0:
		return valid(o.Soils)
	case r.Fractions == nil || !siltTo50(r.System):
		return nil
	case len(r.Soils) > 0:
		out := make([]texture.Fractions, len(r.Soils))
		for i, s := range r.Soils {
			out[i] = texture.Fractions{Sand: s[0], Silt: s[1], Clay: s[2]}
		}
		return valid(out)
	}
	return valid(fromIntervals(*r.Fractions))
}

// valid scales soils to 100 %, and leaves out what is none.
func valid(soils []texture.Fractions) []texture.Fractions {
	var out []texture.Fractions
	for _, f := range soils {
		f = f.Normalised()
		if _, err := texture.ClassOf(f, texture.USDA); err == nil {
			out = append(out, f)
		}
	}
	return out
}

// fromIntervals spreads soils over the 90 % intervals of sand and clay, silt
// being the rest: each as two half normal curves that meet at the value.
func fromIntervals(f reading.Fractions) []texture.Fractions {
	const each = 15
	at := func(e reading.Estimate, k int) float64 {
		z := math.Sqrt2 * math.Erfinv(2*(float64(k)+0.5)/each-1) / z95
		if z < 0 {
			return math.Max(0, e.Percent+z*(e.Percent-e.Low))
		}
		return e.Percent + z*(e.High-e.Percent)
	}
	var out []texture.Fractions
	for i := range each {
		for j := range each {
			sand, clay := at(f.Sand, i), at(f.Clay, j)
			out = append(out, texture.Fractions{Sand: sand, Silt: math.Max(0, 100-sand-clay), Clay: clay})
		}
	}
	return out
}

// z95 is the 95 % quantile of the normal curve.
const z95 = 1.6449

// share is how much of the cloud, 0..1, a property holds for.
func (g *ground) share(is func(f texture.Fractions) bool) float64 {
	n := 0
	for _, f := range g.soils {
		if is(f) {
			n++
		}
	}
	return float64(n) / float64(len(g.soils))
}
