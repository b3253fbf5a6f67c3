package texture

import (
	"encoding/csv"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"strconv"
	"testing"

	"github.com/stretchr/testify/require"

	"mudline/texture/column"
)

// testdata/simulated.csv holds jars settled by package column: one row per
// photo with true, noiseless heights. They are simulated, not measured. Set
// MUDLINE_UPDATE=1 to settle them anew.
// testdata/rendered.csv holds, in the same form, the true heights of jars whose
// pictures were rendered, as those of testdata/jars: their settling was computed by the
// program that rendered them, which shares nothing with this one and is not at hand.
const (
	simulatedFile  = "testdata/simulated.csv"
	renderedFile   = "testdata/rendered.csv"
	simulatedCount = 240
)

// simPhoto is a simulated jar at one moment; NaN where a boundary is absent.
type simPhoto struct{ timeS, top, sandTop, siltTop, cloud float64 }

type simJar struct {
	soil                     Fractions
	depthMM, tempC, solidsGL float64
	photos                   []simPhoto
}

// schedule draws the times of a person who means well: about a minute, about
// two hours, about two days, sometimes more or fewer.
func schedule(r *rand.Rand) []float64 {
	about := func(t, ratio float64) float64 { return math.Round(t * math.Pow(ratio, 2*r.Float64()-1)) }
	end := about(165000, 1.25)
	switch p := r.Float64(); {
	case p < 0.10:
		return []float64{end}
	case p < 0.18:
		return []float64{about(70, 1.5), end}
	case p < 0.75:
		return []float64{about(64, 1.5), about(7300, 1.2), end}
	case p < 0.88:
		return []float64{about(45, 1.3), about(600, 1.3), about(3600, 1.3), about(8000, 1.2), end}
	}
	return []float64{about(40, 1.2), about(120, 1.3), about(600, 1.3), about(3600, 1.3), about(8000, 1.2), about(86400, 1.1), end}
}

// settleSimulated makes the i-th simulated jar with the numerical column.
func settleSimulated(i int) (simJar, error) {
	r := rand.New(rand.NewPCG(uint64(i), 1916))
	var s column.Soil
	var soil Fractions
	for names := ClassNames(USDA); ; { // the classes in turn, evenly inside each
		s = column.Random(r)
		mix := s.Mix()
		soil = Fractions{mix[0], mix[1], mix[2]}
		if name, err := ClassOf(soil, USDA); err != nil || name == names[i%len(names)] {
			break
		}
	}
	j := simJar{soil: soil, depthMM: s.DepthMM, tempC: s.TempC, solidsGL: s.SolidsGL}
	times := schedule(r)
	extinction := 0.25 * math.Exp(r.NormFloat64())
	states, err := s.Settle(times)
	for _, x := range states {
		j.photos = append(j.photos, simPhoto{x.TimeS, x.DepositTopMM, x.SandTopMM, x.SiltTopMM, 1 - math.Exp(-extinction*x.MidGL)})
	}
	return j, err
}

func loadJars(t testing.TB, file string) []simJar {
	t.Helper()
	f, err := os.Open(file)
	require.NoError(t, err)
	defer f.Close()
	r := csv.NewReader(f)
	r.Comment = '#'
	rows, err := r.ReadAll()
	require.NoError(t, err)
	var out []simJar
	last := -1
	for _, row := range rows[1:] {
		v := make([]float64, len(row))
		for k, text := range row {
			v[k], err = strconv.ParseFloat(text, 64)
			require.NoError(t, err)
		}
		if int(v[0]) != last {
			last = int(v[0])
			out = append(out, simJar{soil: Fractions{v[1], v[2], v[3]}, depthMM: v[4], tempC: v[5], solidsGL: v[6]})
		}
		j := &out[len(out)-1]
		j.photos = append(j.photos, simPhoto{v[7], v[8], v[9], v[10], v[11]})
	}
	return out
}

func TestUpdateSimulated(t *testing.T) {
	if os.Getenv("MUDLINE_UPDATE") == "" {
		t.Skip("set MUDLINE_UPDATE=1 to settle the simulated jars anew (about a minute)")
	}
	f, err := os.Create(simulatedFile)
	require.NoError(t, err)
	defer f.Close()
	fmt.Fprintln(f, "# Simulated jars, settled by package texture/column (seeds 0 and up): true heights in mm, no reading error. Not measured.")
	fmt.Fprintln(f, "jar,sand,silt,clay,depth_mm,temp_c,solids_gl,time_s,deposit_top,sand_top,silt_top,cloud")
	for i := range simulatedCount {
		j, err := settleSimulated(i)
		require.NoError(t, err)
		for _, p := range j.photos {
			fmt.Fprintf(f, "%d,%.3f,%.3f,%.3f,%.3f,%.3f,%.3f,%.0f,%.3f,%.3f,%.3f,%.4f\n", i, j.soil.Sand, j.soil.Silt, j.soil.Clay,
				j.depthMM, j.tempC, j.solidsGL, p.timeS, p.top, p.sandTop, p.siltTop, p.cloud)
		}
	}
}
