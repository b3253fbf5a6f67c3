package compare

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"mudline/internal/reading"
	"mudline/internal/testkit"
	"mudline/internal/words"
)

// jar makes a reading whose clay is clay and whose sand and silt share the rest.
func jarOf(name string, clay ...float64) Jar {
	sorted := slices.Sorted(slices.Values(clay))
	at := func(q float64) float64 { return sorted[int(q*float64(len(sorted)-1)+0.5)] }
	r := &reading.Reading{System: "usda", Fractions: &reading.Fractions{
		Clay: reading.Estimate{Percent: at(0.5), Low: at(0.05), High: at(0.95)}}}
	rest := reading.Estimate{Percent: (100 - at(0.5)) / 2, Low: (100 - at(0.95)) / 2, High: (100 - at(0.05)) / 2}
	r.Fractions.Sand, r.Fractions.Silt = rest, rest
	for _, c := range clay {
		r.Soils = append(r.Soils, [3]float64{(100 - c) / 2, (100 - c) / 2, c})
	}
	return Jar{Name: name, Reading: r}
}

// even are n values spread evenly over lo to hi, at the middles of n strips.
func even(n int, lo, hi float64) []float64 {
	out := make([]float64, n)
	for i := range out {
		out[i] = lo + (hi-lo)*(float64(i)+0.5)/float64(n)
	}
	return out
}

func clayOf(t *testing.T, c Comparison, a, b string) Difference {
	t.Helper()
	for _, d := range c.Differences {
		if d.A == a && d.B == b && d.Fraction == "clay" {
			return d
		}
	}
	require.Fail(t, "no such pair", "%s %s", a, b)
	return Difference{}
}

// By hand: of 30, 40 against 20, 35 the four differences are 10, -5, 20, 5.
func TestCloudsByHand(t *testing.T) {
	g := ofSoils([]float64{30, 40}, []float64{20, 35})
	assert.InDelta(t, 0.75, g.more, 1e-12)
	assert.InDelta(t, -5, g.low, 1e-9)
	assert.InDelta(t, 20, g.high, 1e-9)
	assert.InDelta(t, 0.5, g.tail, 1e-12, "one of four is not more; both sides")

	// A tie counts half for more, and against a difference on both sides.
	g = ofSoils([]float64{1, 2}, []float64{2, 3})
	assert.InDelta(t, 0.5/4, g.more, 1e-12)
	assert.InDelta(t, 2*1.0/4, g.tail, 1e-12)
	assert.LessOrEqual(t, g.low, -2+1e-9)
	assert.InDelta(t, 0, g.high, 1e-9)
}

// Two uniform clouds of width w whose middles lie d apart: the difference is
// triangular, so P(A > B) = 1 - (1-d/w)²/2 for 0 <= d <= w, and 5 % lie below
// d - w + w*sqrt(0.1).
func TestCloudsOfUniformSoils(t *testing.T) {
	const w = 20.0
	for _, d := range []float64{0, 5, 10, 15} {
		g := ofSoils(even(400, 30+d, 30+d+w), even(400, 30, 30+w))
		assert.InDelta(t, 1-(1-d/w)*(1-d/w)/2, g.more, 0.003, d)
		assert.InDelta(t, d-w+w*math.Sqrt(0.1), g.low, 0.1, d)
		assert.InDelta(t, d+w-w*math.Sqrt(0.1), g.high, 0.1, d)
	}
}

// A naive count over all pairs must say the same, and the call must follow from
// the interval.
func TestCloudsAgainstCounting(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		draw := func(name string) []float64 {
			return slices.Sorted(slices.Values(rapid.SliceOfN(rapid.Float64Range(0, 30), 2, 40).Draw(t, name)))
		}
		a, b := draw("a"), draw("b")
		var all []float64
		more := 0.0
		for _, x := range a {
			for _, y := range b {
				all = append(all, x-y)
				if x > y {
					more++
				} else if x == y {
					more += 0.5
				}
			}
		}
		slices.Sort(all)
		n := len(all)
		at := int(math.Ceil(0.05*float64(n))) - 1
		g := ofSoils(a, b)
		assert.InDelta(t, more/float64(n), g.more, 1e-9)
		assert.InDelta(t, all[at], g.low, 1e-9)
		assert.InDelta(t, all[n-1-at], g.high, 1e-9)
		assert.Equal(t, g.low > 0 || g.high < 0, g.tail < level)
	})
}

func TestIntervalsByHand(t *testing.T) {
	// Arms of 3 and 4 make one of 5; 10 apart is 2 arms, 2*1.6449 = 3.29 standard
	// deviations, beyond which 5.0e-4 of the normal law lies.
	a, b := reading.Estimate{Percent: 40, Low: 37, High: 50}, reading.Estimate{Percent: 30, Low: 0, High: 34}
	g := ofIntervals(a, b)
	assert.InDelta(t, 5, g.low, 1e-9)
	assert.InDelta(t, 10+math.Hypot(10, 30), g.high, 1e-9)
	assert.InDelta(t, 1-5.0e-4, g.more, 1e-5)
	back := ofIntervals(b, a)
	assert.InDelta(t, -5, back.high, 1e-9)
	assert.InDelta(t, g.tail, back.tail, 1e-12)
	assert.InDelta(t, 1, g.more+back.more, 1e-12)
	same := ofIntervals(a, a)
	assert.InDelta(t, 0.5, same.more, 0)
	assert.InDelta(t, 1, same.tail, 0)
	sure := ofIntervals(reading.Estimate{Percent: 2, Low: 2, High: 2}, reading.Estimate{Percent: 1, Low: 1, High: 1})
	assert.InDelta(t, 1, sure.more, 0)
}

// Holm's own way by hand: with four pairs the smallest must be below 0.1/4, the
// next below 0.1/3; 0.06 is not below 0.1/2, so 0.07 fails too though it is
// below 0.1.
func TestHolm(t *testing.T) {
	family := []*pair{{tail: 0.07}, {tail: 0.02}, {tail: 0.06}, {tail: 0.03}}
	holm(family)
	assert.Equal(t, []bool{false, true, false, true}, []bool{family[0].Differs, family[1].Differs, family[2].Differs, family[3].Differs})
}

// TestFalseFindings draws thirty jars of one and the same soil: within a table,
// a difference in clay may be named at most one time in ten.
func TestFalseFindings(t *testing.T) {
	rng := rand.New(rand.NewPCG(7, 7))
	const tables, n = 200, 8
	wrong, naive := 0, 0
	for range tables {
		var jars []Jar
		for k := range n {
			centre := 30 + 5*rng.NormFloat64() // a reading errs by its own spread
			cloud := make([]float64, 200)
			for i := range cloud {
				cloud[i] = min(max(centre+5*rng.NormFloat64(), 0), 100)
			}
			jars = append(jars, jarOf(fmt.Sprint("jar ", k), cloud...))
		}
		c, err := Of(jars, "")
		require.NoError(t, err)
		named, outside := false, false
		for _, d := range c.Differences {
			if d.Fraction == "clay" {
				named = named || d.Differs
				outside = outside || d.Low > 0 || d.High < 0
			}
		}
		if named {
			wrong++
		}
		if outside {
			naive++
		}
	}
	assert.LessOrEqual(t, wrong, tables/10, "tables with a difference that is not there")
	assert.Greater(t, naive, tables/3, "the guard has something to guard against")
}

func TestWhatDiffers(t *testing.T) {
	a, b, c := jarOf("A", even(200, 20, 30)...), jarOf("B", even(200, 22, 32)...), jarOf("C", even(200, 45, 55)...)
	got, err := Of([]Jar{a, b, c}, "clay")
	require.NoError(t, err)
	assert.Equal(t, []string{"C", "B", "A"}, names(got))
	assert.True(t, clayOf(t, got, "C", "A").Differs)
	assert.True(t, clayOf(t, got, "C", "B").Differs)
	assert.False(t, clayOf(t, got, "B", "A").Differs)
	assert.Equal(t, "soils", clayOf(t, got, "C", "A").From)
	assert.Equal(t, []string{"a", "b", "b"}, []string{got.Jars[0].Groups.Clay, got.Jars[1].Groups.Clay, got.Jars[2].Groups.Clay})
	assert.Equal(t, "b", got.Jars[0].Groups.Sand, "most clay, least sand")
	assert.Regexp(t, `^(A|C) has more (sand|silt|clay) than (A|C): by about `, got.Sure()[0].String())

	// Without clouds the intervals must do.
	a.Reading.Soils = nil
	got, err = Of([]Jar{a, c}, "")
	require.NoError(t, err)
	assert.Equal(t, "intervals", clayOf(t, got, "A", "C").From)
	assert.True(t, clayOf(t, got, "A", "C").Differs)
	assert.Negative(t, clayOf(t, got, "A", "C").High)
}

func names(c Comparison) (out []string) {
	for _, r := range c.Jars {
		out = append(out, r.Name)
	}
	return out
}

// International sand begins at 20 um: only clay means the same in both.
func TestOtherLimitsAreNotCompared(t *testing.T) {
	a, b := jarOf("A", even(200, 20, 30)...), jarOf("B", even(200, 40, 50)...)
	b.Reading.System = "international"
	c, err := Of([]Jar{a, b}, "")
	require.NoError(t, err)
	require.Len(t, c.Differences, 1)
	assert.Equal(t, "clay", c.Differences[0].Fraction)
	assert.Empty(t, c.Jars[0].Groups.Sand)
	assert.Contains(t, shown(t, c), "Sand and silt are compared only between jars")

	b.Reading.System = "canadian" // the limits of USDA
	c, err = Of([]Jar{a, b}, "")
	require.NoError(t, err)
	assert.Len(t, c.Differences, 3)
}

func shown(t *testing.T, c Comparison) string {
	t.Helper()
	var b bytes.Buffer
	require.NoError(t, c.Text(&b, nil, 0))
	return b.String()
}

// Letters say exactly what the pairs say, whatever pairs differ.
func TestLettersSayWhatPairsSay(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(2, 7).Draw(t, "n")
		rows := make([]entry, n)
		for i := range rows {
			clay := float64(50 - i)
			rows[i].Fractions = &reading.Fractions{Clay: reading.Estimate{Percent: clay}}
		}
		var family []*pair
		for i := range n {
			for j := i + 1; j < n; j++ {
				family = append(family, &pair{Difference{Differs: rapid.Bool().Draw(t, "differs")}, i, j, 2, 0})
			}
		}
		giveLetters(rows, family, 2)
		for _, d := range family {
			shares := strings.ContainsAny(rows[d.i].Groups.Clay, rows[d.j].Groups.Clay)
			assert.Equal(t, d.Differs, !shares, "%d %d", d.i, d.j)
		}
		assert.True(t, strings.HasPrefix(rows[0].Groups.Clay, "a"), "a is for the most")
	})
}

func TestFiftyJars(t *testing.T) {
	var jars []Jar
	for i := range 50 {
		jars = append(jars, jarOf(fmt.Sprintf("plot %d", i+1), even(200, 5+float64(i), 17+float64(i))...))
	}
	c, err := Of(jars, "name")
	require.NoError(t, err)
	assert.Len(t, c.Differences, 3*50*49/2)
	assert.Equal(t, []string{"plot 1", "plot 2", "plot 3"}, names(c)[:3])
	text := shown(t, c)
	assert.Contains(t, text, "of 1225 pairs differ")
	assert.Contains(t, text, "too many groups for letters")
	assert.Less(t, strings.Count(text, "\n"), 70)
}

// Three soils, four jars of each: the letters in the table are those of the soils.
func TestTableWithLetters(t *testing.T) {
	var jars []Jar
	for i := range 12 {
		middle := []float64{10, 30, 60}[i%3] + float64(i/3)
		jars = append(jars, jarOf(fmt.Sprintf("plot %d", i+1), even(200, middle-4, middle+4)...))
	}
	c, err := Of(jars, "clay")
	require.NoError(t, err)
	for i, r := range c.Jars {
		assert.Equal(t, []string{"a", "b", "c"}[i/4], r.Groups.Clay, r.Name)
	}
	text := shown(t, c)
	assert.Contains(t, text, "clay: 48 of 66 pairs differ") // 3 x 16 pairs of different soils
	assert.Contains(t, text, "63 (59-67) a")
	assert.Contains(t, text, "share a letter")
}

func TestOrders(t *testing.T) {
	a, b, c := jarOf("plot 10", 10), jarOf("plot 9", 30), jarOf("Plot 1", 20)
	water := func(j Jar, mm float64, class string) Jar {
		j.Reading.Meaning = &reading.Meaning{AvailableMMPerM: reading.Range{Value: mm, Low: mm, High: mm}}
		j.Reading.Class = &reading.Class{System: "usda", Name: class, Probability: 0.5}
		return j
	}
	jars := []Jar{water(a, 90, "clay"), {Name: "plot 0", Refused: &reading.Refusal{Text: "dark"}}, {Name: "plot 5", Reading: &reading.Reading{}},
		water(b, 150, "sandy loam"), c}
	for order, want := range map[string]string{
		"":      "plot 10, plot 9, Plot 1, plot 5, plot 0",
		"name":  "Plot 1, plot 9, plot 10, plot 5, plot 0",
		"clay":  "plot 9, Plot 1, plot 10, plot 5, plot 0",
		"sand":  "plot 10, Plot 1, plot 9, plot 5, plot 0",
		"silt":  "plot 10, Plot 1, plot 9, plot 5, plot 0",
		"water": "plot 9, plot 10, Plot 1, plot 5, plot 0",
		"class": "plot 9, plot 10, Plot 1, plot 5, plot 0",
	} {
		got, err := Of(jars, order)
		require.NoError(t, err)
		assert.Equal(t, want, strings.Join(names(got), ", "), order)
	}
	_, err := Of(jars, "colour")
	assert.ErrorContains(t, err, "use name, sand, silt, clay, water, class")
}

func TestNaturalOrder(t *testing.T) {
	in := []string{"plot 10", "plot 9", "plot 09b", "plot 9a", "plot", "2", "11", ""}
	slices.SortStableFunc(in, Names)
	assert.Equal(t, []string{"", "2", "11", "plot", "plot 9", "plot 9a", "plot 09b", "plot 10"}, in)
}

func TestTextTells(t *testing.T) {
	a, b := jarOf("A", even(200, 20, 30)...), jarOf("B", even(200, 45, 55)...)
	a.Reading.Class = &reading.Class{System: "usda", Name: "loam", Probability: 0.999}
	a.Reading.Meaning = &reading.Meaning{AvailableMMPerM: reading.Range{Value: 170, Low: 150, High: 190}, Bed: reading.Bed{Days: reading.Range{Value: 6, Low: 4, High: 8}}}
	a.Reading.Warnings = []reading.Warning{{Code: "single_photo", Text: "there is one photo", Remedy: "take more"}}
	c, err := Of([]Jar{a, b, {Name: "C", Refused: &reading.Refusal{Code: "too_dark", Text: "c.jpg is too dark", Remedy: "by daylight"}}}, "")
	require.NoError(t, err)
	text := shown(t, c)
	for _, want := range []string{"loam 99", "170 (150-190)", "6 (4-8)", "not read, see below", "clay: B has more, by 25 points", "99 chances in 100",
		"Not read: C: c.jpg is too dark\n  What to do: by daylight", "Note: A: there is one photo\n  To be surer: take more"} {
		assert.Contains(t, text, want)
	}
	assert.NotContains(t, text, "Holm", "two jars need no guard")
	assert.Contains(t, c.Sure()[0].String(), "B has more clay than A")

	french, err := words.Find("fr")
	require.NoError(t, err)
	said, todo := words.Say("jar.single-photo"), words.Say("do.three-photos-next-time")
	a.Reading.Warnings = []reading.Warning{{Code: "single_photo", Text: said.String(), Remedy: todo.String(), Said: &said, Todo: &todo}}
	c, err = Of([]Jar{a, b}, "")
	require.NoError(t, err)
	var out bytes.Buffer
	require.NoError(t, c.Text(&out, french, 0))
	assert.Contains(t, out.String(), "il n’y a qu’une photo")
	assert.Contains(t, out.String(), "une à 2 jours")
	assert.Contains(t, french.Say(c.Sure()[0]), "B a plus d’argile que A")
}

func TestAlikeIsNotCalledMore(t *testing.T) {
	c, err := Of([]Jar{jarOf("A", even(200, 20, 30)...), jarOf("B", even(200, 20, 30)...)}, "")
	require.NoError(t, err)
	text := shown(t, c)
	assert.NotContains(t, text, "0 points more, anything")
	assert.Regexp(t, `clay: cannot be told apart; . may have anything from \d+ less to \d+ points more`, text)
}

// TestCSVReadsBack with the csv reader of the standard library, names that a
// spreadsheet would run among them.
func TestCSVReadsBack(t *testing.T) {
	evil := []string{"=1+1", "+1", "-1", "@SUM(A1)", "＝1", `quote " and, comma`, "Küche 7", "line\nbreak", "\tx", "\x1b[31mred"}
	var jars []Jar
	for _, n := range evil {
		jars = append(jars, jarOf(n, 20))
	}
	jars = append(jars, Jar{Name: "no", Refused: &reading.Refusal{Text: "=cmd|' /C calc'!A0", Remedy: "@x"}})
	c, err := Of(jars, "")
	require.NoError(t, err)
	var b bytes.Buffer
	require.NoError(t, c.CSV(&b))
	assert.Equal(t, len(jars)+1, strings.Count(b.String(), "\r\n"))
	lines, err := csv.NewReader(&b).ReadAll()
	require.NoError(t, err)
	require.Len(t, lines, len(jars)+1)
	var got []string
	for _, l := range lines[1:] {
		assert.Len(t, l, len(lines[0]))
		got = append(got, l[0])
		for _, cell := range l {
			assert.False(t, strings.HasPrefix(cell, "=") || strings.HasPrefix(cell, "@") || strings.HasPrefix(cell, "+") || strings.HasPrefix(cell, "-"), cell)
		}
	}
	assert.Equal(t, []string{"'=1+1", "'+1", "'-1", "'@SUM(A1)", "'＝1", `quote " and, comma`, "Küche 7", "line break", "x", "[31mred", "no"}, got)
	clay := slices.Index(lines[0], "clay_percent")
	assert.Equal(t, "20", lines[1][clay])
	assert.Equal(t, "", lines[11][clay])
	assert.Equal(t, "refused", lines[11][2])
	assert.Equal(t, "'\tx", text("\tx"), "though no such name gets as far")
}

func TestJSON(t *testing.T) {
	a, b := jarOf("A", even(200, 20, 30)...), jarOf("B", even(200, 45, 55)...)
	c, err := Of([]Jar{a, b, {Name: "C", Refused: &reading.Refusal{Code: "too_dark", Text: "dark", Remedy: "light"}}}, "")
	require.NoError(t, err)
	var out bytes.Buffer
	require.NoError(t, c.JSON(&out))
	var got struct {
		Version int
		Jars    []struct {
			Name      string
			Fractions *reading.Fractions
			Groups    map[string]string
			Refused   *reading.Refusal
		}
		Differences []map[string]any
	}
	require.NoError(t, json.Unmarshal(out.Bytes(), &got))
	assert.Equal(t, 1, got.Version)
	assert.Equal(t, reading.TooDark, got.Jars[2].Refused.Code)
	assert.Nil(t, got.Jars[2].Fractions)
	assert.Equal(t, map[string]string{"sand": "a", "silt": "a", "clay": "b"}, got.Jars[0].Groups)
	require.Len(t, got.Differences, 3)
	d := got.Differences[2]
	assert.Equal(t, []any{"A", "B", "clay", true, "soils"}, []any{d["a"], d["b"], d["fraction"], d["differs"], d["from"]})
	assert.InDelta(t, -25, d["points"], 0.5)
	assert.InDelta(t, 0, d["probability_a_has_more"], 1e-9)
}

func TestJSONMeetsTheSchema(t *testing.T) {
	schema := testkit.Schema(t, Schema)

	a, b := jarOf("A", even(200, 20, 30)...), jarOf("B", even(200, 45, 55)...)
	a.Source = "jars/a"
	a.Reading.Class = &reading.Class{System: "usda", Name: "loam", Probability: 0.8, Others: []reading.OtherClass{{Name: "clay loam", Probability: 0.2}}}
	a.Reading.Meaning = &reading.Meaning{AvailableMMPerM: reading.Range{Value: 170, Low: 150, High: 190}}
	a.Reading.Warnings = []reading.Warning{{Code: "single_photo", Text: "there is one photo"}}
	c, err := Of([]Jar{a, b, {Name: "C", Refused: &reading.Refusal{Code: "too_dark", Text: "dark", Remedy: "light"}}}, "")
	require.NoError(t, err)
	none, err := Of(nil, "")
	require.NoError(t, err)
	valid := func(text string) error {
		v, err := jsonschema.UnmarshalJSON(strings.NewReader(text))
		require.NoError(t, err)
		return schema.Validate(v)
	}
	for _, c := range []Comparison{c, none} {
		var out bytes.Buffer
		require.NoError(t, c.JSON(&out))
		require.NoError(t, valid(out.String()))
	}
	var out bytes.Buffer
	require.NoError(t, c.JSON(&out))
	for _, change := range [][2]string{{`"version": 1`, `"version": 2`}, {`"fraction": "clay"`, `"fraction": "mud"`}, {`"name": "C"`, `"nom": "C"`}, {`"differs": true`, `"differs": 1`}} {
		require.Contains(t, out.String(), change[0])
		assert.Error(t, valid(strings.Replace(out.String(), change[0], change[1], 1)), change[1])
	}
}

// The order by difference is that of the fraction in which most jars differ: the clay of
// these three, of which two have the same sand.
func TestOrderByWhatDiffers(t *testing.T) {
	parts := func(name string, sand, clay float64) Jar {
		r := &reading.Reading{System: "usda", Fractions: &reading.Fractions{
			Sand: reading.Estimate{Percent: sand, Low: sand - 4, High: sand + 4}, Silt: reading.Estimate{Percent: 100 - sand - clay, Low: 100 - sand - clay - 20, High: 100 - sand - clay + 20},
			Clay: reading.Estimate{Percent: clay, Low: clay - 4, High: clay + 4}}}
		return Jar{Name: name, Reading: r}
	}
	jars := []Jar{parts("A", 50, 10), parts("B", 50, 25), parts("C", 30, 40), {Name: "D", Refused: &reading.Refusal{Code: "no_jar", Text: "no jar", Remedy: "show it"}}}
	got, err := Of(jars, ByDifference)
	require.NoError(t, err)
	assert.Equal(t, []string{"C", "B", "A", "D"}, names(got))
	var out bytes.Buffer
	require.NoError(t, got.Text(&out, nil, 0))
	assert.Regexp(t, `\nC +\.{15}-{15}={20}\n`, out.String(), "30, 30 and 40 percent of 50 letters")
	none, err := Of(nil, ByDifference)
	require.NoError(t, err)
	assert.Empty(t, none.Jars)
}

// A class that is not likely does not stand alone: those of which it is one do.
func TestAnUnlikelyClassDoesNotStandAlone(t *testing.T) {
	a, b, c := jarOf("A", even(200, 20, 30)...), jarOf("B", even(200, 45, 55)...), jarOf("C", even(200, 30, 40)...)
	a.Reading.Class = &reading.Class{System: "usda", Name: "loam", Probability: 0.67}
	b.Reading.Class = &reading.Class{System: "usda", Name: "sandy clay", Probability: 0.32, Others: []reading.OtherClass{
		{Name: "clay", Probability: 0.30}, {Name: "clay loam", Probability: 0.2}, {Name: "loam", Probability: 0.18}}}
	c.Reading.Class = &reading.Class{System: "usda", Name: "clay loam", Probability: 0.32} // of a reading without the others
	got, err := Of([]Jar{a, b, c}, "")
	require.NoError(t, err)
	var out bytes.Buffer
	require.NoError(t, got.Text(&out, nil, 0))
	assert.Regexp(t, `\) +loam 67\n`, out.String())
	assert.Contains(t, out.String(), "not sure: sandy clay, clay or clay loam 82\n")
	assert.Contains(t, out.String(), "not sure: clay loam 32\n")
}

func TestNamesAreUnique(t *testing.T) {
	c, err := Of([]Jar{{Name: "jar", Source: "a"}, {Name: "jar", Source: "b"}, {Name: "jar"}, {Name: "jar (a)"}}, "")
	require.NoError(t, err)
	assert.Equal(t, []string{"jar (a)", "jar (b)", "jar", "jar (a) (2)"}, names(c))
}
