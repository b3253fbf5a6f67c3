package sheetmark

import "mudline/imaging/colour"

func linearTable() (t [256]uint32) {
	for i := range t {
		t[i] = uint32(65535*colour.Light(float64(i)/255) + 0.5)
	}
	return t
}

func levelTable() (t [4096]uint8) {
	for i := range t {
		t[i] = uint8(colour.Level(float64(i)/4095) + 0.5)
	}
	return t
}
