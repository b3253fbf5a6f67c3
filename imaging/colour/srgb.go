package colour

import (
	"fmt"
	"math"
)

// Light is the linear light, 0 to 1, of an sRGB value of 0 to 1 (IEC 61966-2-1).
func Light(v float64) float64 {
	if v <= 0.04045 {
		return v / 12.92
	}
	return math.Pow((v+0.055)/1.055, 2.4)
}

// Level is the inverse of Light, in levels: 0 to 255, and beyond for more light than
// white's.
func Level(light float64) float64 {
	if light <= 0.0031308 {
		return 255 * 12.92 * light
	}
	return 255 * (1.055*math.Pow(light, 1/2.4) - 0.055)
}

// LightOf is Light of a level.
func LightOf(level uint8) float64 { return lightOf[level] }

var lightOf = func() (t [256]float64) {
	for i := range t {
		t[i] = Light(float64(i) / 255)
	}
	return t
}()

// halfLevels holds the light at every half level.
var halfLevels = func() (t [512]float32) {
	for i := range t {
		t[i] = float32(Light(float64(i) / 2 / 255))
	}
	return t
}()

// Linear is the light of a level with a fraction, by a table, interpolated between;
// out of 0..255 counts as the nearer end.
func Linear(level float32) float32 {
	if !(level > 0) {
		return 0
	}
	if level >= 255 {
		return 1
	}
	p := level * 2
	i := int(p)
	f := p - float32(i)
	return halfLevels[i]*(1-f) + halfLevels[i+1]*f
}

// Hex is linear light as "#rrggbb".
func Hex(light [3]float64) string {
	var b [3]uint8
	for k, v := range light {
		b[k] = uint8(min(Level(v), 255) + 0.5)
	}
	return fmt.Sprintf("#%02x%02x%02x", b[0], b[1], b[2])
}
