package jarnet

import "math"

// Bins of the places of sides and floor.
const (
	SideBins = PatchW
	RowBins  = PatchH
)

// Verdict is what the network says of a patch.
type Verdict struct {
	// LogOdds that an upright jar stands here, its sides and floor not further off
	// than a quarter of its width.
	LogOdds float64
	// Left and Right are where the sides are, by columns of the patch, Floor and
	// Water where the floor and the surface of the water are on the front, by rows:
	// logarithms of probabilities.
	Left, Right  [SideBins]float64
	Floor, Water [RowBins]float64
}

// Where the sides are asked for: the rows of the half-size view over the lower
// body of the jar, and the columns in its middle for the floor.
const (
	bodyTop, bodyEnd   = 13, 25
	frontFrom, frontTo = 6, 14
	headGain           = 4 // on means of the heads
)

// Read turns the log odds and the heads, planes of 20 x 28, into a verdict.
func Read(odds float32, heads []float32) *Verdict {
	w, h := Grid(1)
	v := &Verdict{LogOdds: float64(odds)}
	for sub := range 2 {
		for c := range w {
			for r := bodyTop; r < bodyEnd; r++ {
				v.Left[2*c+sub] += float64(heads[(sub*h+r)*w+c])
				v.Right[2*c+sub] += float64(heads[((2+sub)*h+r)*w+c])
			}
		}
		for r := range h {
			for c := frontFrom; c < frontTo; c++ {
				v.Floor[2*r+sub] += float64(heads[((4+sub)*h+r)*w+c])
				v.Water[2*r+sub] += float64(heads[((6+sub)*h+r)*w+c])
			}
		}
	}
	normalise(v.Left[:], headGain/float64(bodyEnd-bodyTop))
	normalise(v.Right[:], headGain/float64(bodyEnd-bodyTop))
	normalise(v.Floor[:], headGain/float64(frontTo-frontFrom))
	normalise(v.Water[:], headGain/float64(frontTo-frontFrom))
	return v
}

// SpreadBack spreads gradients of the verdict's logarithms before they were
// normalised over the heads.
func SpreadBack(left, right, floor, water []float64, heads []float32) {
	w, h := Grid(1)
	for sub := range 2 {
		for c := range w {
			l := float32(left[2*c+sub] * headGain / (bodyEnd - bodyTop))
			rr := float32(right[2*c+sub] * headGain / (bodyEnd - bodyTop))
			for r := bodyTop; r < bodyEnd; r++ {
				heads[(sub*h+r)*w+c] += l
				heads[((2+sub)*h+r)*w+c] += rr
			}
		}
		for r := range h {
			f := float32(floor[2*r+sub] * headGain / (frontTo - frontFrom))
			s := float32(water[2*r+sub] * headGain / (frontTo - frontFrom))
			for c := frontFrom; c < frontTo; c++ {
				heads[((4+sub)*h+r)*w+c] += f
				heads[((6+sub)*h+r)*w+c] += s
			}
		}
	}
}

// normalise scales logarithms and makes their probabilities add up to one.
func normalise(v []float64, gain float64) {
	top := math.Inf(-1)
	for i := range v {
		v[i] *= gain
		top = math.Max(top, v[i])
	}
	sum := 0.0
	for _, x := range v {
		sum += math.Exp(x - top)
	}
	for i := range v {
		v[i] -= top + math.Log(sum)
	}
}

// SideBin is the bin, with its fraction, of a place across the patch, in half
// widths right of the middle.
func SideBin(u float64) float64 { return (u+USpan)/CellU - 0.5 }

// RowBin is the bin, with its fraction, of a height above the proposed floor, in
// half widths.
func RowBin(v float64) float64 { return PatchH - 0.5 - (v+Below)/CellV }

// Offsets are how far right of the proposed sides the likeliest places of the
// sides are, and how far below the proposed floor that of the floor, in half
// widths.
func (v *Verdict) Offsets() (left, right, floor float64) {
	left = (peak(v.Left[:])+0.5)*CellU - USpan + 1
	right = (peak(v.Right[:])+0.5)*CellU - USpan - 1
	floor = -((PatchH-0.5-peak(v.Floor[:]))*CellV - Below)
	return left, right, floor
}

// WaterAt is the likeliest height of the water's surface over the proposed floor,
// in half widths.
func (v *Verdict) WaterAt() float64 { return (PatchH-0.5-peak(v.Water[:]))*CellV - Below }

// peak is the mean bin about the likeliest one.
func peak(logp []float64) float64 {
	best := 0
	for i, p := range logp {
		if p > logp[best] {
			best = i
		}
	}
	sum, at := 0.0, 0.0
	for i := max(best-2, 0); i <= min(best+2, len(logp)-1); i++ {
		p := math.Exp(logp[i] - logp[best])
		sum += p
		at += p * float64(i)
	}
	return at / sum
}

// LogP is the logarithm of the probability about a bin with its fraction; places
// outside, and such that the network thinks impossible, have that of floor.
func LogP(logp []float64, bin, floor float64) float64 {
	i := int(math.Floor(bin))
	f := bin - float64(i)
	if i < 0 || i+1 >= len(logp) {
		return floor
	}
	return math.Max(floor, math.Log((1-f)*math.Exp(logp[i])+f*math.Exp(logp[i+1])+1e-12))
}
