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
	"mudline/internal/reading"
	"mudline/internal/report"
	"mudline/internal/words"
)

// pieceFlags are the options that ask for a reading in another form than the
// table: the whole report, or one piece of it.
type pieceFlags struct{ report, format, chart string }

// formats are the forms of a piece.
var formats = []string{"csv", "json", "html", "png", "svg"}

func (p *pieceFlags) add(f *pflag.FlagSet) {
	f.StringVar(&p.report, "report", "", "")
	f.StringVar(&p.format, "format", "", "")
	f.StringVar(&p.chart, "chart", "", "")
}

// wanted says whether anything but the table is asked for.
func (p *pieceFlags) wanted() bool { return p.report != "" || p.format != "" }

// check refuses what does not fit together, before photos are read.
func (p *pieceFlags) check(asJSON bool) error {
	picture := p.format == "png" || p.format == "svg"
	switch {
	case p.format != "" && !slices.Contains(formats, p.format):
		return badInput(words.Say("command.do-the-forms", words.Name("list", strings.Join(formats, ", "))), words.Say("command.no-format", words.Name("format", p.format)))
	case p.chart != "" && !slices.Contains(report.ChartNames(), p.chart):
		return badInput(words.Say("command.do-the-charts", words.Name("list", strings.Join(report.ChartNames(), ", "))), words.Say("command.no-chart", words.Name("chart", p.chart)))
	case p.chart != "" && !picture:
		return badInput(words.Say("command.do-add-format-svg-format"), words.Say("command.chart-needs-form-be"))
	case p.format != "" && asJSON:
		return badInput(words.Say("command.do-leave-one-out"), words.Say("command.json-format-both-say"))
	}
	if p.report == "" {
		return nil
	}
	if info, err := os.Stat(p.report); err == nil && info.IsDir() {
		return badInput(words.Say("command.do-name-file-report", words.Shell("list", filepath.Join(p.report, "report.html"))), words.Say("command.report-is-folder", words.Name("report", p.report)))
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
			return false, badInput(words.Say("command.do-choose-another-folder-out"), words.Say("command.cannot-write-into", words.Name("folder", out), words.Because("why", err)))
		}
		return false, nil
	}
	stdout = raw(stdout)
	if f, ok := stdout.(*os.File); ok && p.format == "png" && term.IsTerminal(int(f.Fd())) {
		return false, badInput(words.Say("command.do-add-out-folder-2", words.Name("filename", p.fileName())), words.Say("command.png-picture-cannot-be"))
	}
	_, err = b.WriteTo(stdout)
	return true, err
}

// writeReport writes the report into a file, whole or not at all.
func writeReport(path string, in report.ReportInput) error {
	var b bytes.Buffer
	if err := report.HTML(&b, in); err != nil {
		return err
	}
	if err := files.WriteAll(filepath.Dir(path), []files.File{{Name: filepath.Base(path), Data: b.Bytes()}}); err != nil {
		return badInput(words.Say("command.do-choose-another-file-report"), words.Say("command.cannot-write", words.Name("path", path), words.Because("why", err)))
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
	if err := draw(w, p.chartName(), in.Result, in.Options); err != nil {
		return badInput(words.Say("command.do-table-says-what-was", words.Name("list", strings.Join(otherCharts(p.chartName(), in), ", "))), words.Say("command.of-chart", words.Name("chartname", p.chartName()), words.Because("why", err)))
	}
	return nil
}

// otherCharts are the charts that can be drawn in place of one that cannot.
func otherCharts(name string, in report.ReportInput) (list []string) {
	for _, other := range report.ChartNames() {
		if other != name && report.ChartSVG(io.Discard, other, in.Result, in.Options) == nil {
			list = append(list, other)
		}
	}
	return list
}
