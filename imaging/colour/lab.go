// Package colour holds the sRGB curve and CIELAB, once for the whole program.
package colour

import "math"

// Lab converts an sRGB colour (0..255 each, fractions allowed) to CIE
// L*a*b* under D65. IEC 61966-2-1 for the transfer curve and primaries, CIE 15
// for L*a*b*.
func Lab(r, g, b float32) (l, a, bb float32) {
	return LabOfLight(Linear(r), Linear(g), Linear(b))
}

// LabOfLight is Lab by linear light.
func LabOfLight(lr, lg, lb float32) (l, a, bb float32) {
	x := (0.4124564*lr + 0.3575761*lg + 0.1804375*lb) / 0.95047
	y := 0.2126729*lr + 0.7151522*lg + 0.0721750*lb
	z := (0.0193339*lr + 0.1191920*lg + 0.9503041*lb) / 1.08883
	fx, fy, fz := labF(x), labF(y), labF(z)
	return 116*fy - 16, 500 * (fx - fy), 200 * (fy - fz)
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

// Lightness is L* by the linear light of red, green and blue.
func Lightness(r, g, b float32) float32 {
	return 116*labF(0.2126729*r+0.7151522*g+0.0721750*b) - 16
}

// Distance is the CIELAB distance of two colours (CIE 1976).
func Distance(a, b [3]float64) float64 {
	return math.Sqrt((a[0]-b[0])*(a[0]-b[0]) + (a[1]-b[1])*(a[1]-b[1]) + (a[2]-b[2])*(a[2]-b[2]))
}
