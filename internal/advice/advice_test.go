package advice

import (
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"mudline/internal/reading"
	"mudline/texture"
	"mudline/texture/feel"
	"mudline/texture/moisture"
)

// around is a reading whose soils lie round a middle, sand and clay in percent.
func around(sand, clay, sandSD, claySD float64) reading.Reading {
	rng := rand.New(rand.NewPCG(7, 7))
	r := reading.Reading{System: "usda", Fractions: &reading.Fractions{}}
	for len(r.Soils) < 200 {
		s, c := sand+sandSD*rng.NormFloat64(), clay+claySD*rng.NormFloat64()
		if s >= 0 && c >= 0 && s+c <= 100 {
			r.Soils = append(r.Soils, [3]float64{s, 100 - s - c, c})
		}
	}
	return r
}

// exactly is a reading that leaves one soil possible.
func exactly(sand, clay float64) reading.Reading {
	of := func(v float64) reading.Estimate { return reading.Estimate{Percent: v, Low: v, High: v} }
	return reading.Reading{System: "usda", Fractions: &reading.Fractions{Sand: of(sand), Silt: of(100 - sand - clay), Clay: of(clay)}}
}

func topic(m *reading.Meaning, topic string) string {
	return topicOf(append(slices.Clone(m.Lines), m.More...), topic)
}

func topicOf(list []reading.Statement, topic string) string {
	for _, s := range list {
		if s.Topic == topic {
			return s.Text
		}
	}
	return ""
}

// TestNumbersOfALoam holds the way from texture to days to the papers' own
// figures: Saxton & Rawls (2006), loam 40/20 at 2.5 %: 13.70, 27.96 % and
// 15.48 mm/h; FAO-56 eq. 82 and 83 with them: lettuce rooted 300 mm, p 0.30, 43
// and 13 mm; tomato rooted 800 mm, p 0.40, 114 and 46 mm.
func TestNumbersOfALoam(t *testing.T) {
	m := Of(exactly(40, 20), Options{})
	require.NotNil(t, m)
	assert.InDelta(t, 13.70, m.WiltingPoint.Value, 0.005)
	assert.InDelta(t, 27.96, m.FieldCapacity.Value, 0.005)
	assert.InDelta(t, 142.6, m.AvailableMMPerM.Value, 0.05)
	assert.InDelta(t, 15.48, m.ConductivityMMH.Value, 0.005)
	assert.Equal(t, 2.5, m.OrganicMatter)
	assert.Equal(t, "assumed", m.OrganicMatterFrom)
	assert.InDelta(t, 43, m.Bed.TotalMM.Value, 0.5)
	assert.InDelta(t, 13, m.Bed.ReadilyMM.Value, 0.5)
	assert.InDelta(t, m.Bed.ReadilyMM.Value/5, m.Bed.Days.Value, 1e-9)
	assert.Contains(t, topic(m, "assumptions"), "2.5 % organic matter (assumed; it may be 1.2 to 5)")

	tomato, err := moisture.FindCrop("tomatoes")
	require.NoError(t, err)
	m = Of(exactly(40, 20), Options{Crop: &tomato, RootingDepthMM: 800, DailyUseMM: 5})
	assert.Equal(t, "tomato", m.Bed.Crop)
	assert.Equal(t, "stated", m.Bed.RootingDepthFrom)
	assert.Equal(t, "stated", m.Bed.DailyUseFrom)
	assert.InDelta(t, 114, m.Bed.TotalMM.Value, 0.5)
	assert.InDelta(t, 46, m.Bed.ReadilyMM.Value, 0.5)
	assert.Contains(t, m.Lines[0].Text, "give tomatoes about 45 mm of water every 7 to 12 days")
	m = Of(exactly(40, 20), Options{Crop: &tomato, DailyUseMM: 8})
	assert.Equal(t, "crop", m.Bed.RootingDepthFrom)
	assert.Equal(t, 700.0, m.Bed.RootingDepthMM)
	assert.InDelta(t, 0.28, m.Bed.Depletion, 1e-12, "FAO-56 table 22, footnote: 0.40 at 8 mm a day")

	// Organic matter 6 %: 16.1 % and 32.2 mm/h, worked out by texture/moisture/testdata/saxton_rawls.py.
	six := 6.0
	m = Of(exactly(40, 20), Options{OrganicMatter: &six})
	assert.InDelta(t, 161, m.AvailableMMPerM.Value, 0.5)
	assert.InDelta(t, 32.2, m.ConductivityMMH.Value, 0.05)
	assert.Equal(t, "stated", m.OrganicMatterFrom)
}

// TestIntervalsOfTheCloud holds the intervals to the quantiles of the cloud's own
// values, widened by the spread among soils of one texture.
func TestIntervalsOfTheCloud(t *testing.T) {
	r, stated := around(45, 18, 8, 4), 2.5
	m := Of(r, Options{OrganicMatter: &stated})
	var mm []float64
	for _, s := range r.Soils {
		w, err := moisture.SaxtonRawls(texture.Fractions{Sand: s[0], Silt: s[1], Clay: s[2]}, 2.5)
		require.NoError(t, err)
		mm = append(mm, 10*w.Available())
	}
	slices.Sort(mm)
	assert.InDelta(t, (mm[99]+mm[100])/2, m.AvailableMMPerM.Value, 1e-9)
	up := math.Hypot(math.Log(mm[189]/m.AvailableMMPerM.Value), math.Log(1.25))
	down := math.Hypot(math.Log(m.AvailableMMPerM.Value/mm[10]), math.Log(1.25))
	assert.InDelta(t, m.AvailableMMPerM.Value*math.Exp(up), m.AvailableMMPerM.High, 0.5)
	assert.InDelta(t, m.AvailableMMPerM.Value/math.Exp(down), m.AvailableMMPerM.Low, 0.5)

	// Without a cloud the 90 % intervals stand for it.
	at := func(v, half float64) reading.Estimate {
		return reading.Estimate{Percent: v, Low: v - half, High: v + half}
	}
	r.Fractions = &reading.Fractions{Sand: at(45, 13.2), Silt: at(37, 15), Clay: at(18, 6.6)}
	r.Soils = nil
	b := Of(r, Options{OrganicMatter: &stated})
	assert.InDelta(t, m.AvailableMMPerM.Value, b.AvailableMMPerM.Value, 2)
	assert.InDelta(t, m.AvailableMMPerM.Low, b.AvailableMMPerM.Low, 4)
	assert.InDelta(t, m.AvailableMMPerM.High, b.AvailableMMPerM.High, 4)
}

// TestAssumptionsHaveARange: what is assumed widens the intervals by what a range of
// it does, and what is stated does not. Of a loam, by Saxton & Rawls, 1.25 and 5 %
// organic matter give 13.7 and 15.5 % available water, 11.3 and 26.6 mm/h, worked out
// by texture/moisture/testdata/saxton_rawls.py; on a warm day 4 to 7 mm are used (FAO-56, table 2, from memory).
func TestAssumptionsHaveARange(t *testing.T) {
	stated := 2.5
	sure, open := Of(exactly(40, 20), Options{OrganicMatter: &stated, DailyUseMM: 5}), Of(exactly(40, 20), Options{})
	assert.InDelta(t, sure.AvailableMMPerM.Value, open.AvailableMMPerM.Value, 1e-9, "the middle stays")
	high := math.Hypot(math.Log(1.25), math.Log(155.0/142.6))
	assert.InDelta(t, 142.6*1.25, sure.AvailableMMPerM.High, 0.5)
	assert.InDelta(t, 142.6*math.Exp(high), open.AvailableMMPerM.High, 2)
	low := math.Hypot(math.Log(3), math.Log(15.48/11.3))
	assert.InDelta(t, 15.48*math.Exp(-low), open.ConductivityMMH.Low, 0.15)
	assert.InDelta(t, sure.Bed.Days.High, sure.Bed.Days.Value*1.25, 0.05)
	assert.Greater(t, open.Bed.Days.High/open.Bed.Days.Value, math.Sqrt(7.0/4)*1.05, "wider than the use of water alone")
	assert.Contains(t, topic(open, "assumptions"), "5 mm of water a day (assumed; it may be 3.8 to 6.5)")
	assert.NotContains(t, topic(sure, "assumptions"), "as its range")
}

// TestSodium: of clay, and of what may be clay, it is said that much sodium makes it
// slower than any texture, under 1 mm/h (figure after Hillel 1982).
func TestSodium(t *testing.T) {
	for text, r := range map[string]reading.Reading{"takes in less than 1 mm an hour": around(20, 55, 4, 2), "have sodium tested": around(35, 27, 3, 3)} {
		assert.True(t, slices.ContainsFunc(Of(r, Options{}).More, func(s reading.Statement) bool { return strings.Contains(s.Text, text) }), text)
	}
	assert.False(t, slices.ContainsFunc(Of(around(65, 8, 3, 2), Options{}).More, func(s reading.Statement) bool { return strings.Contains(s.Text, "have sodium tested") }))
}

// TestSpreads holds the factors to the bands they stand for: the root of high by
// low for each class, in the middle of all. FAO-56 table 19 (from memory), and
// available water in inches a foot by UC Drought Management.
func TestSpreads(t *testing.T) {
	middle := func(bands [][2]float64) float64 {
		var f []float64
		for _, b := range bands {
			f = append(f, math.Sqrt(b[1]/b[0]))
		}
		return within(f).Value
	}
	assert.InDelta(t, capacitySpread, middle([][2]float64{{7, 17}, {11, 19}, {18, 28}, {20, 30}, {22, 36}, {28, 36}, {30, 37}, {30, 42}, {32, 40}}), 0.05)
	assert.InDelta(t, wiltingSpread, middle([][2]float64{{2, 7}, {3, 10}, {6, 16}, {7, 17}, {9, 21}, {12, 22}, {17, 24}, {17, 29}, {20, 24}}), 0.05)
	assert.InDelta(t, availableSpread, middle([][2]float64{{5, 11}, {6, 12}, {11, 15}, {13, 18}, {13, 19}, {16, 20}, {13, 18}, {13, 19}, {12, 20},
		{0.4, 0.75}, {0.75, 1.25}, {1.25, 1.75}, {1.5, 2.3}, {1.75, 2.5}, {1.6, 2.5}}), 0.05)
}

// TestConductivitySpread: with its interval the equations' conductivity of every
// class overlaps the published infiltration rates of that class, which half as
// wide an interval would not.
func TestConductivitySpread(t *testing.T) {
	missed := 0
	for class, at := range map[string][2]float64{"sand": {88, 5}, "sandy loam": {65, 10}, "loam": {40, 20}, "silt": {10, 5}, "clay loam": {30, 35}, "clay": {25, 50}} {
		published, ok := moisture.Infiltration(class)
		require.True(t, ok)
		c := Of(exactly(at[0], at[1]), Options{}).ConductivityMMH
		assert.True(t, c.Low <= published.HighMMH && c.High >= published.LowMMH, "%s: %+v against %+v", class, c, published)
		if c.Value/2 > published.HighMMH || c.Value*2 < published.LowMMH {
			missed++
		}
	}
	assert.Positive(t, missed)
}

// TestSiltLimit: fractions that end silt at 20 um are never read as if they ended
// it at 50.
func TestSiltLimit(t *testing.T) {
	r := around(60, 15, 3, 2)
	r.System = "international"
	assert.Nil(t, Of(r, Options{}))
	loam := texture.Fractions{Sand: 40, Silt: 40, Clay: 20}
	m := Of(r, Options{Soils: []texture.Fractions{loam}})
	require.NotNil(t, m)
	other := Of(exactly(40, 20), Options{}).AvailableMMPerM
	for _, v := range [][2]float64{{other.Value, m.AvailableMMPerM.Value}, {other.Low, m.AvailableMMPerM.Low}, {other.High, m.AvailableMMPerM.High}} {
		assert.InDelta(t, v[0], v[1], 1)
	}
	assert.Nil(t, Of(reading.Reading{}, Options{}))
	assert.Nil(t, Of(reading.Reading{Fractions: &reading.Fractions{}, Soils: [][3]float64{{math.NaN(), 1, 1}}}, Options{}))
}

func TestAdviceFitsTheSoil(t *testing.T) {
	for _, c := range []struct {
		name            string
		r               reading.Reading
		says, saysNever []string
	}{
		{"sand", around(92, 3, 2, 1), []string{"Sand drains at once", "almost any day", "every day, 5 litres", "little and often"}, []string{"puddles", "Split"}},
		{"loam", around(40, 18, 3, 2), []string{"Loam drains well", "10 to 20 mm an hour", "every 2 to 4 days", "squeeze", "75 to 100 mm (3 to 4 inches) of compost"}, []string{"sand:", "packs hard"}},
		{"silt loam", around(15, 15, 3, 2), []string{"Silt loam takes water in slowly", "seals its surface"}, []string{"drains well"}},
		{"clay", around(20, 55, 4, 2), []string{"Clay takes water in slowly", "1 to 5 mm an hour", "Do not add sand", "keep to paths", "squeeze"}, []string{"drains well", "almost any day"}},
		{"loam or clay loam", around(35, 27, 3, 3), []string{"may be heavy", "watch the ground", "Do not add sand", "Loam or clay loam"}, []string{"drains well", "packs hard"}},
	} {
		m := Of(c.r, Options{})
		require.Len(t, m.Lines, 5, c.name)
		text := ""
		for _, l := range m.Lines {
			text += l.Text + "\n"
		}
		for _, want := range c.says {
			assert.Contains(t, text, want, c.name)
		}
		for _, never := range c.saysNever {
			assert.NotContains(t, text, never, c.name)
		}
	}
}

func TestDoubtComesFirst(t *testing.T) {
	sure := around(40, 18, 3, 2)
	assert.NotEqual(t, "doubt", Of(sure, Options{}).Lines[0].Topic)
	assert.NotEqual(t, "doubt", Of(around(10, 65, 4, 14), Options{}).Lines[0].Topic, "clay, however much of it")

	vague := around(55, 25, 20, 14)
	vague.Warnings = []reading.Warning{{Code: "no_temperature", Remedy: "give --temp"}, {Code: "single_photo", Remedy: "take three photos"},
		{Code: "short", Remedy: "take another photo after a day"}}
	m := Of(vague, Options{})
	assert.Equal(t, "doubt", m.Lines[0].Topic)
	assert.Contains(t, m.Lines[0].Text, "too uncertain to go by the class")
	assert.Contains(t, m.Lines[0].Text, "To be surer: take another photo after a day.")
	assert.Contains(t, m.Laboratory.Text, "particle size analysis")
	open := Of(around(70, 12, 12, 6), Options{})
	assert.Contains(t, topic(open, "drainage"), "an hour to as fast as you pour", "from loam to sand")

	sure.Hand = &reading.Hand{Verdict: string(feel.Disagree), Reasons: []reading.HandReason{{Text: "clumps"}, {Remedy: "knead it for two minutes"}}}
	m = Of(sure, Options{})
	assert.Equal(t, "doubt", m.Lines[0].Topic)
	assert.Contains(t, m.Lines[0].Text, "hands disagree")
	assert.Contains(t, m.Lines[0].Text, "knead it for two minutes.")
	sure.Hand.Verdict = string(feel.Borderline)
	assert.NotEqual(t, "doubt", Of(sure, Options{}).Lines[0].Topic)
}

func TestSmell(t *testing.T) {
	loam, sand := around(40, 18, 3, 2), around(92, 3, 2, 1)
	for _, smell := range []feel.Smell{feel.Sour, feel.RottenEgg} {
		m := Of(loam, Options{Smell: smell})
		assert.Equal(t, "waterlogging", m.Lines[0].Topic)
		assert.Contains(t, m.Lines[0].Text, "too wet and short of air. Stop watering")
		assert.Contains(t, m.Lines[1].Text, "Once the ground has dried")
		assert.Empty(t, topicOf(m.Lines, "drainage"), "it cannot be said to drain well")
		assert.Contains(t, Of(around(20, 55, 4, 2), Options{Smell: smell}).Lines[0].Text, "Dig a hole")
		assert.Contains(t, Of(sand, Options{Smell: smell}).Lines[0].Text, "high ground water")
	}
	m := Of(loam, Options{Smell: feel.Fuel})
	require.Len(t, m.Lines, 1, "nothing else to do")
	assert.Contains(t, m.Lines[0].Text, "Do not handle it")
	assert.Empty(t, m.More, "nor to water or to improve")
	for _, smell := range []feel.Smell{"", feel.NoSmell, feel.Earthy} {
		assert.Equal(t, "watering", Of(loam, Options{Smell: smell}).Lines[0].Topic)
	}
}

func TestHumus(t *testing.T) {
	peat, rich := 25.0, 9.0
	m := Of(around(40, 18, 3, 2), Options{OrganicMatter: &peat})
	assert.Equal(t, "organic_matter", m.Lines[0].Topic)
	for _, l := range m.Lines {
		assert.NotContains(t, l.Text, "oam", "texture names lose their meaning")
		assert.NotContains(t, l.Text, "compost")
	}
	assert.Contains(t, topic(m, "limits"), "100 % of the soils")
	m = Of(around(40, 18, 3, 2), Options{OrganicMatter: &rich})
	assert.Equal(t, "watering", m.Lines[0].Topic)
	assert.Contains(t, topic(m, "limits"), "treated as if at the limit")
	assert.Empty(t, topic(Of(around(40, 18, 3, 2), Options{}), "limits"))
	assert.Contains(t, topic(Of(around(15, 70, 3, 3), Options{}), "limits"), "clay under 60 %")
}

func TestCautions(t *testing.T) {
	all := ""
	for _, c := range Cautions() {
		assert.NotEmpty(t, c.Topic)
		assert.NotEmpty(t, c.Source, c.Topic)
		assert.True(t, strings.HasSuffix(c.Text, "."), c.Text)
		all += c.Topic + " " + c.Text + "\n"
	}
	for _, word := range []string{"jar", "gloves", "tetanus", "Legionella", "lead", "drain", "detergent", "mask", "percolation", "foundations", "slopes",
		"retaining walls", "contaminated land", "not a laboratory analysis"} {
		assert.Contains(t, strings.ToLower(all), strings.ToLower(word))
	}
}

// TestAnyReading: whatever the cloud and the options, the numbers are in order
// and nothing is named that the cloud does not bear out.
func TestAnyReading(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 60).Draw(t, "soils")
		soils := make([]texture.Fractions, n)
		for i := range soils {
			sand := rapid.Float64Range(0, 100).Draw(t, "sand")
			clay := rapid.Float64Range(0, 100-sand).Draw(t, "clay")
			soils[i] = texture.Fractions{Sand: sand, Silt: 100 - sand - clay, Clay: clay}
		}
		organic := rapid.Float64Range(0, 100).Draw(t, "organic")
		o := Options{Soils: soils, OrganicMatter: &organic, RootingDepthMM: rapid.OneOf(rapid.Just(0.0), rapid.Float64Range(50, 3000)).Draw(t, "roots"),
			DailyUseMM: rapid.OneOf(rapid.Just(0.0), rapid.Float64Range(0.1, 20)).Draw(t, "use"), Smell: rapid.SampledFrom([]feel.Smell{"", feel.Sour, feel.Fuel}).Draw(t, "smell")}
		if c := rapid.SampledFrom(append(moisture.Crops(), moisture.Crop{})).Draw(t, "crop"); c.Name != "" {
			o.Crop = &c
		}
		m := Of(reading.Reading{System: rapid.SampledFrom([]string{"", "usda", "canadian", "international"}).Draw(t, "system")}, o)
		require.NotNil(t, m)
		for _, r := range []reading.Range{m.FieldCapacity, m.WiltingPoint, m.AvailableMMPerM, m.ConductivityMMH, m.Bed.TotalMM, m.Bed.ReadilyMM, m.Bed.Days} {
			require.Greater(t, r.Low, 0.0)
			require.Less(t, r.Low, r.Value)
			require.Less(t, r.Value, r.High)
			require.False(t, math.IsInf(r.High, 0))
		}
		require.Positive(t, m.Bed.RootingDepthMM)
		require.Positive(t, m.Bed.DailyUseMM)
		require.True(t, len(m.Lines) >= 1 && len(m.Lines) <= 5)
		for _, s := range append(append(slices.Clone(m.Lines), m.More...), m.Laboratory) {
			require.NotEmpty(t, s.Topic)
			require.NotEmpty(t, s.Source)
			require.True(t, strings.HasSuffix(s.Text, "."), s.Text)
			require.NotContains(t, s.Text, "%!")
			require.NotContains(t, s.Text, "NaN")
			require.NotContains(t, s.Text, "Inf")
		}
		if class := claimed(topic(m, "drainage")); class != "" {
			in := 0
			for _, f := range soils {
				if name, _ := texture.ClassOf(f, texture.USDA); name == class || class == "heavy clay" && f.Clay > 60 {
					in++
				}
			}
			require.GreaterOrEqual(t, 2*in, n, "%s is claimed", class)
		}
	})
}

// claimed is the class that a statement opens with, if it names just one.
func claimed(text string) string {
	subject := strings.ToLower(text)
	for _, verb := range []string{" drains", " takes water", " may take"} {
		if i := strings.Index(subject, verb); i >= 0 {
			subject = subject[:i]
		}
	}
	if slices.Contains(texture.ClassNames(texture.Canadian), subject) {
		return subject
	}
	return ""
}
