package main

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"time"

	"mudline/texture"
	"mudline/texture/column"
)

// A simulated film: soils of package texture/column, settled and looked at so many
// times, evenly spread in the logarithm of time, without any picture.
const (
	seriesFirstS, seriesLastS = 30, 2 * 86400
	seriesNoiseMM             = 0.4 // of a deposit top, each photo's own
	sandNoiseMM, sandShiftMM  = 0.4, 0.5
)

// seriesModes are the lines that are read of a simulated film.
var seriesModes = []struct {
	name string
	sand bool
}{{"deposit tops alone", false}, {"deposit tops and the sand's line", true}}

// runSeries settles soils and prints what is read of them from so many moments.
func runSeries(soils, moments int) error {
	fmt.Printf("%d soils settled by texture/column, %d moments, deposit tops with %.1f mm of noise; simulated\n", soils, moments, seriesNoiseMM)
	sums := make([]seriesScore, len(seriesModes))
	for i := range soils {
		r := rand.New(rand.NewPCG(uint64(i), 1947))
		soil := column.Random(r)
		states, err := soil.Settle(seriesTimes(moments))
		if err != nil {
			return err
		}
		for k, mode := range seriesModes {
			obs := lookAt(states, rand.New(rand.NewPCG(uint64(i), 77)), mode.sand, soil.DepthMM)
			start := time.Now()
			got, err := texture.Invert(obs, texture.Setup{WaterDepthMM: soil.DepthMM, TempC: &soil.TempC, TempSDC: 1})
			if err != nil {
				return fmt.Errorf("soil %d: %w", i, err)
			}
			sums[k].add(soil.Mix(), got, time.Since(start))
		}
	}
	for k, mode := range seriesModes {
		fmt.Printf("%s: %s\n", mode.name, &sums[k])
	}
	return nil
}

func seriesTimes(n int) []float64 {
	out := make([]float64, n)
	for i := range out {
		out[i] = math.Round(seriesFirstS * math.Pow(float64(seriesLastS)/seriesFirstS, float64(i)/float64(n-1)))
	}
	return out
}

// lookAt reads the heights with errors: each photo's own, and for the sand's line
// one that all share.
func lookAt(states []column.State, r *rand.Rand, sand bool, depthMM float64) []texture.Observation {
	height := func(mm, sdMM float64) *texture.Height {
		return &texture.Height{Share: mm / depthMM, SD: sdMM / depthMM}
	}
	shift := sandShiftMM * r.NormFloat64()
	var out []texture.Observation
	for _, x := range states {
		top, own := x.DepositTopMM+seriesNoiseMM*r.NormFloat64(), sandNoiseMM*r.NormFloat64()
		o := texture.Observation{ElapsedS: x.TimeS, ElapsedSDS: 1,
			DepositTop: height(min(max(top, 0), depthMM), seriesNoiseMM)}
		if sand && !math.IsNaN(x.SandTopMM) {
			o.SandTop = height(max(x.SandTopMM+shift+own, 0), math.Hypot(sandNoiseMM, sandShiftMM))
		}
		out = append(out, o)
	}
	return out
}

// seriesScore gathers how far readings are from the truth.
type seriesScore struct {
	errors         []float64
	soils, covered int
	widths         []float64
	signed         [3]float64
	spent          time.Duration
}

func (s *seriesScore) add(truth [3]float64, got texture.Result, spent time.Duration) {
	s.soils++
	s.spent += spent
	for i, e := range []texture.Estimate{got.Sand, got.Silt, got.Clay} {
		s.errors = append(s.errors, math.Abs(e.Value-truth[i]))
		s.signed[i] += e.Value - truth[i]
		s.widths = append(s.widths, e.High-e.Low)
		if truth[i] >= e.Low && truth[i] <= e.High {
			s.covered++
		}
	}
}

func (s *seriesScore) String() string {
	slices.Sort(s.errors)
	slices.Sort(s.widths)
	sum := 0.0
	for _, e := range s.errors {
		sum += e
	}
	n := len(s.errors)
	return fmt.Sprintf("mean error %.2f points (sand %+.1f, silt %+.1f, clay %+.1f), 90th percentile %.1f, 90 %% intervals hold %.0f %%, median width %.1f, %.2f s a reading",
		sum/float64(n), s.signed[0]/float64(s.soils), s.signed[1]/float64(s.soils), s.signed[2]/float64(s.soils),
		s.errors[n*9/10], 100*float64(s.covered)/float64(n), s.widths[n/2], s.spent.Seconds()/float64(s.soils))
}
