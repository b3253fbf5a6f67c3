package texture

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// usualDepthMM is the depth of usualSetup.
const usualDepthMM = 125.0

// height is one in the jar of usualSetup.
func height(mm, sdMM float64) *Height { return heightIn(usualDepthMM, mm, sdMM) }

// heightIn is a height in millimetres in water of a depth.
func heightIn(depthMM, mm, sdMM float64) *Height {
	return &Height{Share: mm / depthMM, SD: sdMM / depthMM}
}

func number(v float64) *float64 { return &v }

// threePhotos is a jar as a person photographs it.
func threePhotos() []Observation {
	return []Observation{
		{ElapsedS: 64, ElapsedSDS: 1, DepositTop: height(14, 0.8), SandTop: height(13, 1.2)},
		{ElapsedS: 7300, ElapsedSDS: 1, DepositTop: height(31, 0.8), SandTop: height(13, 1.2), SiltTop: height(29, 2)},
		{ElapsedS: 170000, ElapsedSDS: 1, DepositTop: height(40, 0.8), SandTop: height(13, 1.2), SiltTop: height(29, 2), Cloud: number(0.3)},
	}
}

func usualSetup() Setup { return Setup{WaterDepthMM: usualDepthMM, TempC: number(20)} }

func mustInvert(t testing.TB, obs []Observation, s Setup) Result {
	t.Helper()
	r, err := Invert(obs, s)
	require.NoError(t, err)
	return r
}

func TestInvertIsDeterministicAndSound(t *testing.T) {
	a, b := mustInvert(t, threePhotos(), usualSetup()), mustInvert(t, threePhotos(), usualSetup())
	assert.Equal(t, a, b)
	assert.InDelta(t, 100, a.Fractions().Sum(), 1e-9)
	sum := 0.0
	for i, c := range a.Classes {
		sum += c.Probability
		if i > 0 {
			assert.LessOrEqual(t, c.Probability, a.Classes[i-1].Probability)
		}
	}
	assert.InDelta(t, 1, sum, 1e-9)
	assert.Greater(t, a.EffectiveDraws, 30.0)
	assert.Len(t, a.Causes, 13)
	require.NotNil(t, a.ByThickness)
	assert.InDelta(t, 32.5, a.ByThickness.Sand, 1e-9)
	assert.Equal(t, LooseClay, a.Reason.Kind)
	assert.Less(t, a.Clay.Value, a.ByThickness.Clay)
	for i := 1; i < len(a.Curve); i++ {
		assert.GreaterOrEqual(t, a.Curve[i].Finer.Value, a.Curve[i-1].Finer.Value)
	}
	assert.InDelta(t, a.Clay.Value, a.Curve[0].Finer.Value, 3, "finer than 2 um is the clay")
}

func TestASmallMoveOfALineMovesTheReadingLittle(t *testing.T) {
	a := mustInvert(t, threePhotos(), usualSetup())
	obs := threePhotos()
	obs[2].SandTop.Share += 0.2 / usualDepthMM
	b := mustInvert(t, obs, usualSetup())
	assert.Greater(t, b.Sand.Value, a.Sand.Value-0.5)
	assert.InDelta(t, a.Sand.Value, b.Sand.Value, 2)
	assert.InDelta(t, a.Clay.Value, b.Clay.Value, 3)
}

func TestOneWrongLineIsNamedAndDoesNotRule(t *testing.T) {
	obs := threePhotos()
	obs[1].SandTop = height(26, 1.2)
	r := mustInvert(t, obs, usualSetup())
	require.NotEmpty(t, r.Surprises)
	assert.Equal(t, SandTopLine, r.Surprises[0].Line)
	assert.Equal(t, 1, r.Surprises[0].Photo)
	right := mustInvert(t, threePhotos(), usualSetup())
	assert.InDelta(t, right.Sand.Value, r.Sand.Value, 6)
	assert.Empty(t, right.Surprises)
}

func TestLessKnownIsLessSure(t *testing.T) {
	width := func(e Estimate) float64 { return e.High - e.Low }
	all := mustInvert(t, threePhotos(), usualSetup())
	one := mustInvert(t, threePhotos()[2:], usualSetup())
	growth := threePhotos() // nothing but the growth of the deposit
	for i := range growth {
		growth[i].SandTop, growth[i].SiltTop = nil, nil
	}
	tops := mustInvert(t, growth, usualSetup())
	assert.Nil(t, tops.ByThickness)
	assert.Equal(t, NoRuler, tops.Reason.Kind)
	for _, less := range []Result{one, tops} {
		assert.Greater(t, width(less.Silt)+width(less.Clay), width(all.Silt)+width(all.Clay))
	}
	assert.Greater(t, width(tops.Sand), width(all.Sand))
}

func TestUnknownDepthAndTemperature(t *testing.T) {
	obs := threePhotos()
	known := mustInvert(t, obs, usualSetup())
	r := mustInvert(t, obs, Setup{})
	assert.InDelta(t, known.Sand.Value, r.Sand.Value, 6)
	assert.InDelta(t, known.Clay.Value, r.Clay.Value, 8)
	assert.Greater(t, r.WaterDepthMM.High-r.WaterDepthMM.Low, 40.0, "shares alone say little of the depth")
}

func TestTheInternationalLimitMovesSiltToSand(t *testing.T) {
	usda := mustInvert(t, threePhotos(), usualSetup())
	s := usualSetup()
	s.System = International
	r := mustInvert(t, threePhotos(), s)
	assert.Greater(t, r.Sand.Value, usda.Sand.Value+3)
	assert.Less(t, r.Silt.Value, usda.Silt.Value-3)
	assert.InDelta(t, usda.Clay.Value, r.Clay.Value, 1)
	assert.Contains(t, ClassNames(International), r.Classes[0].Name)
}

// TestSiltEndsWhereTheSystemSays: sand falls as the limit of silt rises, and
// between two edges of the grain grid it does so evenly in the logarithm.
func TestSiltEndsWhereTheSystemSays(t *testing.T) {
	var last Fractions
	for i, s := range []System{International, European, EnglandWales, German} {
		setup := usualSetup()
		setup.System = s
		f := mustInvert(t, threePhotos(), setup).Fractions()
		if i > 0 {
			assert.Less(t, f.Sand, last.Sand, "%v", s)
			assert.Greater(t, f.Silt, last.Silt, "%v", s)
			assert.InDelta(t, last.Clay, f.Clay, 1, "%v", s)
		}
		last = f
	}
	var j jar
	j.grainShares[sandClasses-1] = 1 // 50 to 65 um
	for um, want := range map[float64]float64{50: 1, 65: 0, 57.0087712549569: 0.5, 63: math.Log(65./63) / math.Log(65./50)} {
		assert.InDelta(t, want, sandAbove(&j.grainShares, um), 1e-12, "%g um", um)
	}
}

func TestWallsTurnHeightsIntoVolumes(t *testing.T) {
	// A cone frustum, areas 1 at the floor and 4 at 100 mm, exact in between by
	// trapezia of the given sections.
	p := Profile{{0, 1}, {100, 4}}
	mm, stretch := p.straighten(100)(50)
	assert.InDelta(t, 50*(1+2.5)/2/2.5, mm, 1e-9)
	assert.InDelta(t, 1, stretch, 1e-9)
	full, _ := p.straighten(100)(100)
	assert.InDelta(t, 100, full, 1e-9, "the water surface stays where it is")

	straight := usualSetup()
	straight.Walls = Profile{{0, 7}, {130, 7}}
	assert.Equal(t, mustInvert(t, threePhotos(), usualSetup()).Fractions(), mustInvert(t, threePhotos(), straight).Fractions())

	narrow := usualSetup() // narrower at the bottom, where the sand is
	narrow.Walls = Profile{{0, 3}, {15, 3}, {30, 6}, {130, 6}}
	assert.Less(t, mustInvert(t, threePhotos(), narrow).Sand.Value, mustInvert(t, threePhotos(), usualSetup()).Sand.Value-2)
}

func TestBadInput(t *testing.T) {
	change := func(f func(o []Observation, s *Setup)) error {
		o, s := threePhotos(), usualSetup()
		f(o, &s)
		_, err := Invert(o, s)
		return err
	}
	for want, f := range map[string]func(o []Observation, s *Setup){
		"water depth is -5 mm; it must be between 20 and 1000 mm": func(_ []Observation, s *Setup) { s.WaterDepthMM = -5 },
		"water temperature is 300 C; it must be between 0 and 45": func(_ []Observation, s *Setup) { s.TempC = number(300) },
		"times must rise from photo to photo":                     func(o []Observation, _ *Setup) { o[1].ElapsedS = 30 },
		"deposit top is 101 %; it must be between 0 and 100 %":    func(o []Observation, _ *Setup) { o[2].DepositTop.Share = 1.01 },
		"silt top is NaN %":                                        func(o []Observation, _ *Setup) { o[1].SiltTop.Share = math.NaN() },
		"lies below the":                                           func(o []Observation, _ *Setup) { o[2].DepositTop.Share = 0.04 },
		"standard deviation is -1 %":                               func(o []Observation, _ *Setup) { o[0].SandTop.SD = -0.01 },
		"cloud is 2; it must be between 0 and 1":                   func(o []Observation, _ *Setup) { o[2].Cloud = number(2) },
		"elapsed time is 0 s; it must be between 1 and":            func(o []Observation, _ *Setup) { o[0].ElapsedS = 0 },
		"system number 9 is not known":                             func(_ []Observation, s *Setup) { s.System = System(9) },
		"heights must rise":                                        func(_ []Observation, s *Setup) { s.Walls = Profile{{5, 1}, {5, 1}} },
		"area is 0; it must be":                                    func(_ []Observation, s *Setup) { s.Walls = Profile{{5, 0}} },
		"jar sections are given without a water depth":             func(_ []Observation, s *Setup) { s.WaterDepthMM, s.Walls = 0, Profile{{5, 1}} },
		"floating matter is NaN %; it must be between 0 and 100":   func(o []Observation, _ *Setup) { o[0].Floating = math.NaN() },
		"water depth's standard deviation is 70 mm; it must":       func(_ []Observation, s *Setup) { s.WaterDepthSDMM = 70 },
		"water temperature's standard deviation is 30 C; it must":  func(_ []Observation, s *Setup) { s.TempSDC = 30 },
		"elapsed time's standard deviation is -1 s; it must be":    func(o []Observation, _ *Setup) { o[0].ElapsedSDS = -1 },
		"deposit top is +Inf %; it must be between 0 and 100 %":    func(o []Observation, _ *Setup) { o[2].DepositTop.Share = math.Inf(1) },
		"water depth is NaN mm; it must be between 20 and 1000 mm": func(_ []Observation, s *Setup) { s.WaterDepthMM = math.NaN() },
	} {
		assert.ErrorContains(t, change(f), want)
	}
	_, err := Invert(nil, usualSetup())
	assert.ErrorContains(t, err, "0 photos given; a reading takes 1 to")
	_, err = Invert([]Observation{{ElapsedS: 60}}, usualSetup())
	assert.ErrorContains(t, err, "no height given")
}

// anyObservations draws valid input of any kind.
func anyObservations(t *rapid.T) []Observation {
	var obs []Observation
	at := 1.0
	for range rapid.IntRange(1, 4).Draw(t, "photos") {
		at = math.Min(at*math.Exp(rapid.Float64Range(0.01, 5).Draw(t, "log step"))+1, MaxElapsedS-10)
		top := rapid.Float64Range(0, 120).Draw(t, "top")
		o := Observation{ElapsedS: at, DepositTop: height(top, rapid.Float64Range(0, 20).Draw(t, "sd"))}
		if rapid.Bool().Draw(t, "sand") {
			o.SandTop = height(top*rapid.Float64Range(0, 1).Draw(t, "share"), 1)
		}
		obs = append(obs, o)
	}
	return obs
}

func TestAnyValidInputGivesAResult(t *testing.T) {
	draws := rapid.Custom(anyObservations)
	for seed := range 25 / everyNth { // a full rapid run would take half a minute
		obs := draws.Example(seed)
		r, err := Invert(obs, Setup{WaterDepthMM: usualDepthMM})
		require.NoError(t, err)
		for _, e := range []Estimate{r.Sand, r.Silt, r.Clay} {
			require.False(t, math.IsNaN(e.Value), "seed %d", seed)
			require.LessOrEqual(t, e.Low, e.Value)
			require.LessOrEqual(t, e.Value, e.High)
		}
	}
}

func BenchmarkInvert(b *testing.B) {
	sum := 0.0
	for b.Loop() {
		r, err := Invert(threePhotos(), usualSetup())
		if err != nil {
			b.Fatal(err)
		}
		sum += r.Sand.Value
	}
	if sum == 0 {
		b.Fatal("no sand")
	}
}
