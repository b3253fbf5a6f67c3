package checked_test

import (
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mudline/internal/checked"
	"mudline/internal/words"
)

func read(t *testing.T, name string) string {
	data, err := os.ReadFile(filepath.Join("..", "..", name))
	require.NoError(t, err)
	return string(data)
}

// Every figure stands in testdata/MEASURED.md with its denominator and its command.
func TestEveryFigureStandsInMeasured(t *testing.T) {
	text := read(t, filepath.Join("testdata", "MEASURED.md"))
	for _, f := range checked.All() {
		row := fmt.Sprintf("| %s | %d of %d | `%s` |\n", f.What, f.N, f.Of, f.Command)
		assert.True(t, strings.Contains(text, row), row)
		assert.True(t, 0 <= f.N && f.N <= f.Of, f.What)
	}
}

// README quotes the figures, not others.
func TestReadmeQuotesThem(t *testing.T) {
	text := regexp.MustCompile(`\s+`).ReplaceAllString(read(t, "README.md"), " ")
	for _, want := range []string{
		fmt.Sprintf("in %d of %d cases on %d rendered jars", checked.Ranges.N, checked.Ranges.Of, checked.RenderedJars),
		fmt.Sprintf("in %d of %d on %d simulated soils", checked.Simulated.N, checked.Simulated.Of, checked.SimulatedSoils),
		fmt.Sprintf("right in %d of %d", checked.Likely.N, checked.Likely.Of),
		fmt.Sprintf("of %d of %d simulated pairs", checked.SoundPairs.N, checked.SoundPairs.Of),
	} {
		assert.True(t, strings.Contains(text, want), want)
	}
}

// A figure stands in the table alone: no text of a catalogue has one of its own.
func TestNoTextHasAFigureOfItsOwn(t *testing.T) {
	of := regexp.MustCompile(`\d+ (of|de|sur) \d+|\d+ de cada \d{2,}`)
	scale := regexp.MustCompile(`9 (sur|de cada|of) 10\b|\d+ (sur|de|of) 100\b`)
	for _, tag := range words.Tags() {
		data, err := words.File(tag)
		require.NoError(t, err)
		var texts map[string]any
		require.NoError(t, json.Unmarshal(data, &texts))
		for key, text := range texts {
			assert.NotRegexp(t, of, scale.ReplaceAllString(fmt.Sprint(text), ""), "%s: %s", tag, key)
		}
	}
}

// All three are told in every language with their figures.
func TestTold(t *testing.T) {
	for _, tag := range words.Tags() {
		l, err := words.Find(tag)
		require.NoError(t, err)
		for m, figures := range map[string][]int{
			l.Say(checked.Readings()): {checked.RenderedJars, checked.Ranges.N, checked.Ranges.Of, checked.Likely.N, checked.Likely.Of, checked.Simulated.N, checked.Simulated.Of},
			l.Say(checked.Heights()):  {checked.Lines.N, checked.Lines.Of},
			l.Say(checked.Pairs()):    {checked.SoundPairs.N, checked.SoundPairs.Of},
		} {
			for _, n := range figures {
				assert.Contains(t, m, fmt.Sprint(n), tag)
			}
		}
	}
}
