package chart

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mudline/internal/look"
	"mudline/internal/reading"
)

func TestScales(t *testing.T) {
	s := scale{lo: 60, hi: 6000, from: 100, to: 300, log: true}
	assert.InDelta(t, 100, s.at(60), 1e-9)
	assert.InDelta(t, 200, s.at(600), 1e-9, "ten minutes lie half way from one to a hundred")
	assert.InDelta(t, 100+200*math.Log10(2)/2, s.at(120), 1e-9)
	assert.InDelta(t, 300, s.at(1e9), 1e-9, "nothing leaves the axis")
	assert.InDelta(t, 25, scale{lo: 0, hi: 100, from: 50, to: 0}.at(50), 1e-9)
}

func TestSteps(t *testing.T) {
	labels := func(list []tick) []string {
		var out []string
		for _, k := range list {
			out = append(out, k.label)
		}
		return out
	}
	assert.Equal(t, []string{"0", "10", "20", "30", "40", "50"}, labels(steps(48, 6)))
	assert.Equal(t, []string{"0", "0.5", "1", "1.5", "2"}, labels(steps(1.9, 5)))
	assert.Equal(t, []string{"0", "20", "40", "60", "80", "100"}, labels(steps(100, 5)))
	for _, bad := range []float64{0, -3, 5e-324, math.NaN(), math.Inf(1)} {
		assert.Equal(t, "1", labels(steps(bad, 2))[2])
	}
}

func TestDurations(t *testing.T) {
	for s, want := range map[float64]string{10: "10 s", 60: "1 min", 113: "1.9 min", 600: "10 min", 3600: "1 h", 7460: "2.1 h", 86400: "1 day", 172800: "2 days", 365 * 86400: "1 year"} {
		assert.Equal(t, want, duration(s, Options{}))
	}
}

// The time axis of the settling chart, read off the drawing: the figures people
// think in are there, in order, decades equally far apart, none on another.
func TestClockOfTheSettlingChart(t *testing.T) {
	list := checkSVG(t, Settling(loam(), Options{Width: 1200}))
	x := map[string]float64{}
	for _, words := range []string{"1 min", "10 min", "1 h", "10 h", "1 day", "2 days"} {
		found := texts(list, words)
		require.Len(t, found, 1, words)
		x[words] = found[0].number(t, "x")
	}
	decade := x["10 min"] - x["1 min"]
	assert.InDelta(t, decade, x["10 h"]-x["1 h"], 0.02)
	assert.InDelta(t, decade*math.Log10(6), x["1 h"]-x["10 min"], 0.02)
	assert.InDelta(t, decade*math.Log10(2), x["2 days"]-x["1 day"], 0.02)
}

// The heights and spreads of the settling chart, read off its marks: 23 mm after
// two hours stands 23/24 of the way from 0 to the tick 24 would have.
func TestHeightsOfTheSettlingChart(t *testing.T) {
	d := Settling(loam(), Options{})
	list := checkSVG(t, d)
	zero, twenty := texts(list, "0")[0].number(t, "y"), texts(list, "20")[0].number(t, "y")
	perMM := (zero - twenty) / 20
	// The labels sit a third of their size below their line.
	want := zero - smallSize*0.36 - 23*perMM
	seen := 0
	soilTop := paint{own: look.LineOf("deposit-top").Colour}
	for _, m := range d.marks {
		if m.fill == soilTop && m.dot > 0 && math.Abs(m.paths[0][0].Y-want) < 0.05 {
			seen++
		}
		if m.line == soilTop && len(m.paths) == 3 && math.Abs((m.paths[0][0].Y+m.paths[0][1].Y)/2-want) < 0.05 {
			assert.InDelta(t, 4*0.5*perMM, m.paths[0][0].Y-m.paths[0][1].Y, 0.01, "two standard deviations either way")
			seen++
		}
	}
	assert.Equal(t, 2, seen, "a symbol and its error bar")
}

// Lines differ by more than colour.
func TestLinesDifferWithoutColour(t *testing.T) {
	symbols, dashes := map[symbol]bool{}, map[string]bool{}
	for _, l := range lines {
		symbols[l.symbol] = true
		dashes[fmt.Sprint(l.look.Dash)] = true
	}
	assert.Len(t, symbols, 3)
	assert.Len(t, dashes, 3)
}

func TestSettlingWithoutModel(t *testing.T) {
	r := loam()
	r.Expected, r.Photos = nil, r.Photos[:1]
	d := Settling(r, Options{})
	checkSVG(t, d)
	assert.False(t, d.Empty)
	assert.NotContains(t, d.Desc, "expects")
}

func TestIntervalsStandOnTheirAxis(t *testing.T) {
	d := Intervals(loam(), Options{})
	list := checkSVG(t, d)
	zero, hundred := texts(list, "0")[0].number(t, "x"), texts(list, "100")[0].number(t, "x")
	at := func(v float64) float64 { return zero + (hundred-zero)*v/100 }
	var bars [][]Point
	for _, m := range d.marks {
		if m.fill.own == look.PartOf("sand").Colour {
			bars = append(bars, m.paths[0])
		}
	}
	require.Len(t, bars, 1, "the sand has its colour")
	assert.InDelta(t, at(34), bars[0][0].X, 0.01)
	assert.InDelta(t, at(47), bars[0][1].X, 0.01)
}

func TestSizeLimitsFollowTheSystem(t *testing.T) {
	r := loam()
	r.System = "international"
	assert.Contains(t, SizeCurve(r, Options{}).Desc, "silt at 20 µm")
	var x []float64
	d := SizeCurve(r, Options{})
	for _, m := range d.marks {
		if m.line == ink && len(m.dash) > 0 {
			x = append(x, m.paths[0][0].X)
		}
	}
	require.Len(t, x, 3)
	// 2, 20 and 2000 um: one decade and two.
	assert.InDelta(t, 2*(x[1]-x[0]), x[2]-x[1], 1e-6)
}

func TestMergedLayersOfTheRuler(t *testing.T) {
	r := loam()
	r.ByThickness = &reading.Shares{Sand: reading.Ptr(24), SiltAndClay: reading.Ptr(76)}
	assert.Contains(t, Shares(r, Options{}).Desc, "By thickness: sand 24 percent, silt and clay 76 percent.")
	r.ByThickness = nil
	assert.Contains(t, Shares(r, Options{}).Desc, "The layers were not told apart by thickness.")
}
