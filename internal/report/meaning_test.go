package report

import (
	"bytes"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"mudline/internal/reading"
)

func meant() reading.Reading {
	r := func(v, low, high float64) reading.Range { return reading.Range{Value: v, Low: low, High: high} }
	return reading.Reading{Meaning: &reading.Meaning{FieldCapacity: r(28, 22, 35), WiltingPoint: r(14, 9, 21), AvailableMMPerM: r(143, 114, 178),
		ConductivityMMH: r(15.5, 5.2, 46),
		Bed:             reading.Bed{TotalMM: r(43, 34, 53), ReadilyMM: r(12.7, 10.3, 16), Days: r(2.6, 2.1, 3.2)},
		Lines: []reading.Statement{
			{Topic: "watering", Text: "Give small vegetables about 12.7 mm of water every 2 to 3 days, and after that look at the ground before you give any more of it.", Source: "a table"},
			{Topic: "amendments", Text: "Work in 75 to 100 mm (3 to 4 inches) of compost, and 25.4 to 50.8 mm of mulch.", Source: "common practice"}},
		More: []reading.Statement{{Topic: "assumptions", Text: "Reckoned for roots 300 mm deep.", Source: "a book"},
			{Topic: "drainage", Text: "Dig a hole.", Source: "a leaflet"}},
		Laboratory: reading.Statement{Topic: "laboratory", Text: "A laboratory is dear.", Source: "a bill"}}}
}

func written(r reading.Reading, o Options) string {
	var b bytes.Buffer
	o.meaning(&b, r)
	return b.String()
}

func TestMeaningIsShort(t *testing.T) {
	text := written(meant(), Options{})
	assert.Equal(t, `
What it means
-------------
1. Give small vegetables about 12.7 mm of water every 2 to 3 days, and after that look at
   the ground before you give any more of it.
2. Work in 75 to 100 mm (3 to 4 inches) of compost, and 25.4 to 50.8 mm of mulch.
Reckoned for roots 300 mm deep.
`, text)
	assert.Empty(t, written(reading.Reading{}, Options{Explain: true}), "nothing is said where nothing is known")
}

func TestMeaningExplained(t *testing.T) {
	text := written(meant(), Options{Explain: true})
	for _, want := range []string{"any more of it. [1]", "Dig a hole. [3]", "A laboratory is dear. [4]", "[1] a table", "[2] a book", "[3] a leaflet", "[4] a bill",
		"for plants, in a metre of soil          143 mm     114 to 178 mm", "days that lasts without rain            2.6 days   2.1 to 3.2 days"} {
		assert.Contains(t, text, want)
	}
	assert.Equal(t, 1, strings.Count(text, "Reckoned for"))
	for _, line := range strings.Split(text, "\n") {
		assert.LessOrEqual(t, len([]rune(line)), pageWidth)
	}
}
