package texture

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/stat"
)

// Systematic resampling takes each sample as often as its weight says, rounded
// up or down (Kitagawa 1996).
func TestPickTakesEachByItsWeight(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 1))
	s := make([]sample, 50)
	sum := 0.0
	for i := range s {
		s[i].weight = math.Pow(r.Float64(), 4)
		sum += s[i].weight
	}
	for i := range s {
		s[i].weight /= sum
	}
	picked := pick(s, cloudSoils)
	require.Len(t, picked, cloudSoils)
	for i := range s {
		n := 0
		for _, p := range picked {
			if p == i {
				n++
			}
		}
		assert.InDelta(t, cloudSoils*s[i].weight, n, 1, "sample %d", i)
	}
}

// The quantiles of the cloud, by gonum/stat, are the estimates themselves.
func TestTheCloudHasTheSpreadOfTheEstimates(t *testing.T) {
	r := mustInvert(t, threePhotos(), usualSetup())
	require.Len(t, r.Soils, cloudSoils)
	clay := make([]float64, len(r.Soils))
	for i, f := range r.Soils {
		assert.InDelta(t, 100, f.Sum(), 1e-6)
		assert.InDelta(t, f.Sand, r.SoilsAt50UM[i].Sand, 1e-9, "USDA silt ends at 50 um")
		clay[i] = f.Clay
	}
	slices.Sort(clay)
	at := func(p float64) float64 { return stat.Quantile(p, stat.Empirical, clay, nil) }
	assert.InDelta(t, r.Clay.Low, at(0.05), 1.5)
	assert.InDelta(t, r.Clay.Value, at(0.5), 1.5)
	assert.InDelta(t, r.Clay.High, at(0.95), 1.5)
}

// What is expected is told from 10 s to two days, or half as long again as the last photo,
// in even steps of the logarithm of time, eight to a decade at least; no line lies above
// the next, nor any above the water.
func TestExpectedRunsEvenly(t *testing.T) {
	for _, last := range []float64{86400, 30 * 86400} {
		obs := threePhotos()
		obs[2].ElapsedS = last
		s := usualSetup()
		s.Quick = true
		e := mustInvert(t, obs, s).Expected
		until := math.Max(2*86400, 1.5*last)
		assert.InDelta(t, 10, e[0].ElapsedS, 1e-9)
		assert.InDelta(t, until, e[len(e)-1].ElapsedS, 1e-6*until)
		step := e[1].ElapsedS / e[0].ElapsedS
		assert.LessOrEqual(t, step, math.Pow(10, 1.0/8)+1e-9)
		assert.Greater(t, step, math.Pow(10, 1.0/9))
		for i := range e {
			assert.InDelta(t, 10*math.Pow(step, float64(i)), e[i].ElapsedS, 1e-6*e[i].ElapsedS)
			assert.LessOrEqual(t, e[i].SandTop.Value, e[i].SiltTop.Value+1e-9)
			assert.LessOrEqual(t, e[i].SiltTop.Value, e[i].DepositTop.Value+1e-9)
			assert.Less(t, e[i].DepositTop.High, 1.0)
		}
	}
}

func TestTheInternationalCloudKeepsBothLimits(t *testing.T) {
	s := usualSetup()
	s.System = International
	r := mustInvert(t, threePhotos(), s)
	for i, f := range r.Soils {
		assert.Greater(t, f.Sand, r.SoilsAt50UM[i].Sand, "20 to 50 um is sand by one limit, silt by the other")
		assert.InDelta(t, f.Clay, r.SoilsAt50UM[i].Clay, 1e-9)
	}
}

// expectedAt interpolates the middle of a line.
func expectedAt(e []Expected, timeS float64, of func(Expected) Estimate) float64 {
	for i := 1; i < len(e); i++ {
		if e[i].ElapsedS >= timeS {
			a, b := e[i-1], e[i]
			f := math.Log(timeS/a.ElapsedS) / math.Log(b.ElapsedS/a.ElapsedS)
			return of(a).Value + f*(of(b).Value-of(a).Value)
		}
	}
	return math.NaN()
}

// Photos of a column settled by the independent numerical model: the expected
// lines pass where its lines truly are, at the photos and between them.
func TestExpectedFollowsASettlingColumn(t *testing.T) {
	jars := loadJars(t, simulatedFile)
	tried := 0
	for _, j := range jars {
		if len(j.photos) < 5 || tried == 6 {
			continue
		}
		tried++
		obs := make([]Observation, 0, len(j.photos))
		for k, p := range j.photos {
			if k == 2 { // kept back
				continue
			}
			obs = append(obs, Observation{ElapsedS: p.timeS, ElapsedSDS: 1, DepositTop: heightIn(j.depthMM, p.top, 0.5)})
		}
		r := mustInvert(t, obs, Setup{WaterDepthMM: j.depthMM, TempC: &j.tempC})
		for k, p := range j.photos {
			got := expectedAt(r.Expected, p.timeS, func(e Expected) Estimate { return e.DepositTop })
			assert.InDelta(t, p.top, got*j.depthMM, 1+0.04*p.top, "photo %d, kept back: %v", k, k == 2)
		}
	}
	require.Equal(t, 6, tried)
}

func TestExpectedInAWideningJarIsInItsOwnHeights(t *testing.T) {
	walls := Profile{{0, 1}, {125, 1.3}}
	s := usualSetup()
	s.Walls = walls
	pr := newProblem(threePhotos(), s)
	straight := walls.straighten(125)
	for _, z := range []float64{1, 20, 60, 124} {
		mm, _ := straight(z)
		assert.InDelta(t, z/125, pr.shown(walls)(mm), 1e-8)
	}
}
