package main

import (
	"bytes"
	"image"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"mudline/internal/compare"
	"mudline/internal/files"
	"mudline/internal/reading"
	"mudline/internal/report"
	"mudline/internal/words"
)

// chartForms are the forms of a chart of several jars.
var chartForms = []string{"svg", "png"}

// check refuses what does not fit together, before photos are read.
func (o compareOptions) check() error {
	switch {
	case o.format != "" && !slices.Contains(chartForms, o.format):
		return badInput(words.Say("command.do-the-forms", words.Name("list", strings.Join(chartForms, ", "))), words.Say("command.no-format", words.Name("format", o.format)))
	case !slices.Contains(report.ComparedCharts, o.chart):
		return badInput(words.Say("command.do-the-charts", words.Name("list", strings.Join(report.ComparedCharts, ", "))), words.Say("command.no-chart", words.Name("chart", o.chart)))
	case o.format != "" && (o.json || o.csv):
		return badInput(words.Say("command.do-leave-one-out"), words.Say("command.json-format-both-say"))
	}
	return nil
}

// write writes the report, and the comparison in the form asked for.
func (o compareOptions) write(cmd *cobra.Command, c compare.Comparison, jars []compare.Jar, pictures map[string]image.Image) error {
	in := report.ComparedInput{Comparison: c, Readings: map[string]*reading.Reading{}, Pictures: pictures, Options: report.Options{Language: spoken(cmd)}}
	for _, j := range jars {
		in.Readings[j.Source] = j.Reading
	}
	if o.report != "" {
		var b bytes.Buffer
		if err := report.ComparedHTML(&b, in); err != nil {
			return err
		}
		if err := files.WriteAll(filepath.Dir(o.report), []files.File{{Name: filepath.Base(o.report), Data: b.Bytes()}}); err != nil {
			return badInput(words.Say("command.do-choose-another-file-report"), words.Say("command.cannot-write", words.Name("path", o.report), words.Because("why", err)))
		}
	}
	w := cmd.OutOrStdout()
	switch {
	case o.format == "svg":
		return report.ComparedSVG(w, o.chart, in)
	case o.format == "png":
		return report.ComparedPNG(w, o.chart, in)
	case o.json:
		return c.JSON(w)
	case o.csv:
		return c.CSV(w)
	}
	return c.Text(w, spoken(cmd), columnsOf(w))
}
