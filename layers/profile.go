package layers

import "math"

// step is the change across one line: the colour below minus the colour above,
// as the median over the columns.
type step struct {
	d [3]float64 // L*, a*, b*
	// size is the length of d, noise its standard error, share the part of the
	// columns that take part in the change.
	size, noise, share float64
}

// scratch holds what one step needs for its medians.
type scratch struct{ per, med []float64 }

func newScratch(n int) *scratch { return &scratch{per: make([]float64, 3*n), med: make([]float64, n)} }

// stepAt compares win rows below row edge r with win rows above, leaving gap
// rows out on each side. shift moves the line in each column by that many rows
// (nil for a level line).
func (k *columns) stepAt(r, win, gap int, shift []int, buf *scratch) step {
	n := 0
	for c := range k.n {
		q := r
		if shift != nil {
			q += shift[c]
		}
		if d, ok := k.diff(c, q-gap-win, q-gap, q+gap, q+gap+win); ok {
			buf.per[3*n], buf.per[3*n+1], buf.per[3*n+2] = d[0], d[1], d[2]
			n++
		}
	}
	if n < k.n*3/4 {
		return step{}
	}
	return consensus(buf, n)
}

// consensus is the step the first n columns of buf.per agree on.
func consensus(buf *scratch, n int) (s step) {
	per, med := buf.per, buf.med[:n]
	for ch := range 3 {
		for c := range n {
			med[c] = per[3*c+ch]
		}
		s.d[ch] = median(med)
	}
	s.size = math.Sqrt(s.d[0]*s.d[0] + s.d[1]*s.d[1] + s.d[2]*s.d[2])
	if s.size == 0 {
		return s
	}
	same := 0
	for c := range n {
		along := (per[3*c]*s.d[0] + per[3*c+1]*s.d[1] + per[3*c+2]*s.d[2]) / s.size
		if along > 0.4*s.size {
			same++
		}
		med[c] = math.Abs(along - s.size)
	}
	s.noise = 1.4826 * median(med) / math.Sqrt(float64(n))
	s.share = float64(same) / float64(n)
	return s
}

// change is the colour, by height, of what lies below a reference level: each
// column is compared with its own mean over the reference, and the columns'
// median taken.
type change struct {
	z []float64    // mm, falling
	v [][3]float64 // colour minus the reference colour
}

// changeFrom gives the change of the heights hi..lo, in blocks of blockMM,
// against the columns' means over refHi..refLo.
func (k *columns) changeFrom(refHi, refLo, hi, lo, blockMM float64, buf *scratch) (p change) {
	a0, a1 := max(k.row(refHi), 0), min(k.row(refLo), k.h)
	block := k.rows(blockMM)
	for r := max(k.row(hi), 0); r+block <= min(k.row(lo), k.h); r += block {
		n := 0
		for c := range k.n {
			if d, ok := k.diff(c, a0, a1, r, r+block); ok {
				buf.per[3*n], buf.per[3*n+1], buf.per[3*n+2] = d[0], d[1], d[2]
				n++
			}
		}
		if n == 0 {
			continue
		}
		var v [3]float64
		for ch := range 3 {
			for c := range n {
				buf.med[c] = buf.per[3*c+ch]
			}
			v[ch] = median(buf.med[:n])
		}
		p.z = append(p.z, k.height(float64(r)+float64(block)/2))
		p.v = append(p.v, v)
	}
	return p
}

// median orders part of v and returns its middle.
func median(v []float64) float64 {
	n := len(v)
	if n == 0 {
		return 0
	}
	k, lo, hi := n/2, 0, n-1
	for lo < hi {
		p := v[(lo+hi)/2]
		i, j := lo, hi
		for i <= j {
			for v[i] < p {
				i++
			}
			for v[j] > p {
				j--
			}
			if i <= j {
				v[i], v[j] = v[j], v[i]
				i++
				j--
			}
		}
		if k <= j {
			hi = j
		} else if k >= i {
			lo = i
		} else {
			break
		}
	}
	return v[k]
}
