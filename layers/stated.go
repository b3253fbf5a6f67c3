package layers

import (
	"fmt"
	"math"
)

// sound says what is wrong with stated lines, "" when nothing is.
func (l Lines) sound(waterMM float64) string {
	lowest := 0.0
	for _, b := range []struct {
		name string
		mm   *float64
	}{{"sand top", l.SandTop}, {"silt top", l.SiltTop}, {"deposit top", l.DepositTop}} {
		if b.mm == nil {
			continue
		}
		if !(*b.mm >= lowest && *b.mm <= waterMM) {
			return fmt.Sprintf("the %s is stated at %g mm; it must lie between %g and %g mm", b.name, *b.mm, lowest, waterMM)
		}
		lowest = *b.mm
	}
	return ""
}

// statedLine stands in for what the picture shows when a person placed the top.
func statedLine(z float64) line {
	return line{step: step{d: [3]float64{-20}, size: 20, noise: 0.1, share: 1}, z: z}
}

// applyStated puts the lines a person placed over what was seen. A person is
// taken to place a line within half a millimetre or 0.3 % of the water depth.
func (p *photo) applyStated(r *Reading) {
	sd := math.Hypot(p.s.FrameSDMM, max(0.5, 0.003*p.s.WaterMM))
	for _, b := range []struct {
		stated *float64
		seen   **Boundary
	}{{p.s.Stated.DepositTop, &r.DepositTop}, {p.s.Stated.SandTop, &r.SandTop}, {p.s.Stated.SiltTop, &r.SiltTop}} {
		if b.stated != nil {
			*b.seen = &Boundary{HeightMM: *b.stated, SDMM: sd, Confidence: 1, Stated: true}
		}
	}
	// What was only seen gives way where it contradicts what was stated.
	top := r.DepositTop
	if top == nil || !top.Stated && !hasStated(r) {
		return
	}
	for _, b := range []**Boundary{&r.SandTop, &r.SiltTop} {
		if *b != nil && !(*b).Stated && (*b).HeightMM > top.HeightMM {
			*b = nil
		}
	}
	if r.SandTop != nil && r.SiltTop != nil && r.SandTop.HeightMM > r.SiltTop.HeightMM {
		if r.SandTop.Stated {
			r.SiltTop = nil
		} else {
			r.SandTop = nil
		}
	}
}

func hasStated(r *Reading) bool {
	return r.SandTop != nil && r.SandTop.Stated || r.SiltTop != nil && r.SiltTop.Stated
}
