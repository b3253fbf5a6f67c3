package layers

import (
	"math"
	"sort"
)

// grainTop is the height up to which the deposit is grainy, counted from the
// floor: coarse sand, seen grain by grain. 0 when nothing at the bottom is
// grainier than the rest. Fine sand shows no grain, so the sand ends higher.
func (k *columns) grainTop() float64 {
	const block, from, to = 0.006, 0.012, 0.45
	var z, g []float64
	for h := from; h < to; h += block {
		a, b := k.row((h+block)*k.waterMM), k.row(h*k.waterMM)
		if a < 0 || b > k.h || b <= a {
			continue
		}
		sum := 0.0
		for r := a; r < b; r++ {
			sum += k.grain[r]
		}
		z, g = append(z, (h+block)*k.waterMM), append(g, sum/float64(b-a))
	}
	if len(g) < 8 {
		return 0
	}
	s := append([]float64(nil), g...)
	sort.Float64s(s)
	usual := s[len(s)*2/5]
	top, miss := 0.0, 0
	for i := range g {
		if g[i] > 1.45*usual {
			top, miss = z[i], 0
		} else if miss++; miss > 1 {
			break
		}
	}
	return top
}

// Sand whose upper line is lost still shows its grain; and where the floor shows
// no grain at all, there is little sand. Neither is a line, so the standard
// deviations are wide.
const (
	grainlessSand   = 0.015 // of the water depth: about where sand without visible grain ends
	grainlessSandSD = 0.035
	grainySandSD    = 0.9 // of the height told by grain
	faintSand       = 0.3 // confidence of a sand top told by grain alone
)

// readGrain gives the latest photo a sand top by its grain where no photo showed
// a line. In the rendered jars, last photos, grain ended at 0.14 to 0.7 of the
// height of the sand and was missing only where the sand was thinner than 2 % of
// the water depth.
func readGrain(ps []*photo, out []Reading) {
	for i := range out {
		if out[i].SandTop != nil {
			return
		}
	}
	p, r := ps[len(ps)-1], &out[len(ps)-1]
	if r.DepositTop == nil || p.s.ElapsedS < siltDownS {
		return
	}
	h := p.s.Water.MM
	z, sd := grainlessSand*h, grainlessSandSD*h
	if p.grain > 0 {
		z = p.grain * math.Exp(grainToSand)
		sd = grainySandSD * z
	}
	if z >= r.DepositTop.HeightMM {
		return
	}
	sd = math.Hypot(sd, p.s.FrameSDMM)
	r.SandTop = &Boundary{HeightMM: z, SDMM: sd, WidthMM: 2.5 * sd, Confidence: faintSand}
}
