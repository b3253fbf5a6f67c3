package desk

import (
	"bytes"
	"encoding/base64"
	"image/jpeg"
	"maps"
	"slices"
	"strconv"

	"mudline/internal/chart"
	"mudline/internal/compare"
	"mudline/internal/reading"
	"mudline/internal/words"
	"mudline/texture"
)

// chartRequest asks for a chart of one reading, or for several jars in one
// triangle.
type chartRequest struct {
	// Kind is "triangle", "settling", "sizes", "shares" or "intervals".
	Kind string `json:"kind"`
	// Reading is what to draw; where it is absent, what was read or previewed last.
	Reading *reading.Reading `json:"reading"`
	// Jars are the soils of a triangle, labelled 1, 2, 3 ... in their order.
	Jars  []namedReading `json:"jars"`
	ID    string         `json:"id"`
	Width float64        `json:"width"`
}

// namedReading is a jar in a comparison.
type namedReading struct {
	Name    string          `json:"name"`
	Reading reading.Reading `json:"reading"`
}

type chartAnswer struct {
	SVG string `json:"svg"`
	// Empty says that the reading has nothing to show in this chart.
	Empty bool `json:"empty,omitempty"`
}

var charts = map[string]func(reading.Reading, chart.Options) *chart.Drawing{
	"triangle": func(r reading.Reading, o chart.Options) *chart.Drawing {
		var soils []chart.Soil
		if s, ok := chart.SoilOf(r); ok {
			soils = append(soils, s)
		}
		return chart.Triangle(soils, systemOf(r.System), o)
	},
	"settling":  chart.Settling,
	"sizes":     chart.SizeCurve,
	"shares":    chart.Shares,
	"intervals": chart.Intervals,
}

func drawChart(d *Desk, in chartRequest) (any, error) {
	o := chart.Options{ID: in.ID, Width: in.Width, Inches: d.language.Setting().Inches, Language: d.language}
	drawing, err := d.chart(in, o)
	if err != nil {
		return nil, err
	}
	return chartAnswer{SVG: string(drawing.SVG()), Empty: drawing.Empty}, nil
}

func (d *Desk) chart(in chartRequest, o chart.Options) (*chart.Drawing, error) {
	draw := charts[in.Kind]
	if draw == nil {
		return nil, words.Say("desk.no-chart", words.Name("kind", in.Kind), words.Names("known", "", slices.Sorted(maps.Keys(charts))))
	}
	switch {
	case len(in.Jars) > 0:
		if in.Kind != "triangle" {
			return nil, words.Say("desk.one-jar-chart", words.Name("kind", in.Kind))
		}
		return together(in.Jars, o), nil
	case in.Reading != nil:
		return draw(*in.Reading, o), nil
	case d.shown != nil:
		return draw(d.shown.Reading, o), nil
	}
	return nil, words.Say("desk.nothing-to-draw")
}

// together draws several jars on one triangle. Its classes are those of the
// first jar's system; a jar whose system sets other limits to silt has no place
// on it and is left out, though it keeps its number.
func together(jars []namedReading, o chart.Options) *chart.Drawing {
	system := systemOf(jars[0].Reading.System)
	var soils []chart.Soil
	for i, j := range jars {
		s, ok := chart.SoilOf(j.Reading)
		if !ok || systemOf(j.Reading.System).SiltLimitUM() != system.SiltLimitUM() {
			continue
		}
		s.Label, s.Name = strconv.Itoa(i+1), j.Name
		soils = append(soils, s)
	}
	return chart.Triangle(soils, system, o)
}

// systemOf is the system of a reading; an unknown one counts as the usual.
func systemOf(name string) texture.System {
	s, _ := texture.ParseSystem(name) // USDA with the error
	return s
}

// compareRequest is jars to set side by side, in an order of compare.Orders.
type compareRequest struct {
	Jars  []namedReading `json:"jars"`
	Order string         `json:"order"`
}

func (in compareRequest) of(source func(i int) string) (compare.Comparison, error) {
	jars := make([]compare.Jar, len(in.Jars))
	for i, j := range in.Jars {
		jars[i] = compare.Jar{Name: j.Name, Source: source(i), Reading: &in.Jars[i].Reading}
	}
	return compare.Of(jars, in.Order)
}

// compareJars is a compare.Comparison whose rows have the place of their jar in
// the request, from 1, as source.
func compareJars(_ *Desk, in compareRequest) (any, error) {
	return in.of(func(i int) string { return strconv.Itoa(i + 1) })
}

// compareCSV is the same comparison as the text of a CSV file.
func compareCSV(_ *Desk, in compareRequest) (any, error) {
	c, err := in.of(func(int) string { return "" })
	if err != nil {
		return nil, err
	}
	var b bytes.Buffer
	if err := c.CSV(&b); err != nil {
		return nil, err
	}
	return map[string]string{"csv": b.String()}, nil
}

// picture is an open photo as the program decoded it, for a browser that cannot
// show the file itself.
func picture(d *Desk, in struct {
	File string `json:"file"`
}) (any, error) {
	o := d.opened[in.File]
	if o == nil {
		return nil, words.Say("desk.not-open", words.Name("file", in.File))
	}
	var b bytes.Buffer
	if err := jpeg.Encode(&b, o.Photo().Picture, &jpeg.Options{Quality: 85}); err != nil {
		return nil, err
	}
	return map[string]string{"url": "data:image/jpeg;base64," + base64.StdEncoding.EncodeToString(b.Bytes())}, nil
}
