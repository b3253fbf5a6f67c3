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
	// Kind is "triangle", "settling", "sizes", "shares" or "intervals", or "stacked" of
	// several jars.
	Kind string `json:"kind"`
	// Reading is what to draw; where it is absent, what was read or previewed last.
	Reading *reading.Reading `json:"reading"`
	// Jars are the soils of a triangle or of stacked bars, labelled 1, 2, 3 ... in their order.
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
	if draw == nil && in.Kind != "stacked" {
		return nil, words.Say("desk.no-chart", words.Name("kind", in.Kind), words.Names("known", "", slices.Sorted(maps.Keys(charts))))
	}
	switch {
	case len(in.Jars) > 0:
		switch in.Kind {
		case "triangle":
			return chart.TriangleJars(inChart(in.Jars), o), nil
		case "stacked":
			return chart.StackedJars(inChart(in.Jars), o), nil
		}
		return nil, words.Say("desk.one-jar-chart", words.Name("kind", in.Kind))
	case in.Kind == "stacked":
		return nil, words.Say("desk.nothing-to-draw")
	case in.Reading != nil:
		return draw(*in.Reading, o), nil
	case d.shown != nil:
		return draw(d.shown.Reading, o), nil
	}
	return nil, words.Say("desk.nothing-to-draw")
}

// inChart are the jars of a request as a chart has them.
func inChart(jars []namedReading) []chart.Jar {
	out := make([]chart.Jar, len(jars))
	for i, j := range jars {
		out[i] = chart.Jar(j)
	}
	return out
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
