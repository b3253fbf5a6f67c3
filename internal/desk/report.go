package desk

import (
	"bytes"
	"encoding/json"
	"errors"

	"mudline/internal/advice"
	"mudline/internal/reading"
	"mudline/internal/report"
	"mudline/internal/words"
)

// Report is the report on what was read last, as one HTML file, in metric units and
// English.
func (d *Desk) Report() ([]byte, error) { return d.report(report.Options{}) }

func (d *Desk) report(o report.Options) ([]byte, error) {
	if d.shown == nil {
		return nil, errors.New("there is no reading to report on")
	}
	// The page shows a reading rounded for JSON: the report must not say 71 where it
	// says 72.
	shown, err := answer(d.shown)
	if err != nil {
		return nil, err
	}
	res := *d.shown
	res.Reading = reading.Reading{}
	if err := json.Unmarshal(shown.Reading, &res.Reading); err != nil {
		return nil, err
	}
	var b bytes.Buffer
	if err := report.HTML(&b, report.ReportInput{Result: res, Cautions: advice.Cautions(), Options: o}); err != nil {
		return nil, err
	}
	return b.Bytes(), nil
}

// reportRequest asks for the same report in the person's units and language.
type reportRequest struct {
	Inches     bool `json:"inches"`
	Fahrenheit bool `json:"fahrenheit"`
	// Language is a BCP 47 tag, Said and Words its sentences and the words of charts;
	// without one the report is in English.
	Language string            `json:"language"`
	Said     []words.Pair      `json:"said"`
	Words    map[string]string `json:"words"`
	// Signs are how the person's country writes numbers.
	Signs *words.Signs `json:"signs"`
}

func reportIn(d *Desk, in reportRequest) (any, error) {
	o := report.Options{Inches: in.Inches, Fahrenheit: in.Fahrenheit}
	if in.Language != "" {
		o.Language = words.New(in.Language, in.Said, in.Words, in.Signs)
	}
	html, err := d.report(o)
	if err != nil {
		return nil, err
	}
	return map[string]string{"html": string(html)}, nil
}
