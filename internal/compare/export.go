package compare

import (
	_ "embed"
	"encoding/csv"
	"io"
	"strconv"
	"strings"

	"mudline/internal/reading"
)

// Schema is the JSON Schema (draft 2020-12) of what JSON writes.
//
//go:embed schema.json
var Schema []byte

// JSON writes the comparison as JSON, numbers rounded to four decimals.
func (c Comparison) JSON(w io.Writer) error { return reading.WriteJSON(w, c) }

// CSV writes a line a jar (RFC 4180, UTF-8); a cell is empty where nothing was
// told. A text that a spreadsheet would take for a formula begins with an
// apostrophe.
func (c Comparison) CSV(w io.Writer) error {
	out := csv.NewWriter(w)
	out.UseCRLF = true
	head := []string{"name", "source", "status", "system"}
	for _, f := range fractionNames {
		head = append(head, f+"_percent", f+"_low", f+"_high", f+"_group")
	}
	head = append(head, "class", "class_probability", "available_water_mm_per_m", "available_water_low", "available_water_high",
		"days_between_waterings", "days_low", "days_high", "warnings", "reason", "what_to_do")
	if err := out.Write(head); err != nil {
		return err
	}
	for _, r := range c.Jars {
		if err := out.Write(r.cells()); err != nil {
			return err
		}
	}
	out.Flush()
	return out.Error()
}

func (r Row) cells() []string {
	cells := []string{text(r.Name), text(r.Source), r.status(), text(r.System)}
	for k := range fractionNames {
		var e *reading.Range
		if r.told() {
			one := r.estimate(k)
			e = &reading.Range{Value: one.Percent, Low: one.Low, High: one.High}
		}
		cells = append(append(cells, numbers(e)...), r.letters(k))
	}
	if r.Class != nil {
		cells = append(cells, text(r.Class.Name), number(r.Class.Probability))
	} else {
		cells = append(cells, "", "")
	}
	cells = append(append(cells, numbers(r.AvailableMMPerM)...), numbers(r.Days)...)
	var codes []string
	for _, w := range r.Warnings {
		codes = append(codes, string(w.Code))
	}
	no := reading.Refusal{}
	if r.Refused != nil {
		no = *r.Refused
	}
	return append(cells, text(strings.Join(codes, " ")), text(no.Text), text(no.Remedy))
}

// status is "read", "not_told" without fractions, or "refused".
func (r Row) status() string {
	switch {
	case r.Refused != nil:
		return "refused"
	case !r.told():
		return "not_told"
	}
	return "read"
}

func numbers(r *reading.Range) []string {
	if r == nil {
		return []string{"", "", ""}
	}
	return []string{number(r.Value), number(r.Low), number(r.High)}
}

// number writes up to four significant decimals without an exponent.
func number(v float64) string {
	s := strconv.FormatFloat(v, 'f', 4, 64)
	return strings.TrimSuffix(strings.TrimRight(s, "0"), ".")
}

// text disarms what a spreadsheet would run: cells that begin with a sign of a
// formula, also in full width, or with a tab or line break before one.
func text(s string) string {
	if s != "" && strings.ContainsRune("=+-@\t\r\n＝＋－＠", []rune(s)[0]) {
		return "'" + s
	}
	return s
}
