package imaging

import (
	"image"
	"math"
)

// Register finds by normalised cross-correlation how far, in rows, the picture
// b must move down to lie on a, within +-reach rows. The correlation at the
// best place is -1..1, and 0 with no shift when either picture is flat or
// nothing overlaps. Columns are compared as they stand. The place between rows
// is the top of the parabola through the best row and its neighbours.
func Register(a, b *image.Gray, reach float64) (rows, correlation float64) {
	n := int(math.Ceil(math.Max(reach, 0)))
	score := make([]float64, 2*n+1)
	best := -1
	for i := range score {
		score[i] = correlationAt(a, b, i-n)
		if !math.IsNaN(score[i]) && (best < 0 || score[i] > score[best]) {
			best = i
		}
	}
	if best < 0 {
		return 0, 0
	}
	rows, correlation = float64(best-n), score[best]
	if best > 0 && best < len(score)-1 {
		before, after := score[best-1], score[best+1]
		if curve := before - 2*correlation + after; curve < 0 {
			d := (before - after) / (2 * curve)
			rows += d
			correlation -= (before - after) * d / 4
		}
	}
	return math.Max(-reach, math.Min(reach, rows)), math.Min(correlation, 1)
}

// correlationAt correlates a with b moved down by shift rows, over the rows and
// columns they share; NaN when too little is shared or one is flat.
func correlationAt(a, b *image.Gray, shift int) float64 {
	w := min(a.Rect.Dx(), b.Rect.Dx())
	from, to := max(0, shift), min(a.Rect.Dy(), b.Rect.Dy()+shift)
	if w < 1 || to-from < 8 {
		return math.NaN()
	}
	var sa, sb, saa, sbb, sab uint64
	for y := from; y < to; y++ {
		ra := a.Pix[y*a.Stride : y*a.Stride+w]
		rb := b.Pix[(y-shift)*b.Stride : (y-shift)*b.Stride+w]
		for i, p := range ra {
			va, vb := uint64(p), uint64(rb[i])
			sa, sb = sa+va, sb+vb
			saa, sbb, sab = saa+va*va, sbb+vb*vb, sab+va*vb
		}
	}
	n := float64(w * (to - from))
	ma, mb := float64(sa)/n, float64(sb)/n
	va, vb := float64(saa)/n-ma*ma, float64(sbb)/n-mb*mb
	const flat = 0.05 // below the quantisation noise of 8 bits (1/12)
	if va < flat || vb < flat {
		return math.NaN()
	}
	return (float64(sab)/n - ma*mb) / math.Sqrt(va*vb)
}
