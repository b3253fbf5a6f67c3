package texture

import "math"

// QuartzDensity is the usual working value for soil mineral grains, kg/m3.
const QuartzDensity = 2650.0

// Fluid is what the settling laws need to know of water and grain.
type Fluid struct {
	KinematicM2S float64 // kinematic viscosity of the water, m2/s
	Excess       float64 // submerged specific gravity (rs-rw)/rw
}

// NewFluid returns the fluid for water at tempC (C) and grains of
// grainDensity (kg/m3).
func NewFluid(tempC, grainDensity float64) Fluid {
	rho := WaterDensity(tempC)
	return Fluid{
		KinematicM2S: ViscosityMPaS(tempC) * 1e-3 / rho,
		Excess:       (grainDensity - rho) / rho,
	}
}

// StokesMMS returns the settling velocity in mm/s of a sphere of diamUM
// micrometres: v = (rs-rw) g d^2 / (18 mu). Stokes 1851; good to particle
// Reynolds numbers of about 0.25 (ISO 13317), 65 um for quartz at 20 C.
func (f Fluid) StokesMMS(diamUM float64) float64 {
	d := diamUM * 1e-6
	return 1e3 * f.Excess * GravityMS2 * d * d / (18 * f.KinematicM2S)
}

// SettlingMMS returns the settling velocity in mm/s of a natural grain of
// diamUM micrometres, by Ferguson & Church 2004 (J. Sedim. Res. 74:933),
// w = R g D^2 / (C1 nu + sqrt(0.75 C2 R g D^3)) with C1 = 18 and C2 = 1.0 for
// natural sand. It tends to Stokes' law for fine grains.
func (f Fluid) SettlingMMS(diamUM float64) float64 {
	d := diamUM * 1e-6
	rg := f.Excess * GravityMS2
	return 1e3 * rg * d * d / (18*f.KinematicM2S + math.Sqrt(0.75*rg*d*d*d))
}

// DiameterUM returns the diameter in micrometres of the grain that settles at
// velocity mm/s by SettlingMMS: its inverse, by Newton steps on the law itself.
func (f Fluid) DiameterUM(velocityMMS float64) float64 {
	if velocityMMS <= 0 {
		return 0
	}
	rg := f.Excess * GravityMS2
	d := math.Sqrt(velocityMMS*1e-3*18*f.KinematicM2S/rg) * 1e6
	for range 60 {
		v := f.SettlingMMS(d)
		slope := (f.SettlingMMS(d*1.001) - v) / (d * 0.001)
		step := (velocityMMS - v) / slope
		d += step
		if math.Abs(step) < 1e-10*d {
			break
		}
	}
	return d
}

// Reynolds returns the particle Reynolds number v d / nu of a grain of diamUM
// micrometres falling at velocity mm/s.
func (f Fluid) Reynolds(diamUM, velocityMMS float64) float64 {
	return velocityMMS * 1e-3 * diamUM * 1e-6 / f.KinematicM2S
}
