package desk

import (
	"bytes"
	"errors"

	"mudline/internal/advice"
	"mudline/internal/report"
)

// Report is the report on what was read last, as one HTML file, in metric units.
func (d *Desk) Report() ([]byte, error) { return d.report(report.Options{}) }

func (d *Desk) report(o report.Options) ([]byte, error) {
	if d.shown == nil {
		return nil, errors.New("there is no reading to report on")
	}
	var b bytes.Buffer
	if err := report.HTML(&b, report.ReportInput{Result: *d.shown, Cautions: advice.Cautions(), Options: o}); err != nil {
		return nil, err
	}
	return b.Bytes(), nil
}

// reportIn is the same report in the person's units.
func reportIn(d *Desk, in struct {
	Inches     bool `json:"inches"`
	Fahrenheit bool `json:"fahrenheit"`
}) (any, error) {
	html, err := d.report(report.Options{Inches: in.Inches, Fahrenheit: in.Fahrenheit})
	if err != nil {
		return nil, err
	}
	return map[string]string{"html": string(html)}, nil
}
