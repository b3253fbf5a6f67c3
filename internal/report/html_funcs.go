package report

import (
	"fmt"
	"html/template"
	"math"
	"strings"

	"mudline/internal/chart"
	"mudline/internal/reading"
	"mudline/internal/words"
)

// speaking are the functions by which the page's templates say something in a language
// and in a person's units: say writes the text of a key, with pairs of a name and what is
// filled in; fill the same with formulas for {a}, {b} ...; told a statement.
func speaking(o Options) template.FuncMap {
	return template.FuncMap{
		"say": func(key string, args ...any) (template.HTML, error) {
			list, err := arguments(args)
			return template.HTML(markup.Replace(o.say(key, list...))), err
		},
		"fill": func(key string, formulas ...string) template.HTML {
			text := markup.Replace(o.say(key))
			for i, f := range formulas {
				text = strings.Replace(text, "{"+string(rune('a'+i))+"}", f, 1)
			}
			return template.HTML(text)
		},
		"patterns":  Patterns,
		"told":      o.statement,
		"message":   o.tell,
		"sentence":  o.sentence,
		"questions": questions,
		"class":     o.class,
		"crop":      func(name string) string { return o.language().Word("crop", name) },
		"origin":    func(from string) string { return o.language().Word("report-from", from) },
		"felt":      func(key string) string { return words.Capital(o.language().Word("felt", key)) },
		"answer":    func(value string) string { return o.language().Word("felt-answer", value) },
		"chance":    o.chance,
		"one":       o.one,
		"number":    o.decimal,
		"within":    o.within,
		"about": func(v, low, high float64) string {
			return o.between(reading.Estimate{Percent: v, Low: low, High: high})
		},
		"between": o.between,
		"um":      func(v float64) string { return o.say("report.um", words.Name("v", o.twoFigures(v))) },
		"blind":   func(g reading.GrainCurve) []string { return chart.Blind(g.FinestUM, g.CoarsestUM, o.Language) },
		"counted": countPhotos,
		"keys": func(list []string) words.Message {
			return words.Say("as-it-is", words.Words("text", "", "record-key", list))
		},
	}
}

// markup escapes a text as HTML, quotation marks left alone.
var markup = strings.NewReplacer("&", "&amp;", "<", "&lt;", ">", "&gt;")

// arguments are pairs of a name and a value as they stand in a template.
func arguments(pairs []any) ([]words.Arg, error) {
	var out []words.Arg
	for i := 0; i+1 < len(pairs); i += 2 {
		name, _ := pairs[i].(string) // a value without one is not filled in
		switch v := pairs[i+1].(type) {
		case words.Value:
			out = append(out, words.Arg{Name: name, Value: v})
		case string:
			out = append(out, words.Name(name, v))
		case float64:
			out = append(out, words.Whole(name, v))
		case int:
			out = append(out, words.Whole(name, v))
		default:
			return nil, fmt.Errorf("%T cannot be filled into a text", v)
		}
	}
	return out, nil
}

var templateFuncs = template.FuncMap{
	"round":    func(v float64) string { return fmt.Sprintf("%.0f", v) },
	"share100": func(v float64) string { return fmt.Sprintf("%.0f", 100*v) },
	"times":    func(a, b float64) float64 { return math.Round(10*a*b) / 10 },
	"value":    func(v *float64) float64 { return *v },
	"width":    partView.width,
	"hand":     reading.Hand.Message,
	"why":      reading.HandReason.Message,
	"help":     reading.HandReason.Help,
	"picture":  drawing.source,
	"named":    drawing.named,
	"scale":    drawing.scale,
}
