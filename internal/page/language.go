package page

import (
	"embed"
	"encoding/json"
	"fmt"
	"slices"
	"strings"

	"mudline/internal/words"
)

// chartKey begins the keys of the words of charts.
const chartKey = "chart:"

// command holds the wording of remedies on the command line, where there are no lines
// to drag.
//
//go:embed command
var command embed.FS

// catalogue reads a file of words: the sentences of the program, and the words of charts.
func catalogue(files embed.FS, name string) (said []words.Pair, charts map[string]string, err error) {
	data, err := files.ReadFile(name + ".json")
	if err != nil {
		return nil, nil, err
	}
	var all map[string]json.RawMessage
	if err := json.Unmarshal(data, &all); err != nil {
		return nil, nil, fmt.Errorf("%s.json: %w", name, err)
	}
	charts = map[string]string{}
	for key, value := range all {
		format, isChart := strings.CutPrefix(key, chartKey)
		switch {
		case key == "said":
			err = json.Unmarshal(value, &said)
		case isChart:
			var text string
			err = json.Unmarshal(value, &text)
			charts[format] = text
		}
		if err != nil {
			return nil, nil, fmt.Errorf("%s.json: %s: %w", name, key, err)
		}
	}
	return said, charts, nil
}

// Language is what the command line writes reports in, by the page's own catalogues: nil for "en".
// The error names the languages there are.
func Language(tag string) (*words.Language, error) {
	if tag == words.Tags()[0] {
		return nil, nil
	}
	if !slices.Contains(words.Tags(), tag) {
		return nil, fmt.Errorf("%q is no language of the report: it can be %s", tag, strings.Join(words.Tags(), ", "))
	}
	said, charts, err := catalogue(site, "site/words/"+tag)
	if err != nil {
		return nil, err
	}
	own, _, err := catalogue(site, "site/words/report."+tag)
	if err != nil {
		return nil, err
	}
	remedies, _, err := catalogue(command, "command/"+tag)
	if err != nil {
		return nil, err
	}
	return words.New(tag, slices.Concat(said, own, remedies), charts, nil), nil
}
