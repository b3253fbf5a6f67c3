package report_test

import (
	"bytes"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mudline/internal/reading"
	"mudline/internal/report"
	"mudline/internal/words"
)

// The colours of the wet soil are named in each language, with their CIELAB beside, and
// only where the sheet told the light.
func TestWetColoursAreNamed(t *testing.T) {
	name := func(l float64, hue words.Message) words.Message {
		return words.Say("colour.with-lab", words.Told("name", hue), words.Whole("l", l), words.Whole("a", 3.0), words.Whole("b", -2.0))
	}
	brown := words.WordOf("hue", "greyish-brown")
	said := words.Say("colour.wet", words.Told("low", name(55, words.Say("colour.light", words.Told("hue", brown)))),
		words.Told("mid", name(40, brown)), words.Told("high", name(25, words.Say("colour.dark", words.Told("hue", brown)))))
	r := sample()
	r.Colours = &reading.Colours{From: "sheet", Wet: &reading.WetColours{Text: said.String(), Said: said.Ptr()}}
	for tag, want := range map[string][]string{
		"en": {"Wet colours, by the light", "light greyish brown (L* 55, a* 3, b* -2) at the bottom", "dark greyish brown"},
		"es": {"Colores en mojado", "pardo grisáceo claro (L* 55,", "pardo grisáceo oscuro"},
		"fr": {"Couleurs à l’état mouillé", "brun grisâtre clair (L* 55,", "brun grisâtre foncé"},
	} {
		language, err := words.Find(tag)
		require.NoError(t, err)
		var b bytes.Buffer
		require.NoError(t, report.WriteTable(&b, r, report.Options{Language: language}))
		text := string(bytes.Join(bytes.Fields(b.Bytes()), []byte(" ")))
		for _, w := range want {
			assert.Contains(t, text, w, tag)
		}
	}
	r.Colours.Wet = nil
	var b bytes.Buffer
	require.NoError(t, report.WriteTable(&b, r, report.Options{}))
	assert.NotContains(t, b.String(), "L*")
}
