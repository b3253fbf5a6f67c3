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

// applyStated puts the lines a person placed over what was seen.
func (p *photo) applyStated(r *Reading) {
	*r = r.With(p.s.Stated, StatedSDMM(p.s.FrameSDMM, p.s.WaterMM))
}

// StatedSDMM is the standard deviation of a line that a person placed: within
// half a millimetre or 0.3 % of the water depth, and as well as the frame is known.
func StatedSDMM(frameSDMM, waterMM float64) float64 {
	return math.Hypot(frameSDMM, max(0.5, 0.003*waterMM))
}

// With is the reading with stated lines in place of what was seen. What was
// only seen gives way where it contradicts what was stated.
func (r Reading) With(stated Lines, sdMM float64) Reading {
	for _, b := range []struct {
		stated *float64
		seen   **Boundary
	}{{stated.DepositTop, &r.DepositTop}, {stated.SandTop, &r.SandTop}, {stated.SiltTop, &r.SiltTop}} {
		if b.stated != nil {
			*b.seen = &Boundary{HeightMM: *b.stated, SDMM: sdMM, Confidence: 1, Stated: true}
		}
	}
	top := r.DepositTop
	if top == nil || !top.Stated && !hasStated(&r) {
		return r
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
	return r
}

func hasStated(r *Reading) bool {
	return r.SandTop != nil && r.SandTop.Stated || r.SiltTop != nil && r.SiltTop.Stated
}
