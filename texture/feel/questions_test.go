package feel_test

import (
	"reflect"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"mudline/texture/feel"
)

func TestQuestionsCoverTheObservation(t *testing.T) {
	var o feel.Observation
	seen := map[string]bool{}
	for _, q := range feel.Questions() {
		assert.False(t, seen[q.Key], q.Key)
		seen[q.Key] = true
		assert.NotRegexp(t, `[.?]$`, q.Do.String(), "what to do is no question")
		assert.True(t, strings.HasSuffix(q.Ask.String(), "?"), q.Ask)
		assert.NotContains(t, q.How.String(), "?", "what is asked comes after how it is done")
		assert.True(t, strings.HasSuffix(q.How.String(), "."), q.How)
		assert.LessOrEqual(t, strings.Count(q.How.String()+" ", ". ")+strings.Count(q.How.String(), "? "), 2, "%s: two sentences at most", q.Key)
		for _, c := range q.Choices {
			assert.NotEqual(t, "as-it-is", c.Label.Key, "%s: %s has a text", q.Key, c.Value)
		}
		answer := q.Example.String()
		if q.Kind == feel.Choice {
			require.GreaterOrEqual(t, len(q.Choices), 2)
			answer = q.Choices[0].Value
		}
		require.NotEmpty(t, answer, q.Key)
		if q.Kind != feel.Lengths {
			require.NoError(t, feel.Set(&o, q.Key, strings.TrimSpace(strings.Split(answer, ", or")[0])))
		}
	}
	require.NoError(t, feel.Set(&o, feel.Ribbons, "30, 31.75"))
	// No field of the observation is left without a question.
	fields := reflect.ValueOf(o)
	for i := range fields.NumField() {
		assert.False(t, fields.Field(i).IsZero(), fields.Type().Field(i).Name)
	}
	assert.Len(t, seen, fields.NumField(), "nor is one asked twice")
	assert.Equal(t, []float64{30, 31.75}, o.RibbonsMM)
}

func TestSetReadsHowPeopleWrite(t *testing.T) {
	for _, c := range []struct{ key, text, want string }{
		{"ball", " Firm ", "firm"}, {"ball", "no", "none"}, {"ball", "none", "none"}, {"kneaded", "Y", "yes"}, {"kneaded", "false", "no"},
		{"failure", "falls-apart", "falls apart"}, {"failure", "Falls  apart", "falls apart"}, {"smell", "rotten_egg", "rotten egg"},
		{"smell", "nothing", "none"}, {"smell", "Petrol", "fuel"}, {"smell", "gasoline", "fuel"}, {"smell", "solvent", "fuel"}, {"colour-dry", " light brown ", "light brown"}, {"ribbons", "none", "0"}, {"ribbons", "30 mm,32", "30, 32"},
		{"grit", "", ""}, {"ribbons", "", ""},
	} {
		o := feel.Observation{Grit: feel.Some}
		require.NoError(t, feel.Set(&o, c.key, c.text), "%s=%s", c.key, c.text)
		assert.Equal(t, c.want, feel.Get(o, c.key), "%s=%s", c.key, c.text)
	}
}

func TestSetErrorsListWhatIsAllowed(t *testing.T) {
	for _, c := range []struct{ key, text, want string }{
		{"bounce", "yes", `has no "bounce": it has hands, stones-out`},
		{"ball", "mushy", `"mushy" is not an answer for ball: none, weak, firm`},
		{"kneaded", "none", "yes, no"},
		{"grit", "1", "none, some, strong"},
		{"ribbons", "-3", "from 0 up"}, {"ribbons", "NaN", "from 0 up"}, {"ribbons", "Inf", "from 0 up"}, {"ribbons", "3,,4", "from 0 up"},
		{"colour-dry", strings.Repeat("x", feel.MaxText+1), "at most 60"},
		{"colour-dry", "red\x1b[2J", "cannot be shown"},
		{"colour-dry", "red\nbrown", "cannot be shown"},
	} {
		o := feel.Observation{Ball: feel.FirmBall, RibbonsMM: []float64{5}}
		before := o
		assert.ErrorContains(t, feel.Set(&o, c.key, c.text), c.want)
		assert.Equal(t, before, o, "a wrong answer changes nothing")
	}
}

// The notation is that of ASTM D1535; the examples are of the kind printed in
// the headings of the soil colour charts (hue 10YR, value 4, chroma 3; greys N).
func TestMunsell(t *testing.T) {
	for in, want := range map[string]string{
		"10YR 4/3": "10YR 4/3", "10yr4/3": "10YR 4/3", "2.5Y 6 / 2": "2.5Y 6/2", "7.5YR 2.5/1": "7.5YR 2.5/1", "5GY 5/1": "5GY 5/1",
		"N 2.5/": "N 2.5/", "n4/0": "N 4/", "10 R 3/6": "10R 3/6",
		"brown": "brown", "dark brown": "dark brown", "black": "black", "nearly black": "nearly black", "": "",
	} {
		var o feel.Observation
		require.NoError(t, feel.Set(&o, "colour-moist", in), in)
		assert.Equal(t, want, o.ColourMoist, in)
	}
	for _, bad := range []string{"10YR", "10YR 4", "12YR 4/3", "0YR 4/3", "10XR 4/3", "10YR 14/3", "10YR 4/33", "YR 4/3", "N 11/", "4/3", "10YR 4/x"} {
		var o feel.Observation
		assert.ErrorContains(t, feel.Set(&o, "colour-moist", bad), "unsell", bad)
	}
}

// What Get writes, Set reads.
func TestSetAndGetAgree(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		o, back := someAnswers(t), feel.Observation{}
		for _, key := range feel.Keys() {
			require.NoError(t, feel.Set(&back, key, feel.Get(o, key)))
		}
		assert.Equal(t, o, back)
		assert.Equal(t, feel.Get(o, "ball") == "" && len(feel.Get(o, "ribbons")) == 0 && o.Hands == "" && o.ColourDry == "", o.Empty())
	})
}

// someAnswers is an observation that answers some of the questions.
func someAnswers(t *rapid.T) feel.Observation {
	return feel.Observation{
		Hands:     rapid.SampledFrom([]feel.Hands{"", feel.Beginner, feel.Practised}).Draw(t, "hands"),
		ColourDry: rapid.SampledFrom([]string{"", "brown", "10YR 4/3", "N 4/", "rust: red, #2"}).Draw(t, "colour"),
		Ball:      rapid.SampledFrom([]feel.Ball{"", feel.NoBall, feel.FirmBall}).Draw(t, "ball"),
		RibbonsMM: rapid.SampledFrom([][]float64{nil, {0}, {31.75}, {30, 32.5, 900}}).Draw(t, "ribbons"),
	}
}
