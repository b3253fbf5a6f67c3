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

// water fills what the soils hold, and how fast they let water through.
func (g *ground) water() {
	n := len(g.soils)
	capacity, wilting, available, conductivity := make([]float64, n), make([]float64, n), make([]float64, n), make([]float64, n)
	low, high := make([]float64, n), make([]float64, n)
	for i, f := range g.soils {
		w, err := moisture.SaxtonRawls(f, g.organic)
		if err != nil {
			g.beyond += 1 / float64(n)
		}
		capacity[i], wilting[i], available[i], conductivity[i] = w.FieldCapacity, w.WiltingPoint, 10*w.Available(), w.ConductivityMMH
		class, _ := texture.ClassOf(f, texture.USDA) // a normalised soil always has one
		rate, _ := moisture.Infiltration(class)
		low[i], high[i] = rate.LowMMH, rate.HighMMH
	}
	g.capacity = spread(within(capacity), capacitySpread)
	g.wilting = spread(within(wilting), wiltingSpread)
	g.available = spread(within(available), availableSpread)
	g.conductivity = spread(within(conductivity), conductivitySpread)
	slow, fast := within(low), within(high)
	g.infiltration = reading.Range{Value: slow.Value, Low: slow.Low, High: fast.High}
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
