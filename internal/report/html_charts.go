package report

import (
	"errors"
	"html/template"
	"io"

	"mudline/internal/chart"
	"mudline/internal/jar"
	"mudline/internal/reading"
	"mudline/texture"
)

// figures are the charts of a report; empty where the reading has nothing to show.
type figures struct{ Film, Settling, Triangle, Shares, Sizes template.HTML }

// The natural widths of charts: for a phone, where letters would else be too
// small, and for what is wider and for paper.
const (
	narrowChart = 340
	wideChart   = 560
	// posterScale makes a wide chart fit for print: some 24 cm at 180 dots an inch.
	posterScale = 3
)

func figuresOf(r reading.Reading, film *jar.Film, o Options) figures {
	return figures{Film: bothWidths("film", r, film, o), Settling: bothWidths("settling", r, nil, o), Triangle: bothWidths("triangle", r, nil, o),
		Shares: bothWidths("shares", r, nil, o), Sizes: bothWidths("sizes", r, nil, o)}
}

// bothWidths is a chart drawn for narrow and for wide pages; the style shows one.
func bothWidths(name string, r reading.Reading, film *jar.Film, o Options) template.HTML {
	var out template.HTML
	for _, size := range []struct {
		class string
		width float64
	}{{"narrow", narrowChart}, {"wide", wideChart}} {
		d := drawChart(name, r, film, chart.Options{ID: name + "-" + size.class, Width: size.width, Inches: o.Inches, Language: o.Language})
		if d.Empty {
			return ""
		}
		out += template.HTML(`<div class="` + size.class + `">` + string(d.SVG()) + `</div>`)
	}
	return out
}

// ChartNames are the charts that can be drawn by themselves.
func ChartNames() []string {
	return []string{"triangle", "settling", "sizes", "shares", "intervals", "film"}
}

// drawChart draws one of ChartNames.
func drawChart(name string, r reading.Reading, film *jar.Film, o chart.Options) *chart.Drawing {
	switch name {
	case "settling":
		return chart.Settling(r, o)
	case "sizes":
		return chart.SizeCurve(r, o)
	case "shares":
		return chart.Shares(r, o)
	case "film":
		return chart.Film(r, frontsOf(film), o)
	case "intervals":
		return chart.Intervals(r, o)
	}
	system, err := texture.ParseSystem(r.System)
	if err != nil {
		system = texture.USDA
	}
	var soils []chart.Soil
	if s, ok := chart.SoilOf(r); ok {
		soils = append(soils, s)
	}
	return chart.Triangle(soils, system, o)
}

func frontsOf(film *jar.Film) (out []chart.Front) {
	if film == nil {
		return nil
	}
	for _, f := range film.Frames {
		out = append(out, chart.Front{ElapsedS: f.ElapsedS, Picture: f.Front, Top: f.Top, Bottom: f.Bottom})
	}
	return out
}

// Chart draws one of ChartNames by itself. The error says why the reading has
// nothing to show in it.
func Chart(name string, res jar.Result, o Options) (*chart.Drawing, error) {
	d := drawChart(name, res.Reading, res.Film, chart.Options{Width: wideChart, Inches: o.Inches, Language: o.Language})
	if d.Empty {
		return nil, errors.New(d.Desc)
	}
	return d, nil
}

// ChartSVG writes a chart as SVG; see Chart.
func ChartSVG(w io.Writer, name string, res jar.Result, o Options) error {
	d, err := Chart(name, res, o)
	if err != nil {
		return err
	}
	_, err = w.Write(d.SVG())
	return err
}

// ChartPNG writes a chart as a picture for print; see Chart.
func ChartPNG(w io.Writer, name string, res jar.Result, o Options) error {
	d, err := Chart(name, res, o)
	if err != nil {
		return err
	}
	return d.PNG(w, posterScale)
}
