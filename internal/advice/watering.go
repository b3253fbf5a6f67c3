package advice

import (
	"math"
	"slices"

	"mudline/internal/reading"
	"mudline/texture"
	"mudline/texture/moisture"
)

// Soils of one texture differ too, by structure, density and humus. These are
// the factors, up and down, that published bands for one class span: half the
// bands of FAO-56 table 19 and of UC Drought Management are narrower, half
// wider. For conductivity it is how far published rates for a class differ.
const (
	capacitySpread     = 1.25
	wiltingSpread      = 1.5
	availableSpread    = 1.25
	conductivitySpread = 3.0
)

// What is assumed has a range, too: these are the factors, up and down, that hold 9
// times in 10. Garden ground of 1.2 to 5 % organic matter is common practice, and
// tells twice in a small way, since the bands above are of soils with some humus; a
// warm day in humid, temperate country uses 4 to 7 mm (FAO-56, table 2, from memory).
const (
	organicSpread = 2.0
	useSpread     = 1.3
)

// water fills what the soils hold, and how fast they let water through.
func (g *ground) water() {
	var capacity, wilting, available, conductivity, low, high []float64
	organic := g.humus()
	for _, f := range g.soils {
		for _, o := range organic {
			w, err := moisture.SaxtonRawls(f, o)
			if err != nil {
				g.beyond += 1 / float64(len(g.soils)*len(organic))
			}
			capacity, wilting = append(capacity, w.FieldCapacity), append(wilting, w.WiltingPoint)
			available, conductivity = append(available, 10*w.Available()), append(conductivity, w.ConductivityMMH)
		}
		class, _ := texture.ClassOf(f, texture.USDA) // a normalised soil always has one
		rate, _ := moisture.Infiltration(class)
		low, high = append(low, rate.LowMMH), append(high, rate.HighMMH)
	}
	g.capacity = spread(within(capacity), capacitySpread)
	g.wilting = spread(within(wilting), wiltingSpread)
	g.available = spread(within(available), availableSpread)
	g.conductivity = spread(within(conductivity), conductivitySpread)
	slow, fast := within(low), within(high)
	g.infiltration = reading.Range{Value: slow.Value, Low: slow.Low, High: fast.High}
}

// humus is the organic matter to reckon with: what was stated, or equally likely
// amounts round what is assumed, whose logarithms follow a normal curve.
func (g *ground) humus() []float64 {
	if g.organicFrom == "stated" {
		return []float64{g.organic}
	}
	const each = 9
	out := make([]float64, each)
	for k := range out {
		z := math.Sqrt2 * math.Erfinv(2*(float64(k)+0.5)/each-1)
		out[k] = g.organic * math.Pow(organicSpread, z/z95)
	}
	return out
}

// plant fills what grows there and how long the water lasts it.
func (g *ground) plant() {
	b := &g.bed
	b.RootingDepthFrom, b.DailyUseMM, b.DailyUseFrom = "assumed", usualUseMM, "assumed"
	g.crop, _ = moisture.FindCrop(usualCrop)
	g.plants = usualPlants
	if c := g.o.Crop; c != nil {
		g.crop, g.plants, b.Crop, b.RootingDepthFrom = *c, c.Plants, c.Name, "crop"
	}
	b.RootingDepthMM = g.crop.RootsFromMM
	if d := g.o.RootingDepthMM; d > 0 && !math.IsInf(d, 0) {
		b.RootingDepthMM, b.RootingDepthFrom = d, "stated"
	}
	if d := g.o.DailyUseMM; d > 0 && !math.IsInf(d, 0) {
		b.DailyUseMM, b.DailyUseFrom = d, "stated"
	}
	b.Depletion = moisture.Depletion(g.crop.Depletion, b.DailyUseMM)
	b.TotalMM, b.ReadilyMM, b.Days = g.lasts(b.RootingDepthMM, b.Depletion, b.DailyUseMM)
	if b.DailyUseFrom == "assumed" {
		b.Days = spread(b.Days, useSpread)
	}
}

// lasts is the water in a depth of soil, the part taken readily, and the days
// that part lasts.
func (g *ground) lasts(rootsMM, depletion, useMM float64) (total, readily, days reading.Range) {
	total = times(g.available, rootsMM/1000)
	readily = times(total, depletion)
	return total, readily, times(readily, 1/useMM)
}

func times(r reading.Range, k float64) reading.Range {
	return reading.Range{Value: k * r.Value, Low: k * r.Low, High: k * r.High}
}

// within is the median of equally likely values and the 90 % interval.
func within(v []float64) reading.Range {
	v = slices.Sorted(slices.Values(v))
	at := func(p float64) float64 {
		x := p * float64(len(v)-1)
		i := int(x)
		if x == float64(i) || v[i] == v[i+1] { // no share of an infinite step
			return v[i]
		}
		return v[i] + (x-float64(i))*(v[i+1]-v[i])
	}
	return reading.Range{Value: at(0.5), Low: at(0.05), High: at(0.95)}
}

// spread widens an interval above zero by a factor that is independent of what
// made it: the logarithms add as squares.
func spread(r reading.Range, factor float64) reading.Range {
	wider := func(ratio float64) float64 { return math.Exp(math.Hypot(math.Log(ratio), math.Log(factor))) }
	return reading.Range{Value: r.Value, Low: r.Value / wider(r.Value/r.Low), High: r.Value * wider(r.High/r.Value)}
}
