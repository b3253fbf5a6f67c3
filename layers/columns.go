package layers

import "math"

// The front of a jar is never evenly lit: a window makes a vertical highlight,
// tape covers part of it, smears dim some columns. What all of that has in
// common is that it runs down a column. A boundary between two materials
// changes every column at the same height; a reflection ends at another height
// in each. So the package never looks at a colour, only at a column compared
// with itself higher up or lower down, and asks the columns for their median.

const (
	// pooled is how many strip columns are averaged into one.
	pooled = 4
	// frontHalf is the part of the half width that is looked at. Beyond it the
	// glass is seen at a slant, where an error in the frame's bow moves a line
	// by several rows.
	frontHalf = 0.70
)

// columns is the front of a strip, pooled and kept as running sums, so that
// the mean colour of any piece of a column costs two look-ups.
type columns struct {
	n, h int
	u    []float64 // position across the jar, -1..1
	// sum[(row*n+column)*3+channel] is the sum over the rows before row.
	sum []float64
	// grain[row] is the fine texture across the row, see grainOf.
	grain []float64

	topMM, mmPerRow, waterMM float64
}

func newColumns(s *Strip) *columns {
	first, last := frontColumns(s)
	pool := pooled
	if last-first < 8*pool {
		pool = 1
	}
	n := (last - first) / pool
	k := &columns{n: n, h: s.H, u: make([]float64, n), sum: make([]float64, 3*n*(s.H+1)), grain: make([]float64, s.H),
		topMM: s.TopMM, mmPerRow: s.mmPerRow(), waterMM: s.Water.MM}
	for c := range n {
		k.u[c] = (s.uOf(first+c*pool) + s.uOf(first+(c+1)*pool-1)) / 2
	}
	w := 1 / float64(pool)
	for r := range s.H {
		row := s.Lab[3*(r*s.W+first) : 3*(r*s.W+first+n*pool)]
		above, below := k.sum[3*n*r:3*n*(r+1)], k.sum[3*n*(r+1):3*n*(r+2)]
		for c := range n {
			var l, a, b float32
			for p := 3 * c * pool; p < 3*(c+1)*pool; p += 3 {
				l += row[p]
				a += row[p+1]
				b += row[p+2]
			}
			below[3*c] = above[3*c] + float64(l)*w
			below[3*c+1] = above[3*c+1] + float64(a)*w
			below[3*c+2] = above[3*c+2] + float64(b)*w
		}
		k.grain[r] = grainOf(row)
	}
	return k
}

// frontColumns is the range of strip columns within frontHalf.
func frontColumns(s *Strip) (first, end int) {
	for first < s.W && s.uOf(first) < -frontHalf {
		first++
	}
	end = s.W
	for end > first && s.uOf(end-1) > frontHalf {
		end--
	}
	return first, end
}

// uOf is the position of strip column c across the jar, -1..1.
func (s *Strip) uOf(c int) float64 {
	return s.USpan * (2*(float64(c)+0.5)/float64(s.W) - 1)
}

// grainOf is how much the lightness of a pixel differs from the mean of its
// neighbours two columns to either side, averaged over a row with the large
// differences (edges of highlights and tape) held down.
func grainOf(row []float32) float64 {
	const most = 8
	n, sum := 0, 0.0
	for i := 6; i+6 < len(row); i += 3 {
		d := math.Abs(float64(row[i] - (row[i-6]+row[i+6])/2))
		sum += min(d, most)
		n++
	}
	if n == 0 {
		return 0
	}
	return sum / float64(n)
}

// row is the row edge nearest to a height.
func (k *columns) row(heightMM float64) int {
	return int(math.Round((k.topMM - heightMM) / k.mmPerRow))
}

// height is that of a row edge.
func (k *columns) height(row float64) float64 { return k.topMM - row*k.mmPerRow }

// rows is a length as a number of rows, at least 1.
func (k *columns) rows(mm float64) int { return max(int(math.Round(mm/k.mmPerRow)), 1) }

// diff adds up the colour change of column c from rows a0..a1 to rows b0..b1
// (means); ok is false when either is outside the strip.
func (k *columns) diff(c, a0, a1, b0, b1 int) (d [3]float64, ok bool) {
	if a0 < 0 || b0 < 0 || a1 > k.h || b1 > k.h || a1 <= a0 || b1 <= b0 {
		return d, false
	}
	ia, ja, ib, jb := 3*(k.n*a0+c), 3*(k.n*a1+c), 3*(k.n*b0+c), 3*(k.n*b1+c)
	na, nb := 1/float64(a1-a0), 1/float64(b1-b0)
	for ch := range 3 {
		d[ch] = (k.sum[jb+ch]-k.sum[ib+ch])*nb - (k.sum[ja+ch]-k.sum[ia+ch])*na
	}
	return d, true
}

// mmPerRow is the height of one row.
func (s *Strip) mmPerRow() float64 { return (s.TopMM - s.BottomMM) / float64(s.H) }
