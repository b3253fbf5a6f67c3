package imaging

import "math"

// LabOf converts an sRGB colour (0..255 each, fractions allowed) to CIE
// L*a*b* under D65. IEC 61966-2-1 for the transfer curve and primaries, CIE 15
// for L*a*b*.
func LabOf(r, g, b float32) (l, a, bb float32) {
	return labOfLight(linear(r), linear(g), linear(b))
}

// labOfLight is LabOf by linear light.
func labOfLight(lr, lg, lb float32) (l, a, bb float32) {
	x := (0.4124564*lr + 0.3575761*lg + 0.1804375*lb) / 0.95047
	y := 0.2126729*lr + 0.7151522*lg + 0.0721750*lb
	z := (0.0193339*lr + 0.1191920*lg + 0.9503041*lb) / 1.08883
	fx, fy, fz := labF(x), labF(y), labF(z)
	return 116*fy - 16, 500 * (fx - fy), 200 * (fy - fz)
}

// linearTable holds the sRGB curve at every half level, interpolated between.
var linearTable = func() (t [512]float32) {
	for i := range t {
		v := float64(i) / 2 / 255
		if v <= 0.04045 {
			t[i] = float32(v / 12.92)
		} else {
			t[i] = float32(math.Pow((v+0.055)/1.055, 2.4))
		}
	}
	return t
}()

// linear gives the light of an sRGB value; out of 0..255 counts as the nearer end.
func linear(v float32) float32 {
	if !(v > 0) {
		return 0
	}
	if v >= 255 {
		return 1
	}
	p := v * 2
	i := int(p)
	f := p - float32(i)
	return linearTable[i]*(1-f) + linearTable[i+1]*f
}

// labTable holds CIE's f(t) over 0..1.1, interpolated between.
const labSteps = 4096

var labTable = func() (t [labSteps + 2]float32) {
	for i := range t {
		v := float64(i) / labSteps * 1.1
		if v > 216.0/24389 {
			t[i] = float32(math.Cbrt(v))
		} else {
			t[i] = float32((24389.0/27*v + 16) / 116)
		}
	}
	return t
}()

func labF(v float32) float32 {
	p := v * (labSteps / 1.1)
	i := int(p)
	if i < 0 {
		return labTable[0]
	}
	if i > labSteps {
		return labTable[labSteps]
	}
	f := p - float32(i)
	return labTable[i]*(1-f) + labTable[i+1]*f
}
