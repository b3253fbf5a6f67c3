package compare

import (
	"bytes"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"mudline/internal/reading"
	"mudline/internal/words"
)

func TestLongNamesAreCutBetweenBrackets(t *testing.T) {
	for in, want := range map[string]string{
		"Plot 12, old orchard": "Plot 12, old orchard",
		"A very long name of a jar, one of those that are written":  "A very long name of a jar, one…",
		"The bed on the north side (by the shed, in shade) of 2026": "The bed on the north side…",
		"Plot 12, old orchard (read/2026/north/plot-12)":            "Plot 12, old orchard (…/plot-12)",
		"Plot 12 (a/plot-12-old-orchard-read)":                      "Plot 12 (…t-12-old-orchard-read)",
		"Der Garten hinter dem Haus der Großmutter":                 "Der Garten hinter dem Haus der…",
		"(" + strings.Repeat("x", 60):                               "(" + strings.Repeat("x", 30) + "…",
	} {
		assert.Equal(t, want, short(in, labelWidth))
	}
}

// Jars that differ are never written alike, however long their names.
func TestLabelsTellJarsApart(t *testing.T) {
	long := strings.Repeat("far along the brook ", 3)
	c, err := Of([]Jar{jarOf(long+"one", even(60, 5, 10)...), jarOf(long+"two", even(60, 30, 35)...), jarOf("three", even(60, 50, 60)...)}, "")
	require.NoError(t, err)
	var b bytes.Buffer
	require.NoError(t, c.Text(&b, nil, 0))
	assert.Contains(t, b.String(), long+"one and "+long+"two")

	rapid.Check(t, func(t *rapid.T) {
		names := rapid.SliceOfNDistinct(rapid.StringOfN(rapid.SampledFrom([]rune("ab ()…ö雪,")), 1, 60, -1), 2, 5, rapid.ID).Draw(t, "names")
		var c Comparison
		for _, n := range names {
			c.Jars = append(c.Jars, Row{Name: n})
		}
		seen := map[string]bool{}
		for _, label := range c.labels() {
			require.False(t, seen[label], "%q", label)
			seen[label] = true
		}
		require.LessOrEqual(t, len([]rune(short(names[0], labelWidth))), labelWidth)
	})
}

// The text is in the language that is asked for.
func TestTextInSpanish(t *testing.T) {
	a, b := jarOf("A", even(200, 20, 30)...), jarOf("B", even(200, 45, 55)...)
	a.Reading.Class = &reading.Class{System: "usda", Name: "clay loam", Probability: 0.8}
	c, err := Of([]Jar{a, b, {Name: "C", Refused: &reading.Refusal{Code: "too_dark", Text: "x", Remedy: "y"}}}, "")
	require.NoError(t, err)
	spanish, err := words.Find("es")
	require.NoError(t, err)
	var out bytes.Buffer
	require.NoError(t, c.Text(&out, spanish, 0))
	for _, want := range []string{"frasco", "arcilla %", "franco arcilloso 80", "sin leer, ver abajo", "  A y B\n", "arcilla: B tiene más, por 25 puntos", "Sin leer: C: x\n  Qué hacer: y"} {
		assert.Contains(t, out.String(), want)
	}
	for _, line := range strings.Split(out.String(), "\n") {
		assert.LessOrEqual(t, len([]rune(line)), 130, line)
	}
}
