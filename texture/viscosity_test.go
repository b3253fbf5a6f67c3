package texture

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"
)

func TestViscosityAgainstPublishedTables(t *testing.T) {
	// Perry's Handbook 9th ed. Table 2-135, saturated water, uPa.s.
	for tk, want := range map[float64]float64{273.16: 1791.2, 280: 1433.7, 290: 1084.0, 300: 853.84, 310: 693.54} {
		assert.InEpsilon(t, want, 1e3*ViscosityMPaS(tk-273.15), 4e-4, "at %v K", tk)
	}
	// Check value of IAPWS SR6-08(2011), table 3: 298.15 K, 889.9968 uPa.s.
	assert.InDelta(t, 889.9968, 1e3*ViscosityMPaS(25), 5e-4)
	// An engineering table of water (host.engineersedge.com), mPa.s.
	for tc, want := range map[float64]float64{0: 1.787, 5: 1.519, 10: 1.307, 20: 1.002, 30: 0.798, 40: 0.653} {
		assert.InEpsilon(t, want, ViscosityMPaS(tc), 3e-3, "at %v C", tc)
	}
}

// People are told that each degree changes settling times by about 2.4 %: they go with the
// viscosity. Perry's Handbook, as above: 1084.0 at 16.85 C, 853.84 at 26.85 C.
func TestADegreeOfTemperature(t *testing.T) {
	assert.InDelta(t, 2.4, 100*math.Log(1084.0/853.84)/10, 0.05, "by the table")
	for tc := 17.0; tc <= 25; tc++ { // a room
		assert.InDelta(t, 2.4, 100*(ViscosityMPaS(tc-0.5)/ViscosityMPaS(tc+0.5)-1), 0.25, "at %v C", tc)
	}
}

func TestDensityAgainstPublishedTable(t *testing.T) {
	// Encyclopedia of Environmental Science and Engineering, appendix table 2, g/cm3.
	for tc, want := range map[float64]float64{15: 0.99913, 20: 0.99823, 25: 0.99707} {
		assert.InDelta(t, want, WaterDensity(tc)/1000, 3e-5, "at %v C", tc)
	}
}

func TestWarmWaterIsThinner(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		tc := rapid.Float64Range(MinTempC, MaxTempC-1).Draw(t, "temp")
		assert.Less(t, ViscosityMPaS(tc+1), ViscosityMPaS(tc))
	})
}
