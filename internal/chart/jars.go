package chart

import (
	"strconv"

	"mudline/internal/reading"
)

// Jar is one of several jars in a chart.
type Jar struct {
	Name    string
	Reading reading.Reading
}

// soilsOf are the soils of jars, labelled 1, 2, 3 ... in their order. One without
// fractions is left out, though it keeps its number.
func soilsOf(jars []Jar, fit func(reading.Reading) bool) []Soil {
	var soils []Soil
	for i, j := range jars {
		if s, ok := SoilOf(j.Reading); ok && fit(j.Reading) {
			s.Label, s.Name = strconv.Itoa(i+1), j.Name
			soils = append(soils, s)
		}
	}
	return soils
}

// StackedJars draws several jars as stacked bars.
func StackedJars(jars []Jar, o Options) *Drawing {
	return Stacked(soilsOf(jars, func(reading.Reading) bool { return true }), o)
}

// TriangleJars draws several jars on one triangle. Its classes are those of the first
// jar's system; a jar whose system sets other limits to silt has no place on it.
func TriangleJars(jars []Jar, o Options) *Drawing {
	if len(jars) == 0 {
		return Triangle(nil, systemOf(reading.Reading{}), o)
	}
	system := systemOf(jars[0].Reading)
	return Triangle(soilsOf(jars, func(r reading.Reading) bool { return systemOf(r).SiltLimitUM() == system.SiltLimitUM() }), system, o)
}
