package texture

import "math"

// GravityMS2 is standard gravity, m/s2.
const GravityMS2 = 9.80665

// Water temperatures the package accepts, C: liquid water a jar may hold.
const (
	MinTempC = 0.0
	MaxTempC = 45.0
)

// ViscosityMPaS returns the dynamic viscosity of water in mPa.s at tempC,
// by the correlation of IAPWS SR6-08(2011) for liquid water at 0.1 MPa
// (valid 253.15 to 383.15 K).
func ViscosityMPaS(tempC float64) float64 {
	t := (tempC + 273.15) / 300
	return 1e-3 * (280.68*math.Pow(t, -1.9) + 511.45*math.Pow(t, -7.7) +
		61.131*math.Pow(t, -19.6) + 0.45903*math.Pow(t, -40))
}

// WaterDensity returns the density of air-free water in kg/m3 at tempC,
// 0 to 40 C, by Tanaka et al. 2001, Metrologia 38:301.
func WaterDensity(tempC float64) float64 {
	d := tempC - 3.983035
	return 999.97495 * (1 - d*d*(tempC+301.797)/(522528.9*(tempC+69.34881)))
}
