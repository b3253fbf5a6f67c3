package texture

import (
	"math"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"
)

func TestSettlingVelocities(t *testing.T) {
	f := NewFluid(20, QuartzDensity)
	// Stokes and Ferguson & Church 2004 with natural sand's constants (18, 1.0),
	// m/s at 20 C, 2650 kg/m3: worked out from the published formulas apart from
	// this code.
	for _, c := range []struct{ um, stokes, natural float64 }{
		{2, 3.594e-6, 3.592e-6}, {5, 2.246e-5, 2.241e-5}, {20, 3.594e-4, 3.533e-4}, {50, 2.246e-3, 2.103e-3},
		{63, 3.566e-3, 3.252e-3}, {100, 8.985e-3, 7.531e-3}, {250, 5.616e-2, 3.184e-2}, {500, 0.2246, 7.109e-2},
		{1000, 0.8985, 0.1264}, {2000, 3.594, 0.1966},
	} {
		assert.InEpsilon(t, c.stokes, f.StokesMMS(c.um)/1e3, 4e-4, "Stokes, %v um", c.um)
		assert.InEpsilon(t, c.natural, f.SettlingMMS(c.um)/1e3, 4e-4, "natural sand, %v um", c.um)
	}
	assert.InDelta(t, 0.11, f.Reynolds(50, f.StokesMMS(50)), 0.005)
}

func TestPipetteTimes(t *testing.T) {
	seconds := func(d time.Duration) float64 { return d.Seconds() }
	fall := func(tc, rs, um float64) float64 { return 100 / NewFluid(tc, rs).StokesMMS(um) }
	// BS 1377-2:1990 9.7, pipette sheet: D[mm] = 0.005531 sqrt(mu H / ((rs-1) t)).
	bs := func(tc, um float64) float64 {
		return 60 * ViscosityMPaS(tc) * 100 / 1.65 * math.Pow(0.005531/(um*1e-3), 2)
	}
	for _, tc := range []float64{15, 20, 25, 30} {
		for _, um := range []float64{2, 6, 20, 50, 60} {
			assert.InEpsilon(t, bs(tc, um), fall(tc, QuartzDensity, um), 4e-3, "%v C, %v um", tc, um)
		}
	}
	for _, c := range []struct {
		source   string
		tc, um   float64
		want     time.Duration
		relative float64
	}{
		{"computed from Stokes' law with IAPWS viscosity", 15, 2, 8*time.Hour + 46*time.Minute + 59*time.Second, 2e-4},
		{"computed from Stokes' law with IAPWS viscosity", 20, 2, 7*time.Hour + 43*time.Minute + 44*time.Second, 2e-4},
		{"computed from Stokes' law with IAPWS viscosity", 30, 2, 6*time.Hour + 8*time.Minute + 32*time.Second, 2e-4},
		{"computed from Stokes' law with IAPWS viscosity", 20, 20, 4*time.Minute + 38*time.Second, 2e-3},
		{"ISO 11277 table, from memory", 20, 2, 7*time.Hour + 44*time.Minute + 16*time.Second, 2e-3},
		{"BS 1377-2:1990 table, from memory", 25, 2, 6*time.Hour + 54*time.Minute, 6e-3},
		{"BS 1377-2:1990 table, from memory", 25, 6, 46 * time.Minute, 6e-3},
		{"BS 1377-2:1990 table, from memory", 25, 20, 4*time.Minute + 5*time.Second, 1e-2},
	} {
		assert.InEpsilon(t, seconds(c.want), fall(c.tc, QuartzDensity, c.um), c.relative, "%s: %v C, %v um", c.source, c.tc, c.um)
	}
	// Micro-pipette method (abstract): 2.5 cm at about 2 h for 2 um.
	assert.InDelta(t, 2, fall(20, QuartzDensity, 2)/4/3600, 0.1)
}

func TestSettlingProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		tc := rapid.Float64Range(1, 40).Draw(t, "temp")
		um := rapid.Float64Range(0.05, 1900).Draw(t, "diameter")
		f := NewFluid(tc, QuartzDensity)
		assert.Greater(t, f.SettlingMMS(um*1.05), f.SettlingMMS(um), "finer settles later")
		assert.Greater(t, NewFluid(tc+1, QuartzDensity).SettlingMMS(um), f.SettlingMMS(um), "warmer settles faster")
		assert.LessOrEqual(t, f.SettlingMMS(um), f.StokesMMS(um), "the sand law never beats Stokes")
		assert.InEpsilon(t, um, f.DiameterUM(f.SettlingMMS(um)), 1e-6, "the inverse")
	})
	f := NewFluid(20, QuartzDensity)
	assert.InEpsilon(t, f.StokesMMS(0.1), f.SettlingMMS(0.1), 1e-4, "the sand law tends to Stokes")
	assert.Zero(t, f.DiameterUM(0))
}

func TestHindrance(t *testing.T) {
	// Factors and times of 50 um through 12 cm at 20 C, worked out from (1-c)^n.
	f := NewFluid(20, QuartzDensity)
	for _, c := range []struct{ c, f465, f56, s float64 }{
		{0.0038, 0.982, 0.979, 54}, {0.019, 0.915, 0.898, 58}, {0.05, 0.788, 0.750, 68},
		{0.10, 0.61, 0.55, 87}, {0.145, 0.48, 0.42, 111}, {0.22, 0.32, 0.25, 170},
	} {
		assert.InDelta(t, c.f465, Hindrance(c.c, StokesExponent), 0.006, "c %v", c.c)
		assert.InDelta(t, c.f56, Hindrance(c.c, ReviewExponent), 0.006, "c %v", c.c)
		assert.InEpsilon(t, c.s, 120/(f.StokesMMS(50)*Hindrance(c.c, StokesExponent)), 0.015, "c %v", c.c)
	}
	assert.Equal(t, 1.0, Hindrance(-0.1, 5))
	assert.Zero(t, Hindrance(1.2, 5))
}

// TestHydrometerConstants: K of ASTM D422, table 3, for grains of 2.65 (from
// memory), D[mm] = K sqrt(L[cm] / T[min]). The viscosities it was reckoned with are
// up to 0.7 % above today's.
func TestHydrometerConstants(t *testing.T) {
	for tempC, k := range map[float64]float64{16: 0.01435, 18: 0.01399, 20: 0.01365, 22: 0.01332, 24: 0.01301, 26: 0.01272, 28: 0.01244, 30: 0.01217} {
		const um = 20.0
		mmS := math.Pow(um/1000/k, 2) * 10 / 60
		assert.InEpsilon(t, mmS, NewFluid(tempC, QuartzDensity).StokesMMS(um), 8e-3, "%g C", tempC)
	}
}

// TestHydrometerExample is the clay loam worked by ASTM D422 with a 152H hydrometer
// whose result the R package envalysis prints (read there): sizes in mm and the
// share that passes, and the classes fitted to them: clay 0.318 +- 0.013, silt 0.429
// +- 0.023, sand 0.254 +- 0.010. Read off the same points, evenly in the logarithm
// of size as the program reads its own grain curve, sand is that.
func TestHydrometerExample(t *testing.T) {
	sizes := []float64{51.55, 31.02, 20.19, 12.14, 8.64, 6.18, 3.61}
	passing := []float64{0.754, 0.634, 0.554, 0.434, 0.414, 0.374, 0.334}
	finer := func(um float64) float64 {
		if um >= 2000 {
			return 1
		}
		for i, s := range sizes {
			if um < s && i+1 < len(sizes) {
				continue
			}
			if um >= s && i == 0 { // up to the sieve of 2 mm
				return passing[0] + (1-passing[0])*math.Log(um/s)/math.Log(2000/s)
			}
			j := max(i, 1)
			return passing[j] + (passing[j-1]-passing[j])*math.Log(um/sizes[j])/math.Log(sizes[j-1]/sizes[j])
		}
		return 0
	}
	var j jar
	for i := range sandClasses + siltClasses {
		j.grainShares[i] = finer(grainEdgesUM[i]) - finer(grainEdgesUM[i+1])
	}
	assert.InDelta(t, 0.254, sandAbove(&j.grainShares, 50), 0.010)
	class, err := ClassOf(Fractions{25.3, 42.9, 31.8}, USDA)
	assert.NoError(t, err)
	assert.Equal(t, "clay loam", class)
	// With silt to 63 um the same soil has 20.7, 47.6 and 31.8: less sand, more silt.
	class, err = ClassOf(Fractions{20.65, 47.55, 31.8}, German)
	assert.NoError(t, err)
	assert.Equal(t, "schwach toniger Lehm", class)
}
