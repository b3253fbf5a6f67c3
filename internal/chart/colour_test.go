package chart

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"mudline/internal/look"
	"mudline/internal/reading"
)

// Every class that the drawings use has its rules, every tone of them is in the table,
// and no colour stands on its own but those of lines, parts and what is written on them.
func TestPaintsAreOfTheTable(t *testing.T) {
	css := CSS()
	of := map[string]bool{"none": true, look.Seam: true}
	for _, l := range look.Lines() {
		of[l.Colour] = true
	}
	for _, p := range look.Parts() {
		of[p.Colour], of[look.InkOn(p.Colour)] = true, true
	}
	for _, d := range charts(loam(), Options{}) {
		for _, e := range elements(t, d.SVG()) {
			for _, class := range strings.Fields(e.attrs["class"]) {
				assert.Contains(t, css, "."+class+"{")
			}
			for attr, prefix := range map[string]string{"fill": "cf-", "stroke": "cs-"} {
				if v := e.attrs[attr]; v != "" && !strings.Contains(e.attrs["class"], prefix) {
					assert.True(t, of[v], "%s of a %s", v, attr)
				}
			}
		}
	}
	for _, p := range used {
		assert.Equal(t, p.tone, look.ToneOf(p.tone).Name)
	}
	assert.NotContains(t, css, "<")
}

func TestOwnColours(t *testing.T) {
	own := &reading.Colours{Sand: "#e1d59f", Silt: "url(x)"}
	assert.Equal(t, []string{"#e1d59f", "", "", ""}, []string{Own(own, "sand"), Own(own, "silt"), Own(own, "clay"), Own(nil, "sand")})
}

// What a soil looks like changes nothing of how its parts are drawn, and each part has a
// pattern of its own.
func TestPartsLookTheSameInEverySoil(t *testing.T) {
	r := loam()
	seen := map[look.Pattern]bool{}
	parts, ok := partsOf(r, Options{})
	assert.True(t, ok)
	for _, p := range parts {
		seen[p.Pattern] = true
	}
	assert.Len(t, seen, 3)
	plain := Shares(r, Options{}).SVG()
	r.Colours = &reading.Colours{Sand: "#808080", Silt: "#808080", Clay: "#808080"}
	assert.Equal(t, plain, Shares(r, Options{}).SVG())
}
