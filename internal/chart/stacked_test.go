package chart

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"

	"mudline/internal/look"
	"mudline/internal/reading"
	"mudline/texture"
)

// Bars and whiskers, read off the marks: 40, 35 and 25 percent, sand from 30 to 52 and clay
// from 20 to 31, stand where the axis has them.
func TestStackedStandsOnItsAxis(t *testing.T) {
	s := Soil{Label: "1", Name: "Bed", Fractions: reading.Fractions{Sand: reading.Estimate{Percent: 40, Low: 30, High: 52},
		Silt: reading.Estimate{Percent: 35, Low: 25, High: 45}, Clay: reading.Estimate{Percent: 25, Low: 20, High: 31}}}
	d := Stacked([]Soil{s}, Options{Width: 400})
	list := checkSVG(t, d)
	zero := texts(list, "0 %")[0].number(t, "x")
	at := func(v float64) float64 { return stackedLeft + (400-2*stackedLeft)*v/100 }
	assert.InDelta(t, at(0), zero, 12, "a label at the rim is moved inwards")
	bars := map[string][2]float64{}
	whiskers := map[[2]float64]bool{}
	for _, m := range d.marks {
		for _, p := range look.Parts() {
			if m.fill.own == p.Colour && len(m.paths) == 1 {
				box := m.paths[0]
				if w := box[1].X - box[0].X; w > bars[p.Name][1]-bars[p.Name][0] {
					bars[p.Name] = [2]float64{box[0].X, box[1].X}
				}
			}
		}
		if m.line == ink && len(m.paths) == 3 {
			whiskers[[2]float64{math.Round(m.paths[0][0].X), math.Round(m.paths[0][1].X)}] = true
		}
	}
	assert.InDeltaMapValues(t, map[string]float64{"sand": at(0), "silt": at(40), "clay": at(75)}, map[string]float64{"sand": bars["sand"][0], "silt": bars["silt"][0], "clay": bars["clay"][0]}, 0.01)
	assert.InDelta(t, at(100), bars["clay"][1], 0.01)
	assert.True(t, whiskers[[2]float64{math.Round(at(30)), math.Round(at(52))}], "%v", whiskers)
	assert.True(t, whiskers[[2]float64{math.Round(at(69)), math.Round(at(80))}], "%v", whiskers)
	assert.Contains(t, d.Desc, "Bed")
}

// The clouds of a few jars are drawn as regions, those of many are not.
func TestCloudsOfAFewJars(t *testing.T) {
	s, ok := SoilOf(loam())
	assert.True(t, ok)
	count := func(n int) (regions int) {
		soils := make([]Soil, n)
		for i := range soils {
			soils[i] = s
		}
		for _, m := range Triangle(soils, texture.USDA, Options{}).marks {
			if m.fill == cloud && m.alpha > 0 && m.dot == 0 {
				regions++
			}
		}
		return regions
	}
	assert.Equal(t, 3, count(3))
	assert.Zero(t, count(mostClouds+1))
}
