package reading_test

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math"
	"reflect"
	"strings"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mudline/internal/reading"
	"mudline/internal/testkit"
	"mudline/internal/words"
)

// compile checks the schema itself against the 2020-12 meta-schema.
func compile(t *testing.T) *jsonschema.Schema {
	t.Helper()
	return testkit.Schema(t, reading.Schema)
}

func validate(t *testing.T, s *jsonschema.Schema, text []byte) error {
	t.Helper()
	v, err := jsonschema.UnmarshalJSON(bytes.NewReader(text))
	require.NoError(t, err)
	return s.Validate(v)
}

// fill sets every field to a value, so that no key can be missed.
func fill(v reflect.Value) {
	if m, ok := v.Addr().Interface().(*words.Message); ok {
		*m = words.Say("then", words.Name("a", "some text"), words.MM("b", 12.5, 1))
		return
	}
	switch v.Kind() {
	case reflect.Float64:
		v.SetFloat(0.5)
	case reflect.Bool:
		v.SetBool(true)
	case reflect.Int:
		v.SetInt(1)
	case reflect.String:
		v.SetString("some_text")
	case reflect.Pointer:
		v.Set(reflect.New(v.Type().Elem()))
		fill(v.Elem())
	case reflect.Slice:
		v.Set(reflect.MakeSlice(v.Type(), 1, 1))
		fill(v.Index(0))
	case reflect.Map:
		key, value := reflect.New(v.Type().Key()).Elem(), reflect.New(v.Type().Elem()).Elem()
		fill(key)
		fill(value)
		v.Set(reflect.MakeMap(v.Type()))
		v.SetMapIndex(key, value)
	case reflect.Array:
		for i := range v.Len() {
			fill(v.Index(i))
		}
	case reflect.Struct:
		for i := range v.NumField() {
			fill(v.Field(i))
		}
	default:
		panic(fmt.Sprint("a field of a new kind: ", v.Type()))
	}
}

// full is a reading with every key present.
func full() reading.Reading {
	var r reading.Reading
	fill(reflect.ValueOf(&r).Elem())
	r.TempFrom, r.Engine, r.System, r.Class.System = "stated", "go", "usda", "usda"
	r.Photos[0].ElapsedFrom = "exif"
	r.WaterDepthMM, r.WaterDepthFrom, r.Sheet.Paper = reading.Ptr(130), "sheet", "a4"
	wet := r.Colours.Wet
	r.Colours = &reading.Colours{Wet: wet, From: "sheet", Sand: "#c2a878", Silt: "#9a8468", Clay: "#6e5a48", Water: "#d8d0c4"}
	r.Hand.Verdict, r.Hand.Joint.Class.System = "agree", "usda"
	r.Meaning.OrganicMatterFrom = "assumed"
	r.Meaning.Bed.RootingDepthFrom, r.Meaning.Bed.DailyUseFrom = "crop", "stated"
	return r
}

func encoded(t *testing.T, r reading.Reading) []byte {
	t.Helper()
	var b bytes.Buffer
	require.NoError(t, r.Encode(&b))
	return b.Bytes()
}

func TestEveryKeyIsInTheSchema(t *testing.T) {
	require.NoError(t, validate(t, compile(t), encoded(t, full())))
}

func TestUnseenIsAbsent(t *testing.T) {
	r := reading.Reading{TempFrom: "assumed", Photos: []reading.Photo{{File: "a.jpg", ElapsedS: 61, ElapsedFrom: "name", SizePx: [2]int{3, 4}}}}
	text := encoded(t, r)
	require.NoError(t, validate(t, compile(t), text))
	for _, key := range []string{"null", "water_depth_mm", "fractions", "class", "heights_mm", "deposit_top", "by_thickness", "why"} {
		assert.NotContains(t, string(text), key)
	}
	assert.Contains(t, string(text), `"warnings": []`)
}

func TestRefusalMeetsTheSchema(t *testing.T) {
	var b bytes.Buffer
	require.NoError(t, reading.Refused(&reading.Refusal{Code: reading.TooDark, Text: "dark", Remedy: "light"}).Encode(&b))
	require.NoError(t, validate(t, compile(t), b.Bytes()))
	assert.JSONEq(t, `{"version":1,"refused":{"code":"too_dark","text":"dark","remedy":"light"}}`, b.String())
}

// The schema must be able to fail, or its passing says nothing.
func TestSchemaRejects(t *testing.T) {
	s := compile(t)
	good := string(encoded(t, full()))
	for _, c := range []struct{ old, new string }{
		{`"version": 1`, `"version": 2`},
		{`"elapsed_from": "exif"`, `"elapsed_from": "guess"`},
		{`"system": "usda",`, `"system": "other",`},
		{`"water_depth_mm": 130`, `"water_depth_mm": 13`},
		{`"jar":`, `"jarr":`},
		{`"water_depth_from": "sheet"`, `"water_depth_from": "guess"`},
		{`"paper": "a4"`, `"paper": "a3"`},
		{`"deposit_top": 0.5`, `"deposit_top": "0.5"`},
		{`"temp_from": "stated",`, ``},
		{`"#c2a878"`, `"red"`},
		{`"verdict": "agree"`, `"verdict": "maybe"`},
		{`"organic_matter_from": "assumed"`, `"organic_matter_from": "guessed"`},
	} {
		require.Contains(t, good, c.old)
		assert.Error(t, validate(t, s, []byte(strings.Replace(good, c.old, c.new, 1))), c.new)
	}
	assert.Error(t, validate(t, s, []byte(`{"version":1,"refused":{"code":"too_dark"}}`)))
}

func TestNumbersAreRoundedAndFinite(t *testing.T) {
	r := full()
	r.Photos[0].RowsPx.Floor = reading.Ptr(1.0 / 3)
	assert.Contains(t, string(encoded(t, r)), `"floor": 0.3333`)
	assert.InDelta(t, 1.0/3, *r.Photos[0].RowsPx.Floor, 1e-15, "the reading itself is left alone")

	r.Fractions.Sand.Low = math.NaN()
	var b bytes.Buffer
	err := r.Encode(&b)
	require.ErrorContains(t, err, "reading.Fractions.Sand.Low is not a finite number")
	assert.Zero(t, b.Len(), "nothing is written")

	assert.Nil(t, reading.Ptr(math.NaN()))
	assert.Nil(t, reading.Ptr(math.Inf(1)))
}

func TestEncodedReadsBack(t *testing.T) {
	want := full()
	want.Version = 1
	var got reading.Reading
	require.NoError(t, json.Unmarshal(encoded(t, want), &got))
	assert.Equal(t, want, got)
}
