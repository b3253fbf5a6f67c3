package jarfind

import (
	"math"
	"sort"

	"mudline/imaging/pixels"
)

// sideLine is one outer edge of the glass: x = X + Slope*(y-Y).
type sideLine struct {
	X, Y, Slope float64
	strength    float64 // mean edge strength along it, 0..1
}

func (l sideLine) at(y float64) float64 { return l.X + l.Slope*(y-l.Y) }

// sidePeaks is how many lines are kept near a guess, and sidePeakShare how
// strong the weakest must be beside the strongest.
const (
	sidePeaks     = 6
	sidePeakShare = 0.2
)

// fitSides finds lines near a guess that may be the outer edge of the glass:
// straight lines between rows y0 and y1 along which the picture changes from
// left to right, strongest first. Relief pixels.
func fitSides(rf *relief, guess sideLine, y0, y1, reach float64) []sideLine {
	n := max(int(reach), 3)
	width := 2*n + 1
	yy0, yy1 := max(int(y0), 0), min(int(y1), rf.h-1)
	mid, span := (y0+y1)/2, y1-y0
	best := make([]float64, width)   // by offset at the middle row
	slopes := make([]float64, width) // the slope that gave it
	sums := make([]uint64, 2*((width+7)/8))
	padded := make([]uint8, width)
	rows := max((yy1-yy0+1)/2, 0)
	every := 2 + 2*(rows/256) // so that the sums fit in 16 bits
	for s := -0.036; s <= 0.0361; s += 1.2 / math.Max(span, 50) {
		clear(sums)
		rows = 0
		for y := yy0; y < yy1; y += every {
			x0 := int(math.Floor(guess.at(float64(y))+s*(float64(y)-mid)+0.5)) - n
			line := rf.x[y*rf.w : (y+1)*rf.w]
			if x0 >= 0 && x0+width <= rf.w {
				pixels.AddRow(sums, line[x0:x0+width], 1)
			} else if from, to := max(x0, 0), min(x0+width, rf.w); from < to {
				clear(padded)
				copy(padded[from-x0:], line[from:to])
				pixels.AddRow(sums, padded, 1)
			}
			rows++
		}
		for o := range best {
			if v := float64(pixels.Lane(sums, o)); v > best[o] {
				best[o], slopes[o] = v, s
			}
		}
	}
	var out []sideLine
	for _, o := range peaks(best) {
		x := float64(o) + parabolaPeak(best[o-1], best[o], best[o+1])
		out = append(out, sideLine{
			X: guess.at(mid) + x - float64(n), Y: mid, Slope: guess.Slope + slopes[o],
			strength: best[o] / 255 / math.Max(float64(rows), 1),
		})
	}
	return out
}

// peaks lists the positions of the strongest local maxima, strongest first.
func peaks(v []float64) []int {
	var at []int
	for o := 1; o < len(v)-1; o++ {
		if v[o] >= v[o-1] && v[o] > v[o+1] {
			at = append(at, o)
		}
	}
	sort.Slice(at, func(i, j int) bool { return v[at[i]] > v[at[j]] })
	for i := range at {
		if i == sidePeaks || v[at[i]] < sidePeakShare*v[at[0]] {
			return at[:i]
		}
	}
	return at
}

// parabolaPeak is the offset (-0.5..0.5) of the top of a parabola through
// three neighbouring values.
func parabolaPeak(a, b, c float64) float64 {
	d := a - 2*b + c
	if d >= 0 {
		return 0
	}
	return math.Max(-0.5, math.Min(0.5, 0.5*(a-c)/d))
}
