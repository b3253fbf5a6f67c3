package layers

import (
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// Boundaries of made-up jars, whose heights are exact, come back to a third of
// a millimetre where they are sharp, whatever covers part of the glass.
func TestReadKnownBoundaries(t *testing.T) {
	for name, change := range map[string]func(*scene){
		"plain":      nil,
		"tape":       func(s *scene) { s.tape = true },
		"glare":      func(s *scene) { s.glare = true },
		"reflection": func(s *scene) { s.horizon = 62 },
		"tilted":     func(s *scene) { s.tilt = 1.5 },
		"haze":       func(s *scene) { s.haze = map[float64]float64{172800: 85}[s.elapsed] },
		"everything": func(s *scene) { s.tape, s.glare, s.horizon, s.floating, s.tilt = true, true, 70, 5, 1 },
	} {
		t.Run(name, func(t *testing.T) {
			got, err := Read(settling(change))
			require.NoError(t, err)
			require.Len(t, got, 3)
			for i, top := range []float64{14.15, 27.3, 38.3} {
				require.NotNil(t, got[i].DepositTop, "photo %d", i+1)
				within := 0.3
				if i == 0 {
					within = 0.7 // bare sand: read from where the change begins
				}
				assert.InDelta(t, top, got[i].DepositTop.HeightMM, within, "top in photo %d", i+1)
				assert.Less(t, got[i].DepositTop.SDMM, 0.012*sceneWater)
			}
			for _, i := range []int{1, 2} {
				require.NotNil(t, got[i].SandTop, "photo %d", i+1)
				assert.InDelta(t, 14.15, got[i].SandTop.HeightMM, 0.3, "sand in photo %d", i+1)
			}
			silt := got[2].SiltTop
			require.NotNil(t, silt)
			assert.InDelta(t, 26.7, silt.HeightMM, 2, "silt")
			assert.InDelta(t, 26.7, silt.HeightMM, 2.5*silt.SDMM, "silt against its own standard deviation")
			assert.Nil(t, got[0].SiltTop, "no clay has settled after a minute")
		})
	}
}

// Through clear water the far edge of the deposit is much bolder than the near
// one; the near one is the height.
func TestReadThroughClearWater(t *testing.T) {
	for _, single := range []bool{false, true} {
		strips := settling(func(s *scene) {
			s.bow = 12
			if s.elapsed > 1e5 {
				s.clear, s.water = true, backdrop
			}
		})
		if single {
			strips = strips[2:]
		}
		got, err := Read(strips)
		require.NoError(t, err)
		last := got[len(got)-1]
		require.NotNil(t, last.DepositTop)
		assert.InDelta(t, 38.3, last.DepositTop.HeightMM, 0.5)
		assert.Less(t, last.Cloud, 0.25, "clear water")
	}
}

// A haze line is not the top of the deposit; it is reported as what it is.
func TestReadHaze(t *testing.T) {
	got, err := Read(settling(func(s *scene) { s.haze = 90 }))
	require.NoError(t, err)
	for i, r := range got {
		require.NotNil(t, r.HazeTop, "photo %d", i+1)
		assert.InDelta(t, 90, r.HazeTop.HeightMM, 0.5)
		assert.Less(t, r.DepositTop.HeightMM, 45.0)
	}
}

// What only looks like a haze line is none: the horizon mirrored in the glass
// before mud, and an edge of the background seen through clear water.
func TestReadNoHaze(t *testing.T) {
	for name, change := range map[string]func(*scene){
		"mirrored": func(s *scene) { s.horizon = 70 },
		"through clear water": func(s *scene) {
			s.bow = 12
			if s.elapsed > 1e5 {
				s.clear, s.water, s.haze = true, [3]float64{60, 2, 8}, 80
			}
		},
	} {
		got, err := Read(settling(change))
		require.NoError(t, err, name)
		for i, r := range got {
			assert.Nil(t, r.HazeTop, "%s, photo %d", name, i+1)
		}
	}
}

// A brown deposit under clear water before a striped window is plain to see; the
// same stripes without it are refused.
func TestReadBeforeAWindow(t *testing.T) {
	stripes := func(s *Strip, from float64) {
		for r := range s.H {
			z := s.TopMM - (float64(r)+0.5)*s.mmPerRow()
			if z < from || int(z/9)%2 == 0 {
				continue
			}
			for c := range s.W {
				s.Lab[3*(r*s.W+c)] -= 12
			}
		}
	}
	with := scene{elapsed: 172800, water: backdrop, bow: 12, layers: []stratum{{9, sandLab, 2}, {31, siltLab, 0}}}.strip()
	stripes(&with, 36)
	got, err := Read([]Strip{with})
	require.NoError(t, err)
	assert.InDelta(t, 31, got[0].DepositTop.HeightMM, 1)

	without := scene{elapsed: 172800, water: backdrop, bow: 12}.strip()
	stripes(&without, 2)
	_, err = Read([]Strip{without})
	var r *Refusal
	require.ErrorAs(t, err, &r)
	assert.Equal(t, RefusedNoDeposit, r.Code)
}

// Debris on the water is measured and is part of no layer.
func TestReadFloating(t *testing.T) {
	plain, err := Read(settling(nil))
	require.NoError(t, err)
	got, err := Read(settling(func(s *scene) { s.floating = 6 }))
	require.NoError(t, err)
	for i := range got {
		assert.Zero(t, plain[i].FloatingMM)
		assert.InDelta(t, 6, got[i].FloatingMM, 1)
		assert.InDelta(t, plain[i].DepositTop.HeightMM, got[i].DepositTop.HeightMM, 0.05)
		assert.True(t, hasNote(got[i], NoteFloating))
	}
}

func hasNote(r Reading, code string) bool {
	for _, n := range r.Notes {
		if n.Code == code {
			return true
		}
	}
	return false
}

// Sand alone, and one mud alone: the answer is 'not told apart', not a line. That
// smooth mud shows no grain at the floor is told with little confidence.
func TestReadNotToldApart(t *testing.T) {
	for name, l := range map[string]stratum{"sand": {30, sandLab, 2}, "clay": {30, clayLab, 0}} {
		t.Run(name, func(t *testing.T) {
			got, err := Read([]Strip{scene{elapsed: 172800, water: mud, layers: []stratum{l}}.strip()})
			require.NoError(t, err)
			require.NotNil(t, got[0].DepositTop)
			assert.InDelta(t, 30, got[0].DepositTop.HeightMM, 0.3)
			if name == "sand" {
				assert.Nil(t, got[0].SandTop)
			} else if b := got[0].SandTop; assert.NotNil(t, b) {
				assert.LessOrEqual(t, b.Confidence, faintSand)
				assert.InDelta(t, 0, b.HeightMM, b.SDMM)
			}
			assert.Nil(t, got[0].SiltTop)
			assert.True(t, hasNote(got[0], NoteSandSilt))
			assert.True(t, hasNote(got[0], NoteSiltClay))
		})
	}
}

func TestReadRefuses(t *testing.T) {
	still := scene{elapsed: 60, water: mud}.strip()
	reflecting := scene{elapsed: 60, water: mud, horizon: 60}.strip()
	clear := scene{elapsed: 172800, water: backdrop, bow: 12}.strip()
	good := settling(nil)
	broken := good[0]
	broken.Lab = broken.Lab[:30]
	nan := good[0]
	nan.Lab = append([]float32(nil), nan.Lab...)
	nan.Lab[1000] = float32(math.NaN())
	high := good[0]
	tall := 200.0
	high.Stated.DepositTop = &tall
	for name, c := range map[string]struct {
		strips []Strip
		code   string
	}{
		"none":              {nil, RefusedNoPhotos},
		"mixed":             {[]Strip{still}, RefusedStillMixed},
		"mixed, reflection": {[]Strip{reflecting}, RefusedStillMixed},
		"clear":             {[]Strip{clear}, RefusedNoDeposit},
		"backwards":         {[]Strip{good[1], good[0]}, RefusedOrder},
		"cut short":         {[]Strip{broken}, RefusedStrip},
		"not a number":      {[]Strip{nan}, RefusedStrip},
		"stated too high":   {[]Strip{high}, RefusedStated},
	} {
		t.Run(name, func(t *testing.T) {
			_, err := Read(c.strips)
			var r *Refusal
			require.ErrorAs(t, err, &r)
			assert.Equal(t, c.code, r.Code)
			assert.NotEmpty(t, r.Text)
			assert.NotEmpty(t, r.Remedy)
		})
	}
}

// What a person states wins, and what was seen and contradicts it gives way.
func TestReadStatedWins(t *testing.T) {
	strips := settling(nil)
	top, sand := 33.0, 12.0
	strips[2].Stated = Lines{DepositTop: &top, SandTop: &sand}
	got, err := Read(strips)
	require.NoError(t, err)
	last := got[2]
	assert.Equal(t, 33.0, last.DepositTop.HeightMM)
	assert.True(t, last.DepositTop.Stated)
	assert.Equal(t, 12.0, last.SandTop.HeightMM)
	assert.True(t, last.SandTop.Stated)
	if last.SiltTop != nil {
		assert.False(t, last.SiltTop.Stated)
		assert.Greater(t, last.SiltTop.HeightMM, 12.0)
		assert.Less(t, last.SiltTop.HeightMM, 33.0)
	}
	assert.False(t, got[1].DepositTop.Stated)
	assert.InDelta(t, 27.3, got[1].DepositTop.HeightMM, 0.3)

	// A stated top also overrides a refusal.
	one := []Strip{scene{elapsed: 60, water: mud}.strip()}
	low := 5.0
	one[0].Stated.DepositTop = &low
	got, err = Read(one)
	require.NoError(t, err)
	assert.Equal(t, 5.0, got[0].DepositTop.HeightMM)
}

// Whatever the jar, the top is found to 1 % of the water depth, the sand's line is among
// the candidates wherever one is named, and it is the one that is named wherever that is
// all but sure; boundaries come in order, with usable standard deviations.
func TestReadProperty(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		sand := rapid.Float64Range(5, 30).Draw(t, "sand")
		silt := sand + rapid.Float64Range(6, 15).Draw(t, "silt")
		clay := silt + rapid.Float64Range(6, 15).Draw(t, "clay")
		s := scene{elapsed: 172800, water: mud, seed: rapid.Uint32().Draw(t, "seed"),
			bow:  rapid.Float64Range(-3, 15).Draw(t, "bow"),
			tape: rapid.Bool().Draw(t, "tape"), glare: rapid.Bool().Draw(t, "glare"),
			tilt:   rapid.Float64Range(-1.2, 1.2).Draw(t, "tilt"), // a frame rolled by up to a degree
			layers: []stratum{{sand, sandLab, 2}, {silt, siltLab, 0}, {clay, clayLab, 0}}}
		got, err := Read([]Strip{s.strip()})
		if err != nil {
			t.Fatal(err)
		}
		r := got[0]
		if d := math.Abs(r.DepositTop.HeightMM - clay); d > 0.01*sceneWater {
			t.Fatalf("top %.2f, is %.2f", r.DepositTop.HeightMM, clay)
		}
		near := func(heightMM float64) bool { return math.Abs(heightMM-sand) <= 0.01*sceneWater }
		if top := r.SandTop; top != nil && !near(top.HeightMM) {
			if top.Confidence >= 0.7 || !slices.ContainsFunc(r.Candidates, func(c Candidate) bool { return near(c.HeightMM) && c.SandOdds >= 0.3 }) {
				t.Fatalf("sand top %.2f with odds of %.2f, is %.2f", top.HeightMM, top.Confidence, sand)
			}
		}
		if problem := unsound(r, sceneWater); problem != "" {
			t.Fatal(problem)
		}
	})
}

// unsound says what no reading may be.
func unsound(r Reading, water float64) string {
	last := 0.0
	for _, b := range []*Boundary{r.SandTop, r.SiltTop, r.DepositTop} {
		switch {
		case b == nil:
		case !(b.HeightMM >= last && b.HeightMM <= water):
			return "heights out of order or outside the water"
		case !(b.SDMM > 0) || math.IsInf(b.SDMM, 0):
			return "a standard deviation that is no number"
		case !(b.Confidence >= 0 && b.Confidence <= 1):
			return "confidence outside 0..1"
		default:
			last = b.HeightMM
		}
	}
	if !(r.Cloud >= 0 && r.Cloud <= 1) || !(r.FloatingMM >= 0 && r.FloatingMM <= water) {
		return "cloud or floating out of range"
	}
	return ""
}

// Any bytes at all are read or refused, and a reading is sound.
func FuzzRead(f *testing.F) {
	f.Add([]byte{1, 2, 3}, uint8(96), uint8(200), 60.0, 7200.0, 9.0)
	f.Add([]byte{200, 10, 30, 7}, uint8(9), uint8(41), 0.0, 1e9, -5.0)
	f.Add([]byte{}, uint8(1), uint8(1), math.NaN(), 1.0, math.Inf(1))
	f.Fuzz(func(t *testing.T, data []byte, w, h uint8, t1, t2, bow float64) {
		make1 := func(at float64, skip int) Strip {
			s := Strip{W: int(w), H: int(h), USpan: 0.9, Lab: make([]float32, 3*int(w)*int(h)),
				TopMM: 112, BottomMM: -8, Water: Depth{MM: 100}, ElapsedS: at, FrameSDMM: 0.3, BowFloorMM: bow, BowWaterMM: -bow / 3}
			for i := range s.Lab {
				if len(data) > 0 {
					s.Lab[i] = float32(data[(i/7+skip)%len(data)]) / 2.56
				}
			}
			return s
		}
		got, err := Read([]Strip{make1(t1, 0), make1(t2, 1)})
		if err != nil {
			var r *Refusal
			require.ErrorAs(t, err, &r)
			return
		}
		require.Len(t, got, 2)
		for _, r := range got {
			require.Empty(t, unsound(r, 100))
		}
	})
}
