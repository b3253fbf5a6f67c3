package reading_test

import (
	"bytes"
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mudline/internal/reading"
)

// plausible is a reading with every key, whose numbers can be true.
func plausible() reading.Reading {
	r := full()
	r.Fractions = &reading.Fractions{Sand: reading.Estimate{Percent: 40, Low: 30, High: 50},
		Silt: reading.Estimate{Percent: 40, Low: 25, High: 55}, Clay: reading.Estimate{Percent: 20, Low: 12, High: 31}}
	r.Soils = [][3]float64{{40, 40, 20}, {35, 43, 22}}
	r.Class = &reading.Class{System: "usda", Name: "loam", Probability: 0.75, Others: []reading.OtherClass{{Name: "clay loam", Probability: 0.25}}}
	return r
}

func TestDecodeGivesWhatWasEncoded(t *testing.T) {
	want := plausible()
	want.Version = 1
	got, err := reading.Decode(encoded(t, want))
	require.NoError(t, err)
	assert.Equal(t, want, *got)
}

func TestDecodePassesOverNewKeys(t *testing.T) {
	text := strings.Replace(string(encoded(t, plausible())), `"version": 1,`, `"version": 1, "a_later_key": {"x": [1, 2]},`, 1)
	_, err := reading.Decode([]byte(text))
	assert.NoError(t, err)
}

func TestDecodeGivesRefusals(t *testing.T) {
	var b bytes.Buffer
	want := &reading.Refusal{Code: reading.TooDark, Text: "a.jpg is too dark", Remedy: "by daylight"}
	require.NoError(t, reading.Refused(want).Encode(&b))
	_, err := reading.Decode(b.Bytes())
	var got *reading.Refusal
	require.ErrorAs(t, err, &got)
	assert.Equal(t, want, got)
}

func TestDecodeMistakes(t *testing.T) {
	good := string(encoded(t, plausible()))
	for _, c := range []struct{ old, new, want string }{
		{good, ``, "not a reading in JSON"},
		{good, `[]`, "not a reading in JSON"},
		{good, `null`, `"version" is missing`},
		{good, `{}`, `"version" is missing`},
		{good, good + "{}", "not a reading in JSON"},
		{good, good[:len(good)/2], "not a reading in JSON"},
		{good, `{"version":1,"refused":{"code":"no_jar"}}`, "code, text and remedy are needed"},
		{good, strings.Repeat(" ", reading.MaxBytes) + good, "at most"},
		{`"version": 1`, `"version": 2`, "version 2"},
		{`"version": 1`, `"version": "1"`, "not a reading in JSON"},
		{`"percent": 40`, `"percent": 140`, "fractions.sand: 140 is outside 0 to 100"},
		{`"percent": 40`, `"percent": 45`, "add up to 105"},
		{`"percent": 40`, `"percent": 1e999`, "not a reading in JSON"},
		{`"low": 30`, `"low": -1`, "fractions.sand: -1 is outside"},
		{`"low": 30`, `"low": 41`, "does not lie between"},
		{`[40,40,20]`, `[40,60]`, "soils[0] has 2 numbers"},
		{`[40,40,20]`, `[40,40,20,0]`, "soils[0] has 4 numbers"},
		{`[40,40,20]`, `null`, "soils[0] has 0 numbers"},
		{`[40,40,20]`, `[40,40,10]`, "soils[0]: sand, silt and clay add up to 90"},
		{`[40,40,20]`, `[140,-40,0]`, "soils[0]: 140 is outside"},
		{`"probability": 0.75`, `"probability": 75`, "outside 0 to 1"},
		{`"name": "loam"`, `"name": ""`, "a name is needed"},
		{`"system": "usda",`, `"system": "mars",`, "none of [usda canadian england-wales international australian german european]"},
	} {
		require.Contains(t, good, c.old)
		_, err := reading.Decode([]byte(strings.Replace(good, c.old, c.new, 1)))
		assert.ErrorContains(t, err, c.want, c.new[:min(len(c.new), 60)])
	}
	r := plausible()
	r.Soils = make([][3]float64, 10001)
	_, err := reading.Decode(encoded(t, r))
	assert.ErrorContains(t, err, "at most 10000")
	r = plausible()
	r.Meaning.AvailableMMPerM.High = 2000
	_, err = reading.Decode(encoded(t, r))
	assert.ErrorContains(t, err, "available_water_mm_per_m: 2000 is outside 0 to 1000")
	r = plausible()
	r.Meaning.Bed.Days.Low = -3
	_, err = reading.Decode(encoded(t, r))
	assert.ErrorContains(t, err, "days_between_waterings")
}

// FuzzDecode: whatever the bytes, what is accepted keeps to the ranges that its
// readers rely on.
func FuzzDecode(f *testing.F) {
	var b bytes.Buffer
	r := plausible()
	if err := r.Encode(&b); err != nil {
		f.Fatal(err)
	}
	f.Add(b.Bytes())
	f.Add([]byte(`{"version":1,"soils":[[1,2,97],null]}`))
	f.Add([]byte(`{"version":1,"fractions":{"sand":{"percent":-0,"high":1e2}}}`))
	f.Add([]byte(`{"version":1,"refused":{"code":"x","text":"y","remedy":"z"}}`))
	f.Fuzz(func(t *testing.T, data []byte) {
		r, err := reading.Decode(data)
		if err != nil {
			assert.Nil(t, r)
			return
		}
		percent := func(v float64) { assert.True(t, v >= 0 && v <= 100, fmt.Sprint(v)) }
		for _, s := range r.Soils {
			for _, v := range s {
				percent(v)
			}
			assert.LessOrEqual(t, math.Abs(s[0]+s[1]+s[2]-100), 0.5)
		}
		if fr := r.Fractions; fr != nil {
			for _, e := range []reading.Estimate{fr.Sand, fr.Silt, fr.Clay} {
				percent(e.Low)
				percent(e.High)
				assert.True(t, e.Low <= e.Percent+0.001 && e.Percent <= e.High+0.001)
			}
		}
		if c := r.Class; c != nil {
			assert.NotEmpty(t, c.Name)
			assert.True(t, c.Probability >= 0 && c.Probability <= 1)
		}
	})
}
