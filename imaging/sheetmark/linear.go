package sheetmark

import "math"

func linearTable() (t [256]uint32) {
	for i := range t {
		t[i] = uint32(65535*linear(float64(i)/255) + 0.5)
	}
	return t
}

// linear is the linear light of an sRGB value, both 0 to 1 (IEC 61966-2-1).
func linear(v float64) float64 {
	if v <= 0.04045 {
		return v / 12.92
	}
	return math.Pow((v+0.055)/1.055, 2.4)
}

func levelTable() (t [4096]uint8) {
	for i := range t {
		v := float64(i) / 4095
		if v <= 0.0031308 {
			v *= 12.92
		} else {
			v = 1.055*math.Pow(v, 1/2.4) - 0.055
		}
		t[i] = uint8(255*v + 0.5)
	}
	return t
}
