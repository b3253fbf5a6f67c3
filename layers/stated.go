package layers

import (
	"math"

	"mudline/internal/words"
)

// Sound says what is wrong with stated lines, nothing when nothing is.
func (l Lines) Sound(water Depth) words.Message {
	lowest := 0.0
	for _, top := range Tops {
		mm := *l.Place(top)
		if mm == nil {
			continue
		}
		if !(*mm >= lowest && *mm <= water.MM) {
			return words.Say("layer.placed-outside", words.Word("line", "the-line", string(top)), water.Tell("h", *mm, 1), water.tellRange("range", lowest, water.MM))
		}
		lowest = *mm
	}
	return words.Message{}
}

// statedLine stands in for what the picture shows when a person placed the top.
func statedLine(z float64) line {
	return line{step: step{d: [3]float64{-20}, size: 20, noise: 0.1, share: 1}, z: z}
}

// applyStated puts the lines a person placed over what was seen.
func (p *photo) applyStated(r *Reading) {
	*r, _ = r.With(p.s.Stated, StatedSDMM(p.s.FrameSDMM, p.s.Water))
}

// StatedSDMM is the standard deviation of a line that a person placed: within
// half a millimetre or 0.3 % of the water depth, and as well as the frame is known; where
// the depth is not known within 0.4 % of it, half a millimetre of a usual jar's.
func StatedSDMM(frameSDMM float64, water Depth) float64 {
	placed := max(0.5, 0.003*water.MM)
	if water.Supposed {
		placed = 0.004 * water.MM
	}
	return math.Hypot(frameSDMM, placed)
}

// Conflict is a line that was found out of order with one that a person placed.
type Conflict struct {
	Found, Placed     Line
	FoundMM, PlacedMM float64
}

// orderSDs is by how many standard deviations two lines must be out of order
// to contradict each other.
const orderSDs = 2

// With is the reading with stated lines in place of what was seen. What was
// found and contradicts them is left out, and listed: sand, silt, the deposit's
// top and haze follow each other upwards. A top of the deposit that contradicts
// them is listed but stays, since without it the others mean nothing.
func (r Reading) With(stated Lines, sdMM float64) (Reading, []Conflict) {
	for _, top := range Tops {
		if mm := *stated.Place(top); mm != nil {
			*r.Place(top) = &Boundary{HeightMM: *mm, SDMM: sdMM, Confidence: 1, Stated: true}
		}
	}
	var out []Conflict
	for i, found := range Tops {
		b := *r.Place(found)
		if b == nil || b.Stated {
			continue
		}
		for j, placed := range Tops {
			mm := *stated.Place(placed)
			if mm == nil {
				continue
			}
			over := b.HeightMM - *mm
			if j < i {
				over = -over
			}
			if over > orderSDs*math.Hypot(b.SDMM, sdMM) {
				out = append(out, Conflict{found, placed, b.HeightMM, *mm})
				if found != DepositTop {
					*r.Place(found) = nil
				}
				break
			}
		}
	}
	return r, out
}
