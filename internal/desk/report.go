package desk

import (
	"bytes"
	"encoding/json"

	"mudline/internal/advice"
	"mudline/internal/reading"
	"mudline/internal/report"
	"mudline/internal/words"
)

func (d *Desk) report(o report.Options) ([]byte, error) {
	if d.shown == nil {
		return nil, words.Say("desk.nothing-to-report")
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

// reportIn is the report on what was read last, in the person's units and language.
func reportIn(d *Desk, _ struct{}) (any, error) {
	set := d.language.Setting()
	html, err := d.report(report.Options{Inches: set.Inches, Fahrenheit: set.Fahrenheit, Language: d.language})
	if err != nil {
		return nil, err
	}
	return map[string]string{"html": string(html)}, nil
}
