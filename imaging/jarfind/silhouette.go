package jarfind

import (
	"image"
	"math"
	"slices"

	"mudline/imaging"
	"mudline/imaging/pixels"
)

// SilhouetteHeights are the heights, in shares of the water depth, at which
// Silhouette measures.
var SilhouetteHeights = []float64{0.06, 0.14, 0.22, 0.30, 0.38, 0.46, 0.54, 0.62, 0.70, 0.78, 0.86, 0.94}

const (
	silhouetteReach = 0.12 // of the half width, to either side of the frame's edge
	silhouetteRows  = 9    // rows around each height that are taken together
	silhouetteLeast = 6.0  // grey levels per pixel that an edge must change by
)

// Silhouette measures how wide the glass is at SilhouetteHeights, in units of
// the frame's own width there: 1 throughout in a straight jar. NaN where either
// edge does not show. Edges of other things near the glass are taken for its
// own at times, so several photos should be held together.
func Silhouette(pic *image.RGBA, f imaging.Frame) []float64 {
	out := make([]float64, len(SilhouetteHeights))
	for i, h := range SilhouetteHeights {
		l, r := edgeOffset(pic, f, h, -1), edgeOffset(pic, f, h, 1)
		out[i] = 1 + (l+r)/2
	}
	return out
}

// edgeOffset is how far outside the frame's edge the glass ends at a height, in
// half widths; NaN where nothing shows.
func edgeOffset(pic *image.RGBA, f imaging.Frame, h, side float64) float64 {
	const steps = 60
	var change [steps]float64
	length := math.Hypot(f.Water.X-f.Floor.X, f.Water.Y-f.Floor.Y)
	for k := range silhouetteRows {
		hh := h + float64(k-silhouetteRows/2)*2/length
		before := [3]float32{}
		for j := range steps + 1 {
			u := side * (1 - silhouetteReach + 2*silhouetteReach*float64(j)/steps)
			p := edgeAt(f, u, hh)
			r, g, b := pixels.Bilinear(pic, p.X, p.Y)
			if j > 0 {
				d := math.Abs(float64(r-before[0])) + math.Abs(float64(g-before[1])) + math.Abs(float64(b-before[2]))
				change[j-1] += math.Min(d/3, 40) / silhouetteRows
			}
			before = [3]float32{r, g, b}
		}
	}
	best := 0
	for j := range change {
		if change[j] > change[best] {
			best = j
		}
	}
	if change[best] < silhouetteLeast*halfAt(f, h)*2*silhouetteReach/steps {
		return math.NaN()
	}
	return -silhouetteReach + 2*silhouetteReach*(float64(best)+0.5)/steps
}

// halfAt is the half width at a height, in pixels.
func halfAt(f imaging.Frame, h float64) float64 {
	return f.HalfWidthFloor + f.Along(h)*(f.HalfWidthWater-f.HalfWidthFloor)
}

// edgeAt is the pixel at u half widths from the centre line, straight across.
func edgeAt(f imaging.Frame, u, h float64) imaging.Point {
	flat := f
	flat.BowFloor, flat.BowWater = 0, 0
	return flat.At(u, h)
}

// Taper holds silhouettes of one jar together: by how much its width grows from
// the floor to the water surface, as a share of its mean width. ok is false
// where too little is seen.
func Taper(silhouettes [][]float64) (share float64, ok bool) {
	var slopes []float64
	for _, s := range silhouettes {
		for i := range s {
			for j := i + 3; j < len(s); j++ {
				if d := (s[j] - s[i]) / (SilhouetteHeights[j] - SilhouetteHeights[i]); !math.IsNaN(d) {
					slopes = append(slopes, d)
				}
			}
		}
	}
	if len(slopes) < 12 {
		return 0, false
	}
	slices.Sort(slopes) // the median slope (Theil 1950, Sen 1968) passes over stray edges
	return slopes[len(slopes)/2], true
}
