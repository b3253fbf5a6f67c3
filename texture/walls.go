package texture

import (
	"fmt"
	"math"
)

// Section is the jar's inner cross-section at a height above the floor, in any
// unit of area, the same throughout.
type Section struct{ HeightMM, Area float64 }

// Profile is the jar's inside from the floor up. Between sections the area runs
// straight; beyond the ends it stays. An empty profile is a straight jar.
type Profile []Section

func (p Profile) validate(depthMM float64) error {
	for i, s := range p {
		if err := checkRange(quantity(fmt.Sprintf("jar section %d's height", i+1)), s.HeightMM, 0, MaxDepthMM, " mm"); err != nil {
			return err
		}
		if err := checkRange(quantity(fmt.Sprintf("jar section %d's area", i+1)), s.Area, 1e-9, 1e9, ""); err != nil {
			return err
		}
		if i > 0 && s.HeightMM <= p[i-1].HeightMM {
			return fmt.Errorf("jar section %d is at %.6g mm, the one before at %.6g mm; heights must rise", i+1, s.HeightMM, p[i-1].HeightMM)
		}
	}
	if len(p) > 0 && depthMM == 0 {
		return fmt.Errorf("jar sections are given without a water depth; give the depth too, %.6g to %.6g mm", MinDepthMM, MaxDepthMM)
	}
	return nil
}

// area is the cross-section at height z.
func (p Profile) area(z float64) float64 {
	if len(p) == 0 {
		return 1
	}
	if z <= p[0].HeightMM {
		return p[0].Area
	}
	for i := 1; i < len(p); i++ {
		if z < p[i].HeightMM {
			a, b := p[i-1], p[i]
			return a.Area + (b.Area-a.Area)*(z-a.HeightMM)/(b.HeightMM-a.HeightMM)
		}
	}
	return p[len(p)-1].Area
}

// volume is the volume below z: the trapezia between sections, exact for it.
func (p Profile) volume(z float64) float64 {
	sum, at := 0.0, 0.0
	for _, s := range p {
		if s.HeightMM <= at || s.HeightMM >= z {
			continue
		}
		sum += (s.HeightMM - at) * (p.area(at) + p.area(s.HeightMM)) / 2
		at = s.HeightMM
	}
	return sum + (z-at)*(p.area(at)+p.area(z))/2
}

// straighten returns the height that the volume below z would fill in a
// straight jar, and how that height grows with z. The straight jar has the mean
// cross-section of the water column, so the water depth stays what it is.
func (p Profile) straighten(depthMM float64) func(z float64) (mm, stretch float64) {
	if len(p) == 0 || depthMM == 0 {
		return func(z float64) (float64, float64) { return z, 1 }
	}
	mean := p.volume(depthMM) / depthMM
	return func(z float64) (float64, float64) {
		return p.volume(z) / mean, math.Max(p.area(z)/mean, 0.05)
	}
}
