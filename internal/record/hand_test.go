package record_test

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"mudline/internal/reading"
	"mudline/internal/record"
	"mudline/texture/feel"
)

const wholeHand = `hand:
  hands: practised
  stones-out: yes
  moistened: y
  kneaded: false
  smell: rotten-egg
  colour-dry: light brown
  colour-moist: 10yr 4/3
  grit: none
  smooth: Strong
  sticky: some
  ball: firm
  failure: falls apart
  ribbons:
    - 30 mm
    - 1 1/4 in
    - none
organic-matter: 3.5 %
crop: Sweet  corn
rooting-depth: 12 in
daily-use: 5 mm a day
`

func TestParseHand(t *testing.T) {
	r, err := record.Parse("jar.yaml", []byte(wholeHand))
	require.NoError(t, err)
	assert.Equal(t, feel.Observation{Hands: feel.Practised, StonesOut: feel.Yes, Moistened: feel.Yes, Kneaded: feel.No, Smell: feel.RottenEgg,
		ColourDry: "light brown", ColourMoist: "10YR 4/3", Grit: feel.None, Smooth: feel.Strong, Sticky: feel.Some, Ball: feel.FirmBall,
		Failure: feel.FallsApart, RibbonsMM: []float64{30, 31.75, 0}}, *r.Hand)
	assert.InDelta(t, 3.5, *r.OrganicMatter, 1e-9)
	assert.Equal(t, "sweetcorn", r.Crop)
	assert.InDelta(t, 304.8, r.RootingDepthMM, 1e-9)
	assert.InDelta(t, 5, r.DailyUseMM, 1e-9)
	stated := r.Stated()
	assert.Len(t, stated, 17)
	assert.Subset(t, stated, []string{"hand.ball", "hand.ribbons", "hand.colour-dry", "organic-matter", "crop", "rooting-depth", "daily-use"})
}

func TestHandWithoutAnswersIsNone(t *testing.T) {
	for _, text := range []string{"hand:\n", "hand: {}\n", "hand:\n  ball:\n  grit: ~\n"} {
		r, err := record.Parse("jar.yaml", []byte(text))
		require.NoError(t, err, text)
		assert.Nil(t, r.Hand, text)
	}
	// Nothing in the ground is a value too.
	r, err := record.Parse("jar.yaml", []byte("organic-matter: 0\n"))
	require.NoError(t, err)
	assert.Zero(t, *r.OrganicMatter)
	assert.Equal(t, []string{"organic-matter"}, r.Stated())
}

func TestHandErrorsNameKeyAndLine(t *testing.T) {
	for _, c := range []struct{ text, want string }{
		{"hand: firm\n", "jar.yaml:1: expected keys and values in hand"},
		{"hand:\n  bal: firm\n", "jar.yaml:2: bal: unknown key: hand may have hands, stones-out"},
		{"hand:\n  ball: mushy\n", `jar.yaml:2: ball: "mushy" is not an answer for ball: none, weak, firm`},
		{"hand:\n  ball: [firm]\n", "expected a single value"},
		{"hand:\n  ball: firm\n  ball: weak\n", "jar.yaml:3"},
		{"hand:\n  smell: [sour]\n", "expected a single value"},
		{"hand:\n  colour-dry: 12YR 4/3\n", "the number of a Munsell hue is above 0 and at most 10"},
		{"hand:\n  ribbons: long\n", `"long" is not a number with a unit: write for example 30 mm or 1 1/4 in, or none`},
		{"hand:\n  ribbons: 3 ft\n", "write mm, cm or in"},
		{"hand:\n  ribbons: -30 mm\n", "a ribbon of -30 mm is outside 0 to 2000 mm"},
		{"hand:\n  ribbons: [30 mm, 2.1e3 mm]\n", "write mm, cm or in"},
		{"hand:\n  ribbons: 2001 mm\n", "outside 0 to 2000 mm"},
		{"hand:\n  ribbons: [30 mm, 1 in, 40]\n", `"40" has no unit and the other ribbons have different ones`},
		{"hand:\n  ribbons: 2\n", `"2" has no unit, and could be mm, cm or inches: write which`},
		{"hand:\n  ribbons: [30, 1.5]\n", `"1.5" has no unit`},
		{"hand:\n  ribbons: 30,32\n", "can be one length or two"},
		{"hand:\n  ribbons: [30 mm, [32 mm]]\n", "expected a length such as 30 mm, or a list of them"},
		{"hand:\n  ribbons: {a: 30 mm}\n", "expected a length"},
		{"hand:\n  ribbons: [" + strings.Repeat("1,", 60) + "1]\n", "61 ribbons are given: write at most 50"},
		{"organic-matter: 101 %\n", "organic matter 101 % is outside 0 to 100 %"},
		{"organic-matter: -1\n", "outside 0 to 100"},
		{"organic-matter: 3 kg\n", `has the unit "kg"`},
		{"organic-matter: much\n", "write for example 3 %"},
		{"crop: \"\"\n", "is not known; use one of: apple"},
		{"rooting-depth: 4 mm\n", "rooting depth 4 mm is outside 50 to 3000 mm (1.97 to 118 in)"},
		{"rooting-depth: 4 m\n", "write mm, cm or in"},
		{"daily-use: 50 mm\n", "daily use 50 mm is outside 0.1 to 20 mm"},
		{"daily-use: 5 mm a week\n", `has the unit "mm a week"`},
	} {
		_, err := record.Parse("jar.yaml", []byte(c.text))
		require.Error(t, err, c.text)
		assert.Contains(t, err.Error(), c.want)
		assert.True(t, strings.HasPrefix(err.Error(), "jar.yaml:"), err)
	}
}

func TestParseRibbons(t *testing.T) {
	for _, c := range []struct {
		in   []string
		want []float64
	}{
		{[]string{"30"}, []float64{30}},
		{[]string{"30 mm, 32 mm", "1 1/4 in", "0"}, []float64{30, 32, 31.75, 0}},
		{[]string{"1, 1.25, 1 1/2 in"}, []float64{25.4, 31.75, 38.1}}, // a bare number takes the unit beside it
		{[]string{"2 in, 1"}, []float64{50.8, 25.4}},
		{[]string{"3 cm; 2.5 cm"}, []float64{30, 25}},
		{[]string{"none", "0", "900 mm"}, []float64{0, 0, 900}}, // 900 mm is for feel.Check to ask about
		{[]string{"1/3 in"}, []float64{8.47}},
		{[]string{" "}, nil},
		{nil, nil},
	} {
		got, err := record.ParseRibbons(c.in...)
		require.NoError(t, err, "%q", c.in)
		assert.Equal(t, c.want, got, "%q", c.in)
	}
}

func TestSetHandTakesOneAnswerForAChoice(t *testing.T) {
	var o feel.Observation
	require.ErrorContains(t, record.SetHand(&o, "ball", "firm", "weak"), "ball is given 2 times")
	require.ErrorContains(t, record.SetHand(&o, "bounce", "firm"), `has no "bounce"`)
	require.NoError(t, record.SetHand(&o, "ribbon", "30mm", "1.25in"))
	assert.Equal(t, []reading.Said{{Key: "ribbons", Value: "30 mm (1.18 in), 31.75 mm (1.25 in)"}}, record.Said(o))
}

var felt = feel.Observation{Hands: feel.Beginner, Kneaded: feel.No, Smell: feel.RottenEgg, ColourDry: `null: "red", #2 \ c`, ColourMoist: "10YR 4/3",
	Ball: feel.NoBall, Failure: feel.FallsApart, RibbonsMM: []float64{0, 8.466666666, 31.75}}

func TestWithHandIsReadBack(t *testing.T) {
	text, err := record.WithHand("jar.yaml", []byte("name: a\n"), felt)
	require.NoError(t, err)
	assert.Equal(t, `name: a

hand:
  hands: beginner
  colour-dry: "null: \"red\", #2 \\ c"
  colour-moist: "10YR 4/3"
  smell: rotten egg
  kneaded: no
  ball: none
  failure: falls apart
  ribbons: [0 mm, 8.47 mm, 31.75 mm]
`, string(text))
	// Writing the same once more changes nothing.
	again, err := record.WithHand("jar.yaml", text, felt)
	require.NoError(t, err)
	assert.Equal(t, string(text), string(again))
}

func TestWithHandRefusesWhatItCannotKeep(t *testing.T) {
	for _, text := range []string{"{name: a, temp: 20}\n", "{name: a, hand: {ball: firm}}", "name: a\n...\n",
		"name: \"x\nhand:\n  y\nz\"\n"} {
		_, err := record.WithHand("jar.yaml", []byte(text), feel.Observation{Ball: feel.FirmBall})
		require.ErrorIs(t, err, record.ErrUnusual, text)
		assert.ErrorContains(t, err, "add these lines yourself:\nhand:\n  ball: firm\n", text)
	}
	_, err := record.WithHand("jar.yaml", []byte("colour: red\n"), felt)
	require.ErrorContains(t, err, "unknown key")
}

// Every byte outside the hand block stays, whatever the comments, the spacing
// and the ends of lines are.
func TestWithHandKeepsTheRest(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		indent := rapid.SampledFrom([]string{"", "", "  "}).Draw(t, "indent")
		eol := rapid.SampledFrom([]string{"\n", "\r\n"}).Draw(t, "line end")
		noise := func(label string) string {
			return strings.Join(rapid.SliceOfN(rapid.SampledFrom([]string{"# hand: not this one" + eol, eol, "  # hand:" + eol, "   " + eol,
				"# ball: weak # - é" + eol}), 0, 3).Draw(t, label), "")
		}
		part := func(label string) string {
			return indent + rapid.SampledFrom([]string{"name:   'hand: x'  # my jar", "temp :  20 C", "system: usda" + eol + indent + "crop: bean",
				"photos:" + eol + indent + "  hand.jpg:   # hand:" + eol + indent + "     elapsed: 2h", "box: [1, 2," + eol + indent + "  3, 4]"}).Draw(t, label) + eol
		}
		head, tail := noise("n1")+part("head")+noise("n2"), noise("n3")+part("tail")+noise("n4")
		if rapid.Bool().Draw(t, "no final newline") {
			tail = strings.TrimRight(tail, "\r\n")
		}
		block := indent + "hand:" + eol + indent + "  ball: firm # so" + eol + eol + indent + "  # between" + eol + indent + "  grit:   some" + eol
		if rapid.Bool().Draw(t, "flow") {
			block = indent + `"hand" : {ball: weak, # so` + eol + indent + "   grit: some}" + eol
		}
		old := rapid.SampledFrom([]string{block, ""}).Draw(t, "old block")
		text := head + old + tail
		if _, err := record.Parse("jar.yaml", []byte(text)); err != nil {
			t.Skip(err) // a key drawn twice
		}
		got, err := record.WithHand("jar.yaml", []byte(text), felt)
		require.NoError(t, err, "%q", text)
		if old == "" {
			require.True(t, strings.HasPrefix(string(got), text), "%q\n%q", text, got)
		} else {
			require.True(t, strings.HasPrefix(string(got), head), "%q\n%q", text, got)
			require.True(t, strings.HasSuffix(string(got), tail), "%q\n%q", text, got)
			require.NotContains(t, string(got), "grit")
		}
		r, err := record.Parse("jar.yaml", got)
		require.NoError(t, err)
		require.Equal(t, feel.RottenEgg, r.Hand.Smell)
		if eol == "\r\n" && strings.Contains(text, "\r\n") {
			require.Equal(t, strings.Count(string(got), "\n"), strings.Count(string(got), "\r\n"), "%q", got)
		}
	})
}

func TestWithHandKeepsTheCommentBehindTheKey(t *testing.T) {
	got, err := record.WithHand("jar.yaml", []byte("hand:   # by Ann\n  ball: weak\n# end"), feel.Observation{Ball: feel.FirmBall})
	require.NoError(t, err)
	assert.Equal(t, "hand:   # by Ann\n  ball: firm\n# end", string(got))
}

func TestReplaceIsWholeOrNotAtAll(t *testing.T) {
	dir := t.TempDir()
	path, link := filepath.Join(dir, "real.yaml"), filepath.Join(dir, "jar.yaml")
	require.NoError(t, os.WriteFile(path, []byte("name: a\n"), 0o600))
	require.NoError(t, os.Symlink(path, link))
	require.NoError(t, record.Replace(link, []byte("name: b\n")))
	text, err := os.ReadFile(path)
	require.NoError(t, err)
	assert.Equal(t, "name: b\n", string(text))
	info, err := os.Lstat(path)
	require.NoError(t, err)
	assert.Equal(t, os.FileMode(0o600), info.Mode())
	info, err = os.Lstat(link)
	require.NoError(t, err)
	assert.NotZero(t, info.Mode()&os.ModeSymlink, "the link stays one")

	require.Error(t, record.Replace(filepath.Join(dir, "missing.yaml"), nil))
	entries, err := os.ReadDir(dir)
	require.NoError(t, err)
	assert.Len(t, entries, 2, "no temporary file is left")
}

func FuzzWithHand(f *testing.F) {
	f.Add([]byte(wholeHand))
	f.Add([]byte("name: a\r\nhand: {ball: firm}"))
	f.Fuzz(func(t *testing.T, data []byte) {
		got, err := record.WithHand("jar.yaml", data, felt)
		if err != nil {
			return
		}
		r, err := record.Parse("jar.yaml", got)
		require.NoError(t, err, fmt.Sprintf("%q", data))
		require.Equal(t, feel.NoBall, r.Hand.Ball)
	})
}
