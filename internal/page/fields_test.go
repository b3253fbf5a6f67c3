package page

import (
	"encoding/json"
	"fmt"
	"io/fs"
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mudline/internal/record"
	"mudline/layers"
)

// Rows of QUANTITIES in fields.js, and the units of each: least, most and an example.
var (
	quantityRow  = regexp.MustCompile(`(?m)^  "?([a-z-]+)"?: \{ units: \{ (.*) \}, usual:`)
	quantityUnit = regexp.MustCompile(`"?([a-zA-Z%]+)"?: \[([0-9.]+), ([0-9.]+), "?([0-9./ ]+)"?, [0-9]\]`)
)

// What the page says that a field takes is what a record takes: the ends it names and its
// example, and not a step of its last figure more.
func TestFieldsTakeWhatARecordTakes(t *testing.T) {
	data, err := fs.ReadFile(site, "site/js/fields.js")
	require.NoError(t, err)
	entries := map[string]record.Entry{}
	for _, e := range record.Entries {
		entries[e.Name] = e
	}
	rows := quantityRow.FindAllStringSubmatch(string(data), -1)
	require.Len(t, rows, 8)
	for _, row := range rows {
		e, ok := entries[row[1]]
		require.True(t, ok, "%s is no key of a record", row[1])
		takes := func(number, unit string) error { return e.Set(new(record.Record), number+" "+unit) }
		units := quantityUnit.FindAllStringSubmatch(row[2], -1)
		require.Len(t, units, strings.Count(row[2], "["), row[0])
		for _, u := range units {
			unit := u[1]
			for _, number := range u[2:5] {
				assert.NoError(t, takes(number, unit), "%s: %s %s", e.Name, number, unit)
			}
			assert.Error(t, takes(next(t, u[2], -1), unit), "%s: under %s %s", e.Name, u[2], unit)
			assert.Error(t, takes(next(t, u[3], 1), unit), "%s: over %s %s", e.Name, u[3], unit)
		}
	}
}

// next is a number moved by some steps of its last figure.
func next(t *testing.T, number string, steps float64) string {
	v, err := strconv.ParseFloat(number, 64)
	require.NoError(t, err)
	_, decimals, _ := strings.Cut(number, ".")
	return fmt.Sprintf("%.*f", len(decimals), v+steps*math.Pow10(-len(decimals)))
}

// The page names the lines as the rest of the program does, and in its order.
func TestLinesAreNamedAsEverywhere(t *testing.T) {
	data, err := fs.ReadFile(site, "site/js/lines.js")
	require.NoError(t, err)
	for list, lines := range map[string][]layers.Line{"LAYERS": layers.Levels, "SIDES": {layers.Left, layers.Right}} {
		names, err := json.Marshal(lines)
		require.NoError(t, err)
		assert.Contains(t, string(data), "export const "+list+" = "+strings.ReplaceAll(string(names), ",", ", ")+";")
	}
}
