package column

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// logUniform spreads share evenly over log diameter, lo to hi um, n classes.
func logUniform(lo, hi, share float64, n, kind int) []Component {
	return lognormal(lo, hi, math.Sqrt(lo*hi), 1e6, n, kind, share)
}

// loam is 40/40/20 with log-uniform classes: the soil of the checks below.
func loam(solidsGL float64) Soil {
	s := Soil{DepthMM: 150, TempC: 20, SolidsGL: solidsGL, GrainDensity: 2650, Exponent: 4.65,
		Weights: [3]float64{1554, 1121, 416}, SqueezeS: 1}
	s.Parts = logUniform(50, 2000, 0.4, 16, 0)
	s.Parts = append(s.Parts, logUniform(2, 50, 0.4, 24, 1)...)
	s.Parts = append(s.Parts, logUniform(0.2, 2, 0.2, 12, 2)...)
	return s
}

// TestRecipesOfSettledMass checks what plain recipes read in a dilute jar, by
// layers of settled mass: worked out from Oden's theory apart from this code,
// for soil 40/40/20, 15 cm, 20 C.
func TestRecipesOfSettledMass(t *testing.T) {
	for _, c := range []struct {
		times [3]float64
		want  [3]float64
	}{
		{[3]float64{60, 7200, 172800}, [3]float64{50.4, 32.6, 17.0}},
		{[3]float64{60, 21600, 86400}, [3]float64{52.1, 40.8, 7.2}},
		{[3]float64{120, 7200, 172800}, [3]float64{55.2, 27.8, 17.0}},
	} {
		s := loam(0.5)
		st, err := s.Settle(c.times[:])
		require.NoError(t, err)
		a, b, all := st[0].DepositMass, st[1].DepositMass, st[2].DepositMass
		for k, got := range []float64{a, b - a, all - b} {
			assert.InDelta(t, c.want[k], 100*got/all, 0.8, "times %v, layer %d", c.times, k)
		}
	}
}

func TestMassIsConserved(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 5))
	for range 2 {
		s := Random(r)
		st, err := s.Settle([]float64{30, 600, 20000})
		require.NoError(t, err)
		total := s.SolidsGL * s.DepthMM / 1000
		for _, x := range st {
			assert.InEpsilon(t, total, x.DepositMass+x.SuspendedGL*s.DepthMM/1000, 1e-6, "at %v s", x.TimeS)
		}
	}
}

func TestCrowdingSlows(t *testing.T) {
	free, crowded := loam(300), loam(300)
	free.Exponent = 0
	a, err := free.Settle([]float64{60})
	require.NoError(t, err)
	b, err := crowded.Settle([]float64{60})
	require.NoError(t, err)
	assert.Less(t, b[0].DepositMass, 0.97*a[0].DepositMass)
}

func TestNothingToSettle(t *testing.T) {
	_, err := (&Soil{}).Settle([]float64{1})
	assert.Error(t, err)
}

// A jar of one kind of grain, all of it down, is as high as its mass by its unit weight; one
// of clay that gains weight by a law of growth is lower by just that, and no clay gains none.
func TestABedLiesByItsWeight(t *testing.T) {
	one := func(kind int, um, squeeze, when float64) float64 {
		s := loam(100)
		s.DepthMM, s.Parts = 60, []Component{{DiameterUM: um, Kind: kind, Share: 1}}
		s.Squeeze, s.SqueezeS = squeeze, 20000
		st, err := s.Settle([]float64{when})
		require.NoError(t, err)
		require.InEpsilon(t, 6, st[0].DepositMass, 1e-3, "all of 100 g/L of 60 mm is down, kg/m2")
		return st[0].DepositTopMM
	}
	const day = 86400.0
	assert.InEpsilon(t, 6000/1554.0, one(0, 300, 0.5, day), 0.01)
	assert.InEpsilon(t, 6000/1121.0, one(1, 30, 0.5, day), 0.01)
	assert.InEpsilon(t, 6000/416.0, one(2, 30, 0, day), 0.01)
	gained := 1 + 0.5*(1-math.Exp(-day/20000)) // the grains of 30 um fall for minutes alone
	assert.InEpsilon(t, 6000/(416*gained), one(2, 30, 0.5, day), 0.01)
	assert.InEpsilon(t, 6000/(416*1.5), one(2, 30, 0.5, 20*day), 0.01)
}

// The rules of packing bracket each other: a mixture lies as its parts by themselves at
// the loosest, and where fines fill pores all of it is heavier than the mean of its weights
// allows for layers.
func TestRulesOfPacking(t *testing.T) {
	s := loam(300)
	mass := [3]float64{0.4, 0.4, 0.2}
	by := func(p Packing) float64 { s.Packing = p; return s.weight(mass, 1) }
	layered := 1 / (0.4/1554 + 0.4/1121 + 0.2/416)
	assert.InDelta(t, layered, by(Layered), 1e-9)
	assert.InDelta(t, 0.4*1554+0.4*1121+0.2*416, by(Weighted), 1e-9)
	// 0.65 of what the pores of sand and of silt hold is saved, here the pores themselves.
	saved := 0.65 * (0.4*(1/1554.0-1/2650.0) + 0.4*(1/1121.0-1/2650.0))
	assert.InDelta(t, 1/(1/layered-saved), by(PoreFills), 1e-9)
	assert.InDelta(t, 416*1.3, s.weight([3]float64{0, 0, 1}, 1.3), 1e-9)
	assert.InDelta(t, 416*1.3, s.weight([3]float64{}, 1.3), 1e-9)
}

// What an effect does to a soil: its parts still make one, in the shares that are stated.
func TestEffects(t *testing.T) {
	for i := range uint64(6) {
		for _, e := range Effects {
			plain, s := Random(rand.New(rand.NewPCG(i, 3))), Random(rand.New(rand.NewPCG(i, 3)))
			was := plain.Mix()
			s.Undergo(e)
			is, sum := s.Mix(), 0.0
			for _, p := range s.Parts {
				sum += p.Share
			}
			whole, want := 1.0, was
			switch e {
			case Aggregates: // crumbs of clay fall like silt, of silt like sand
				want = [3]float64{was[0] + 0.15*was[1], 0.85*was[1] + 0.3*was[2], 0.7 * was[2]}
			case Gravel:
				want = [3]float64{0.92*was[0] + 8, 0.92 * was[1], 0.92 * was[2]}
			case Organic: // a twentieth of the mass, that takes up the room of clay at 300 kg/m3
				room := 5 * plain.Weights[2] / 300
				whole, want = (95+room)/100, [3]float64{0.95 * was[0], 0.95 * was[1], 0.95*was[2] + room}
			}
			assert.InDelta(t, whole, sum, 1e-9, "%s", e)
			assert.InDeltaSlice(t, want[:], is[:], 1e-9, "%s", e)
			flocs := func(s Soil) (share float64) {
				for _, p := range s.Parts[len(s.Parts)-flocParts:] {
					share += p.Share
				}
				return share
			}
			if e == Dispersed {
				assert.InDelta(t, min(flocs(plain), 0.05*was[2]/100), flocs(s), 1e-9)
			}
			if e == LooseClay {
				bed := s.SolidsGL * (is[0]/s.Weights[0] + is[1]/s.Weights[1] + is[2]/250) / 100
				assert.LessOrEqual(t, bed, 0.55+1e-9, "fits under the water")
				assert.True(t, s.SolidsGL == plain.SolidsGL || bed > 0.549, "no less soil than that takes")
			}
		}
	}
}

// Grains of one size fall through the water that they displace as they do by the law of
// the whole suspension: the one is the other, (1-c)^n = (1-c) (1-c)^(n-1) (Richardson &
// Zaki 1954, of a closed vessel).
func TestOneSizeIsBorneAsItIsHindered(t *testing.T) {
	down := func(borne bool) float64 {
		s := loam(300)
		s.Parts, s.Borne = []Component{{DiameterUM: 20, Kind: 1, Share: 1}}, borne
		st, err := s.Settle([]float64{250})
		require.NoError(t, err)
		return st[0].DepositMass / (0.300 * 150)
	}
	plain := down(false)
	assert.True(t, 0.2 < plain && plain < 0.8, "on its way: %g", plain)
	assert.InEpsilon(t, plain, down(true), 0.02)
}

// A grain of quartz of 2 um falls at 3.594e-6 m/s in water of 20 C (Stokes' law), and as the
// viscosity of water goes (IAPWS SR6-08: 1.3059 mPa.s at 10 C, 1.0016 at 20, 0.7972 at 30).
func TestVelocityOfClay(t *testing.T) {
	at := func(tempC float64) float64 {
		s := loam(1)
		s.TempC = tempC
		return s.velocity(2)
	}
	assert.InEpsilon(t, 3.594e-3, at(20), 5e-3)
	assert.InEpsilon(t, 1.0016/1.3059, at(10)/at(20), 2e-3)
	assert.InEpsilon(t, 1.0016/0.7972, at(30)/at(20), 3e-3)
}

// The boundary of two kinds is the lowest height from which on the upper one makes up more
// than half; a jar without one of them has none.
func TestCrossing(t *testing.T) {
	layers := func(shares ...float64) (l []layer, z []float64) {
		z = []float64{0}
		for _, s := range shares {
			l = append(l, layer{mass: [3]float64{1 - s, s, 0}})
			z = append(z, z[len(z)-1]+2)
		}
		return l, z
	}
	l, z := layers(0, 0.2, 0.4, 0.8, 1)
	assert.Equal(t, 6.0, crossing(l, z, 0, 1))
	l, z = layers(0, 0, 0, 0)
	assert.True(t, math.IsNaN(crossing(l, z, 0, 1)), "sand alone")
	l, z = layers(0, 0.8, 0.1, 0.1, 1)
	assert.Equal(t, 8.0, crossing(l, z, 0, 1), "a band of silt in the sand")
}
