package compare

import (
	"bytes"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
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
	require.NoError(t, c.Text(&b))
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
