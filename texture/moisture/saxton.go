// Package moisture says what soil of a texture does with water: how much it
// holds for plants, how fast it takes water in, and how long a bed lasts
// between waterings.
//
// Water contents are percent by volume of the soil below 2 mm, depths of water
// and of soil millimetres, rates mm/h or mm a day, tensions kPa.
package moisture

import (
	"errors"
	"fmt"
	"math"

	"mudline/texture"
)

// Water is what a soil holds and how fast it lets water through.
type Water struct {
	// WiltingPoint is held at 1500 kPa, FieldCapacity at 33 kPa, Saturation
	// when all pores are full: percent by volume.
	WiltingPoint, FieldCapacity, Saturation float64
	// AirEntryKPa is the tension at which a full soil begins to let air in.
	AirEntryKPa float64
	// A (kPa) and B describe the tension between field capacity and wilting
	// point: A times the water content, as a fraction, to the power of -B.
	A, B float64
	// ConductivityMMH is the saturated conductivity in mm/h: how fast water
	// passes through soil that is full. It is not an infiltration rate.
	ConductivityMMH float64
	// DensityGCM3 is the density of the dry soil in place, g/cm3.
	DensityGCM3 float64
}

// Available is the water plants can take, percent by volume.
func (w Water) Available() float64 { return w.FieldCapacity - w.WiltingPoint }

// The soils that Saxton & Rawls fitted their equations to hold less clay and
// less organic matter than this, in percent by weight.
const (
	MaxClay    = 60.0
	MaxOrganic = 8.0
)

// leastPart is the least wilting point and the least share of large pores, as
// fractions, that is still reckoned with: the equations fall below nothing for
// sand without any clay or humus, and for sandy clay full of humus.
const leastPart = 0.005

// ErrBeyond marks soils outside what the equations were fitted to. The values
// that come with it are finite, and those of the nearest soil within.
var ErrBeyond = errors.New("outside the soils that Saxton & Rawls (2006) describe")

// SaxtonRawls returns the water of a soil with organic matter in percent by
// weight, by Saxton & Rawls (2006), Soil Sci. Soc. Am. J. 70:1569-1578, table 1
// (coefficients from memory; they reproduce all of the paper's table 3).
// Beyond MaxClay or MaxOrganic the error is an ErrBeyond and the values hold at
// the limit; any other error comes without values.
func SaxtonRawls(f texture.Fractions, organic float64) (Water, error) {
	if _, err := texture.ClassOf(f, texture.USDA); err != nil {
		return Water{}, err
	}
	if !(organic >= 0 && organic <= 100) {
		return Water{}, fmt.Errorf("organic matter %.4g %% is outside 0 to 100 %% by weight", organic)
	}
	var beyond error
	if f.Clay > MaxClay {
		beyond = fmt.Errorf("clay %.3g %% is above %g %%: %w", f.Clay, MaxClay, ErrBeyond)
		f = atMostClay(f)
	}
	if organic > MaxOrganic {
		beyond = errors.Join(beyond, fmt.Errorf("organic matter %.3g %% is above %g %%: %w", organic, MaxOrganic, ErrBeyond))
		organic = MaxOrganic
	}
	w, floored := equations(f.Sand/100, f.Clay/100, organic)
	if floored {
		beyond = errors.Join(beyond, fmt.Errorf("sand %.3g %%, clay %.3g %%, organic matter %.3g %%: %w", f.Sand, f.Clay, organic, ErrBeyond))
	}
	return w, beyond
}

// atMostClay is the soil with clay cut to MaxClay, sand and silt in proportion.
func atMostClay(f texture.Fractions) texture.Fractions {
	rest := 100 - MaxClay
	if f.Sand+f.Silt < 1e-9 { // nothing to go by, and the ratio would not be finite
		return texture.Fractions{Sand: rest / 2, Silt: rest / 2, Clay: MaxClay}
	}
	k := rest / (f.Sand + f.Silt)
	return texture.Fractions{Sand: k * f.Sand, Silt: k * f.Silt, Clay: MaxClay}
}

const (
	wiltingKPa  = 1500.0
	capacityKPa = 33.0
	grainGCM3   = 2.65
)

// equations are numbers 1 to 6, 15, 16 and 18 of the paper; s and c are
// fractions, om percent. They say whether a value had to be held at leastPart.
func equations(s, c, om float64) (w Water, floored bool) {
	first := -0.024*s + 0.487*c + 0.006*om + 0.005*s*om - 0.013*c*om + 0.068*s*c + 0.031
	wilting := first + (0.14*first - 0.02)
	first = -0.251*s + 0.195*c + 0.011*om + 0.006*s*om - 0.027*c*om + 0.452*s*c + 0.299
	capacity := first + (1.283*first*first - 0.374*first - 0.015)
	large := largePores(s, c, om)
	full := capacity + large - 0.097*s + 0.043
	floored = wilting < leastPart || capacity-wilting < leastPart || full-capacity < leastPart
	wilting = math.Max(wilting, leastPart)
	capacity = math.Max(capacity, wilting+leastPart)
	full = math.Max(full, capacity+leastPart)

	w.B = (math.Log(wiltingKPa) - math.Log(capacityKPa)) / (math.Log(capacity) - math.Log(wilting))
	w.A = math.Exp(math.Log(capacityKPa) + w.B*math.Log(capacity))
	w.WiltingPoint, w.FieldCapacity, w.Saturation = 100*wilting, 100*capacity, 100*full
	w.AirEntryKPa = math.Max(0, airEntry(s, c, large)) // sands come out below 0
	w.ConductivityMMH = 1930 * math.Pow(full-capacity, 3-1/w.B)
	w.DensityGCM3 = (1 - full) * grainGCM3
	return w, floored
}

// largePores is the water between saturation and field capacity, before the
// paper's correction for sand.
func largePores(s, c, om float64) float64 {
	first := 0.278*s + 0.034*c + 0.022*om - 0.018*s*om - 0.027*c*om - 0.584*s*c + 0.078
	return first + (0.636*first - 0.107)
}

func airEntry(s, c, large float64) float64 {
	first := -21.67*s - 27.93*c - 81.97*large + 71.12*s*large + 8.29*c*large + 14.05*s*c + 27.16
	return first + (0.02*first*first - 0.113*first - 0.70)
}
