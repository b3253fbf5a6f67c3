package report

import (
	"bytes"
	"encoding/base64"
	"errors"
	"fmt"
	"html/template"
	"image"
	"image/jpeg"
	"io"

	"mudline/internal/chart"
	"mudline/internal/compare"
	"mudline/internal/reading"
	"mudline/internal/words"
)

// ComparedInput is what a report on several jars is made of.
type ComparedInput struct {
	Comparison compare.Comparison
	// Readings and Pictures are those of the rows by their source; a jar may be without.
	Readings map[string]*reading.Reading
	Pictures map[string]image.Image
	Options  Options
}

// ComparedCharts are the charts of several jars.
var ComparedCharts = []string{"stacked", "triangle"}

// comparedView is what the template shows.
type comparedView struct {
	Style             template.CSS
	Policy, Tag       string
	Title             string
	Stacked, Triangle template.HTML
	Rows              []comparedRow
	Differences       []string
	Watered           bool
}

// comparedRow is one jar.
type comparedRow struct {
	Number                   int
	Name, Class, Sure, Water string
	Days, Refused, Remedy    string
	Picture                  template.URL
	Parts                    []comparedPart
}

type comparedPart struct{ Value, Within, Letters string }

// ComparedHTML writes a report on several jars as a single file, which loads nothing. The
// error is one of w, or of a picture that cannot be encoded.
func ComparedHTML(w io.Writer, in ComparedInput) error {
	o := in.Options
	style := CSS() + chart.CSS() + reportCSS
	v := comparedView{Style: template.CSS(style), Policy: Policy(style), Tag: o.Language.Tag(), Title: o.say("compare-report-title", words.Whole("n", len(in.Comparison.Jars)))}
	for i, r := range in.Comparison.Jars {
		row, err := o.comparedRow(r, in.Pictures[r.Source])
		if err != nil {
			return fmt.Errorf("%s: %w", r.Name, err)
		}
		row.Number = i + 1
		v.Rows = append(v.Rows, row)
		v.Watered = v.Watered || row.Water != ""
	}
	for _, d := range in.Comparison.Sure() {
		v.Differences = append(v.Differences, o.tell(d))
	}
	v.Stacked, v.Triangle = in.both("stacked"), in.both("triangle")
	page, err := speaker(o)
	if err != nil {
		return err
	}
	var b bytes.Buffer
	if err := page.ExecuteTemplate(&b, "compared", v); err != nil {
		return fmt.Errorf("the report on several jars: %w", err)
	}
	_, err = b.WriteTo(w)
	return err
}

func (o Options) comparedRow(r compare.Row, picture image.Image) (comparedRow, error) {
	row := comparedRow{Name: r.Name}
	if picture != nil {
		var b bytes.Buffer
		if err := jpeg.Encode(&b, picture, &jpeg.Options{Quality: jpegQuality}); err != nil {
			return row, err
		}
		row.Picture = template.URL("data:image/jpeg;base64," + base64.StdEncoding.EncodeToString(b.Bytes()))
	}
	if r.Refused != nil {
		row.Refused, row.Remedy = o.sentence(r.Refused.Message()), o.sentence(r.Refused.Help())
		return row, nil
	}
	row.Class = o.say("report.no-class")
	if c := r.Class; c != nil {
		name, certainty := Verdict(*c)
		row.Class, row.Sure = words.Capital(o.tell(name)), o.tell(certainty)
	}
	if f := r.Fractions; f != nil {
		letters := compare.Groups{}
		if r.Groups != nil {
			letters = *r.Groups
		}
		for i, e := range []reading.Estimate{f.Sand, f.Silt, f.Clay} {
			row.Parts = append(row.Parts, comparedPart{o.percent(e.Percent), o.span(e.Low, e.High), []string{letters.Sand, letters.Silt, letters.Clay}[i]})
		}
	}
	if a := r.AvailableMMPerM; a != nil {
		row.Water = o.whole(a.Value) + " (" + o.span(a.Low, a.High) + ")"
	}
	if d := r.Days; d != nil {
		row.Days = o.span(d.Low, d.High)
	}
	return row, nil
}

// both is a chart for narrow and for wide pages.
func (in ComparedInput) both(name string) template.HTML {
	var out template.HTML
	for class, width := range map[string]float64{"narrow": narrowChart, "wide": wideChart} {
		d := in.draw(name, chart.Options{ID: name + "-" + class, Width: width, Language: in.Options.Language})
		if d.Empty {
			return ""
		}
		part := template.HTML(`<div class="` + class + `">` + string(d.SVG()) + `</div>`)
		if class == "narrow" {
			out = part + out
		} else {
			out += part
		}
	}
	return out
}

func (in ComparedInput) draw(name string, o chart.Options) *chart.Drawing {
	var jars []chart.Jar
	for _, r := range in.Comparison.Jars {
		j := chart.Jar{Name: r.Name}
		if read := in.Readings[r.Source]; read != nil {
			j.Reading = *read
		}
		jars = append(jars, j)
	}
	if name == "triangle" {
		return chart.TriangleJars(jars, o)
	}
	return chart.StackedJars(jars, o)
}

// ComparedChart draws one of ComparedCharts by itself. The error says why there is
// nothing to show in it.
func ComparedChart(name string, in ComparedInput) (*chart.Drawing, error) {
	d := in.draw(name, chart.Options{Width: wideChart, Language: in.Options.Language})
	if d.Empty {
		return nil, errors.New(d.Desc)
	}
	return d, nil
}

// ComparedSVG writes a chart as SVG; see ComparedChart.
func ComparedSVG(w io.Writer, name string, in ComparedInput) error {
	d, err := ComparedChart(name, in)
	if err != nil {
		return err
	}
	_, err = w.Write(d.SVG())
	return err
}

// ComparedPNG writes a chart as a picture for print; see ComparedChart.
func ComparedPNG(w io.Writer, name string, in ComparedInput) error {
	d, err := ComparedChart(name, in)
	if err != nil {
		return err
	}
	return d.PNG(w, posterScale)
}
