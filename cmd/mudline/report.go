package main

import (
	"bytes"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/pflag"
	"golang.org/x/term"

	"mudline/internal/files"
	"mudline/internal/page"
	"mudline/internal/reading"
	"mudline/internal/report"
	"mudline/internal/words"
)

// pieceFlags are the options that ask for a reading in another form than the
// table: the whole report, or one piece of it.
type pieceFlags struct{ report, format, chart, language string }

// formats are the forms of a piece.
var formats = []string{"csv", "json", "html", "png", "svg"}

func (p *pieceFlags) add(f *pflag.FlagSet) {
	f.StringVar(&p.report, "report", "", "write a report to look at, print or hand in as one HTML `file`")
	addLanguage(f, &p.language)
	f.StringVar(&p.format, "format", "", "write the reading in another `form` to standard output, or with --out into that folder: "+strings.Join(formats, ", ")+
		"; csv has a row for each line in each photo, png and svg are the --chart")
	f.StringVar(&p.chart, "chart", "", "the `chart` that --format png or svg draws: "+strings.Join(report.ChartNames(), ", ")+" (default "+report.ChartNames()[0]+")")
}

// wanted says whether anything but the table is asked for.
func (p *pieceFlags) wanted() bool { return p.report != "" || p.format != "" }

// check refuses what does not fit together, before photos are read.
func (p *pieceFlags) check(asJSON bool) error {
	picture := p.format == "png" || p.format == "svg"
	switch {
	case p.format != "" && !slices.Contains(formats, p.format):
		return badInput("the forms are "+strings.Join(formats, ", "), "--format: %q is no form of a reading", p.format)
	case p.chart != "" && !slices.Contains(report.ChartNames(), p.chart):
		return badInput("the charts are "+strings.Join(report.ChartNames(), ", "), "--chart: %q is no chart", p.chart)
	case p.chart != "" && !picture:
		return badInput("add --format svg or --format png", "--chart needs a form to be drawn in")
	case p.format != "" && asJSON:
		return badInput("leave one of them out", "--json and --format both say what to print")
	}
	if p.report == "" {
		return nil
	}
	if info, err := os.Stat(p.report); err == nil && info.IsDir() {
		return badInput("name a file: --report "+filepath.Join(p.report, "report.html"), "--report: %s is a folder", p.report)
	}
	return nil
}

// write writes the report and the piece that were asked for. printed says that
// standard output is taken, so that no table is to be printed. Of a refused jar
// only the report, and as a piece json and html, can be written.
func (p *pieceFlags) write(stdout io.Writer, in report.ReportInput, out string) (printed bool, err error) {
	if p.report != "" {
		if err := writeReport(p.report, in); err != nil {
			return false, err
		}
	}
	if p.format == "" || in.Refusal != nil && p.format != "html" && p.format != "json" {
		return false, nil
	}
	var b bytes.Buffer
	if err := p.piece(&b, in); err != nil {
		return false, err
	}
	if out != "" {
		if err := files.WriteAll(out, []files.File{{Name: p.fileName(), Data: b.Bytes()}}); err != nil {
			return false, badInput("choose another folder with --out", "cannot write into %s: %w", out, err)
		}
		return false, nil
	}
	if f, ok := stdout.(*os.File); ok && p.format == "png" && term.IsTerminal(int(f.Fd())) {
		return false, badInput("add --out FOLDER, or > "+p.fileName(), "a PNG picture cannot be shown in a terminal")
	}
	_, err = b.WriteTo(stdout)
	return true, err
}

// addLanguage adds the option that says in which language reports are written.
func addLanguage(f *pflag.FlagSet, tag *string) {
	f.StringVar(tag, "language", words.Tags()[0], "write HTML reports and their charts in this `language`: "+strings.Join(words.Tags(), ", "))
}

// languageOf is the language of that option.
func languageOf(tag string) (*words.Language, error) {
	l, err := page.Language(tag)
	if err != nil {
		return nil, badInput("name one of them", "--language: %w", err)
	}
	return l, nil
}

// writeReport writes the report into a file, whole or not at all.
func writeReport(path string, in report.ReportInput) error {
	var b bytes.Buffer
	if err := report.HTML(&b, in); err != nil {
		return err
	}
	if err := files.WriteAll(filepath.Dir(path), []files.File{{Name: filepath.Base(path), Data: b.Bytes()}}); err != nil {
		return badInput("choose another file with --report", "cannot write %s: %w", path, err)
	}
	return nil
}

// fileName is the name of the piece in a folder.
func (p *pieceFlags) fileName() string {
	switch p.format {
	case "html":
		return "report.html"
	case "csv", "json":
		return "reading." + p.format
	}
	return p.chartName() + "." + p.format
}

func (p *pieceFlags) chartName() string {
	if p.chart == "" {
		return report.ChartNames()[0]
	}
	return p.chart
}

// piece writes the reading in the form asked for.
func (p *pieceFlags) piece(w io.Writer, in report.ReportInput) error {
	r := in.Result.Reading
	switch p.format {
	case "html":
		return report.HTML(w, in)
	case "csv":
		return report.CSV(w, r)
	case "json":
		if in.Refusal != nil {
			return reading.Refused(in.Refusal).Encode(w)
		}
		return r.Encode(w)
	}
	draw := report.ChartSVG
	if p.format == "png" {
		draw = report.ChartPNG
	}
	if err := draw(w, p.chartName(), r, in.Options); err != nil {
		return badInput("the table says what was read; other charts: "+strings.Join(report.ChartNames(), ", "), "--chart %s: %w", p.chartName(), err)
	}
	return nil
}
