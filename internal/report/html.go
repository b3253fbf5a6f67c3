package report

import (
	"bytes"
	"embed"
	"fmt"
	"html/template"
	"image"
	"io"

	"mudline/imaging"
	"mudline/internal/chart"
	"mudline/internal/jar"
	"mudline/internal/reading"
)

// ReportInput is what a report is made of.
type ReportInput struct {
	// Result is the reading with its photos. Of a refused jar only the name and
	// the photos are used; their frames are zero.
	Result jar.Result
	// Refusal stands in place of a reading; nil where there is one.
	Refusal *reading.Refusal
	// Cautions hold for every jar.
	Cautions []reading.Statement
	// Options give the units and the language.
	Options Options
}

// RefusedInput gathers the report of a jar that was refused: the reason, and
// those of its photos that can be opened.
func RefusedInput(name string, why *reading.Refusal, files []jar.File, o Options) ReportInput {
	in := ReportInput{Refusal: why, Options: o}
	in.Result.Reading.Jar = name
	for _, f := range files {
		if pic := pictureOf(f); pic != nil {
			in.Result.Scenes = append(in.Result.Scenes, jar.Scene{File: f.Name, Picture: pic})
		}
	}
	return in
}

// pictureOf is the upright picture of a file; nil where it cannot be opened.
func pictureOf(f jar.File) *image.RGBA {
	if f.Decoded != nil {
		return f.Decoded.Picture
	}
	data, err := f.Data()
	if err != nil {
		return nil
	}
	p, err := imaging.Open(imaging.PureGo{}, f.Name, data)
	if err != nil {
		return nil
	}
	return p.Picture
}

//go:embed template/*.html
var pages embed.FS

//go:embed template/report.css
var reportCSS string

// page is the parsed template: a fault in it shows in every test. It is cloned for
// each language and its units, and english is the one that is at hand.
var (
	page    = template.Must(template.New("report.html").Funcs(templateFuncs).Funcs(speaking(Options{})).ParseFS(pages, "template/*.html"))
	english = template.Must(page.Clone())
)

// speaker is the template that speaks a language in a person's units.
func speaker(o Options) (*template.Template, error) {
	if o.Language == nil && !o.Inches && !o.Fahrenheit {
		return english, nil
	}
	t, err := page.Clone()
	if err != nil {
		return nil, err
	}
	return t.Funcs(speaking(o)), nil
}

// HTML writes a report on one jar as a single file: it loads nothing, runs
// nothing, and holds the photos drawn anew from their pixels, without what the
// camera wrote beside them. The error is one of w, or of a picture that cannot
// be encoded.
func HTML(w io.Writer, in ReportInput) error {
	v, err := newView(in)
	if err != nil {
		return fmt.Errorf("the report of %s: %w", in.Result.Reading.Jar, err)
	}
	page, err := speaker(in.Options)
	if err != nil {
		return err
	}
	style := CSS() + chart.CSS() + reportCSS
	v.Style, v.Policy = template.CSS(style), Policy(style)
	var b bytes.Buffer
	if err := page.Execute(&b, v); err != nil {
		return fmt.Errorf("the report of %s: %w", in.Result.Reading.Jar, err)
	}
	_, err = b.WriteTo(w)
	return err
}
