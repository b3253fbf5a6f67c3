package texture

import (
	"encoding/csv"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"strconv"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mudline/texture/column"
)

// testdata/natural.csv holds jars settled by package column with the effects real
// soils have and column.Random leaves out: true, noiseless heights, simulated and
// not measured. Set MUDLINE_UPDATE=1 to settle them anew.
const (
	naturalFile  = "testdata/natural.csv"
	naturalCount = 12 // soils of each effect, the same ones
)

var naturalTimes = []float64{60, 1200, 7200, 28800, 172800}

func settleNatural(e column.Effect, i int) (simJar, error) {
	r := rand.New(rand.NewPCG(uint64(2*i), 1999))
	s := column.Random(r)
	mix := s.Mix()
	s.Undergo(e)
	j := simJar{soil: Fractions{mix[0], mix[1], mix[2]}, depthMM: s.DepthMM, tempC: s.TempC, solidsGL: s.SolidsGL}
	extinction := 0.25 * math.Exp(r.NormFloat64())
	states, err := s.Settle(naturalTimes)
	for _, x := range states {
		j.photos = append(j.photos, simPhoto{x.TimeS, x.DepositTopMM, x.SandTopMM, x.SiltTopMM, 1 - math.Exp(-extinction*x.MidGL)})
	}
	return j, err
}

func naturalJars(t testing.TB) map[column.Effect][]simJar {
	t.Helper()
	f, err := os.Open(naturalFile)
	require.NoError(t, err)
	defer f.Close()
	r := csv.NewReader(f)
	r.Comment = '#'
	rows, err := r.ReadAll()
	require.NoError(t, err)
	out := map[column.Effect][]simJar{}
	for n, row := range rows[1:] {
		v := make([]float64, len(row))
		for k, text := range row[1:] {
			v[k], err = strconv.ParseFloat(text, 64)
			require.NoError(t, err)
		}
		e := column.Effect(row[0])
		if n%len(naturalTimes) == 0 {
			out[e] = append(out[e], simJar{soil: Fractions{v[0], v[1], v[2]}, depthMM: v[3], tempC: v[4], solidsGL: v[5]})
		}
		j := &out[e][len(out[e])-1]
		j.photos = append(j.photos, simPhoto{v[6], v[7], v[8], v[9], v[10]})
	}
	return out
}

func TestUpdateNatural(t *testing.T) {
	if os.Getenv("MUDLINE_UPDATE") == "" {
		t.Skip("set MUDLINE_UPDATE=1 to settle the jars of natural soils anew (some minutes)")
	}
	f, err := os.Create(naturalFile)
	require.NoError(t, err)
	defer f.Close()
	fmt.Fprintln(f, "# Simulated jars, settled by package texture/column with effects of real soils: true heights in mm, no reading error. Not measured.")
	fmt.Fprintln(f, "effect,sand,silt,clay,depth_mm,temp_c,solids_gl,time_s,deposit_top,sand_top,silt_top,cloud")
	for _, e := range append([]column.Effect{column.Plain}, column.Effects...) {
		for i := range naturalCount {
			j, err := settleNatural(e, i)
			require.NoError(t, err)
			for _, p := range j.photos {
				fmt.Fprintf(f, "%s,%.3f,%.3f,%.3f,%.3f,%.3f,%.3f,%.0f,%.3f,%.3f,%.3f,%.4f\n", e, j.soil.Sand, j.soil.Silt, j.soil.Clay,
					j.depthMM, j.tempC, j.solidsGL, p.timeS, p.top, p.sandTop, p.siltTop, p.cloud)
			}
		}
	}
}

// withSandLine reads the deposit's tops and the sand's line as good pictures would.
func withSandLine(j simJar, r *rand.Rand) ([]Observation, Setup) {
	tilt := 0.4 * r.NormFloat64()
	temp := j.tempC + 0.7*r.NormFloat64()
	var obs []Observation
	for _, p := range j.photos {
		own := 0.3 * r.NormFloat64()
		at := func(v, sd float64) *Height {
			if math.IsNaN(v) {
				return nil
			}
			return heightIn(j.depthMM, clamp(v+own+sd*r.NormFloat64(), 0, j.depthMM), math.Hypot(sd, 0.3))
		}
		o := Observation{ElapsedS: p.timeS, ElapsedSDS: 1, DepositTop: at(p.top, 0.7), SandTop: at(p.sandTop+tilt, 1.2)}
		cloud := clamp(p.cloud+0.05*r.NormFloat64(), 0, 1)
		o.Cloud = &cloud
		order(&o)
		obs = append(obs, o)
	}
	return obs, Setup{WaterDepthMM: j.depthMM, TempC: &temp, TempSDC: 1}
}

// TestNaturalSoils is the table of robustness: what real soils do and the model
// does not know must stay inside the intervals. Crumbs that shaking did not part
// are the exception where nothing was put in to part them: then the reading is
// told so, and widens.
func TestNaturalSoils(t *testing.T) {
	jars := naturalJars(t)
	for _, e := range append([]column.Effect{column.Plain}, column.Effects...) {
		t.Run(string(e), func(t *testing.T) { naturalSoils(t, e, jars[e]) })
	}
}

func naturalSoils(t *testing.T, e column.Effect, jars []simJar) {
	var s score
	var bias Fractions
	no := false
	for i, j := range jars {
		if i%everyNth != 0 {
			continue
		}
		obs, setup := withSandLine(j, rand.New(rand.NewPCG(uint64(i), 11)))
		if e == column.Aggregates {
			setup.Known.Dispersant = &no
		}
		r, err := Invert(obs, setup)
		require.NoError(t, err)
		s.add(j.soil, r)
		bias.Sand += r.Sand.Value - j.soil.Sand
		bias.Silt += r.Silt.Value - j.soil.Silt
		bias.Clay += r.Clay.Value - j.soil.Clay
	}
	n := float64(s.jars)
	t.Logf("%-15s bias %+.1f %+.1f %+.1f; %v", e, bias.Sand/n, bias.Silt/n, bias.Clay/n, &s)
	if e != column.Aggregates && everyNth == 1 {
		assert.GreaterOrEqual(t, s.coverage(), 0.85)
	}
}

func TestWithoutDispersantIsWider(t *testing.T) {
	no := false
	obs, setup := exact(usualTruth())
	unsaid := mustInvert(t, obs, setup)
	setup.Known.Dispersant = &no
	without := mustInvert(t, obs, setup)
	assert.Greater(t, without.Clay.High-without.Clay.Low, unsaid.Clay.High-unsaid.Clay.Low)
	assert.Greater(t, without.Clay.High, unsaid.Clay.High)
}
