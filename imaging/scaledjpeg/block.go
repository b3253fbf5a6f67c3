package scaledjpeg

import (
	"math"
	"math/bits"
)

// natural is the zigzag order of coefficients (T.81 figure A.6): for each, eight
// times its vertical frequency plus its horizontal one.
var natural = func() (order [64]uint8) {
	k := 0
	for diagonal := range 15 {
		for i := range diagonal + 1 {
			v, u := i, diagonal-i // downwards
			if diagonal%2 == 0 {
				v, u = u, v
			}
			if v < 8 && u < 8 {
				order[k] = uint8(8*v + u)
				k++
			}
		}
	}
	return order
}()

const (
	basisBits = 13 // of fraction in basis
	sumBits   = 5  // of fraction in the sums between the two passes
)

// basis gives the inverse cosine transform (T.81 A.3.3) along one axis, to size
// samples in place of eight, each the mean of the 8/size it stands for: what
// coefficient k adds to sample n is at k*size+n.
func basis(size int) (b [64]int32) {
	by := 8 / size
	for k := range 8 {
		for n := range size {
			sum := 0.0
			for x := n * by; x < (n+1)*by; x++ {
				sum += math.Cos(float64(2*x+1) * float64(k) * math.Pi / 16)
			}
			if k == 0 {
				sum *= math.Sqrt(0.5)
			}
			b[k*size+n] = int32(math.Round(sum / float64(by) / 2 * (1 << basisBits)))
		}
	}
	return b
}

// blockMaker makes the samples of a component's blocks.
type blockMaker struct {
	size  int
	basis [64]int32
	steps [64]step
}

// step is what is known of a coefficient by its place in the zigzag order: its
// quantum, its horizontal frequency, and where in basis its vertical one begins.
type step struct {
	quant   int32
	u, from uint8
}

func newBlockMaker(size int, quant *[64]uint8) blockMaker {
	m := blockMaker{size: size, basis: basis(size)}
	for k, z := range natural {
		m.steps[k] = step{quant: int32(quant[k]), u: z % 8, from: z / 8 * uint8(size)}
	}
	return m
}

// prepare lays out the planes.
func (d *decoder) prepare() {
	d.mcuW = (d.w + 8*d.hMax - 1) / (8 * d.hMax)
	d.mcuH = (d.h + 8*d.vMax - 1) / (8 * d.vMax)
	for i := range d.parts {
		c := &d.parts[i]
		size := min(d.size*min(d.hMax/int(c.h), d.vMax/int(c.v)), 8)
		c.block = newBlockMaker(size, d.quant[c.tq])
		wide := float64(d.w*int(c.h)*size) / float64(8*d.hMax)
		high := float64(d.h*int(c.v)*size) / float64(8*d.vMax)
		stride := d.mcuW * int(c.h) * size
		c.plane = Plane{
			Pix: make([]uint8, stride*d.mcuH*int(c.v)*size), Stride: stride,
			W: int(math.Ceil(wide)), H: int(math.Ceil(high)), Wide: wide, High: high,
		}
	}
}

// scan decodes all blocks.
func (d *decoder) scan() bool {
	units := d.mcuW * d.mcuH
	for unit := range units {
		if d.interval > 0 && unit > 0 && unit%d.interval == 0 {
			if !d.bits.marker(markRST0 + byte((unit/d.interval-1)%8)) {
				return false
			}
			for i := range d.parts {
				d.parts[i].last = 0
			}
		}
		x, y := unit%d.mcuW, unit/d.mcuW
		for i := range d.parts {
			c := &d.parts[i]
			for k := range int(c.h) * int(c.v) {
				bx, by := x*int(c.h)+k%int(c.h), y*int(c.v)+k/int(c.h)
				if !d.block(c, c.plane.Pix[(by*c.plane.Stride+bx)*c.block.size:]) {
					return false
				}
			}
		}
	}
	return d.bits.marker(markEOI)
}

// block decodes one block (T.81 F.2.2) to the samples at dst. Each coefficient
// is at once added to the sums over vertical frequencies; the pass over
// horizontal ones follows.
func (d *decoder) block(c *component, dst []uint8) bool {
	m := &c.block
	size := m.size
	b := &d.bits
	if b.n < 32 {
		b.fill()
	}
	ready, n := b.ready, b.n
	s := c.dc.short[ready>>(64-lookBits)]
	if s == 0 {
		s = c.dc.long(ready)
	}
	ready <<= s.length()
	n -= s.length()
	diff, rest := s.value(), s.rest()
	if s == 0 || s.run() != 0 || rest > 11 {
		return false
	}
	if rest > 0 {
		diff = extend(ready>>(64-rest), rest)
		ready <<= rest
		n -= rest
	}
	c.last += diff

	sums := &d.sums
	clear(sums[:8*size])
	present := uint8(0)
	for k := 1; k < 64; k++ {
		if n < 32 {
			b.ready, b.n = ready, n
			b.fill()
			ready, n = b.ready, b.n
		}
		s := c.ac.short[ready>>(64-lookBits)]
		if s == 0 {
			if s = c.ac.long(ready); s == 0 {
				return false
			}
		}
		ready <<= s.length() & 63
		n -= s.length()
		if s.isPlain() {
			if s.run() == 0 { // end of block
				break
			}
			if s.run() != 15 {
				return false
			}
			k += 15
			continue
		}
		v, rest := s.value(), s.rest()
		if rest > 0 {
			v = extend(ready>>((64-rest)&63), rest)
			ready <<= rest & 63
			n -= rest
		}
		if k += s.run(); k > 63 || rest > 10 {
			return false
		}
		st := m.steps[k]
		present |= 1 << st.u
		v *= st.quant
		if size == 4 {
			column, down := (*[4]int32)(sums[4*st.u:]), (*[4]int32)(m.basis[st.from:])
			column[0] += v * down[0]
			column[1] += v * down[1]
			column[2] += v * down[2]
			column[3] += v * down[3]
			continue
		}
		column := sums[int(st.u)*size:][:size]
		for i, f := range m.basis[st.from:][:size] {
			column[i] += v * f
		}
	}
	b.ready, b.n = ready, n
	if n < 0 {
		return false
	}
	m.finish(sums, present, c.last*m.steps[0].quant, dst, c.plane.Stride)
	return true
}

// finish makes the second pass and stores the samples.
func (m *blockMaker) finish(sums *[64]int32, present uint8, dc int32, dst []uint8, stride int) {
	size := m.size
	if present == 0 {
		p := clampByte((dc + 4 + 128*8) >> 3)
		for y := range size {
			row := dst[y*stride:][:size]
			for x := range row {
				row[x] = p
			}
		}
		return
	}
	for i := range sums[:size] {
		sums[i] += dc * m.basis[0]
	}
	if size == 4 {
		m.finish4(sums, dst, stride)
		return
	}
	var out [64]int32
	for present |= 1; present != 0; present &= present - 1 {
		u := bits.TrailingZeros8(present)
		along := m.basis[u*size:][:size]
		for y, v := range sums[u*size:][:size] {
			v = (v + passRound) >> (basisBits - sumBits)
			row := out[y*size:][:size]
			for x, f := range along {
				row[x] += v * f
			}
		}
	}
	for y := range size {
		row := dst[y*stride:][:size]
		for x, v := range out[y*size:][:size] {
			row[x] = sample(v)
		}
	}
}

// finish4 is finish for the commonest size, written out: even frequencies are
// the same on both sides of the middle, odd ones opposite.
func (m *blockMaker) finish4(sums *[64]int32, dst []uint8, stride int) {
	const n = 4
	f := &m.basis
	for y := range n {
		var s [8]int32
		for u := range s {
			s[u] = (sums[u*n+y] + passRound) >> (basisBits - sumBits)
		}
		level := s[0] * f[0]
		even := s[2]*f[2*n] + s[6]*f[6*n]
		outer := s[1]*f[n] + s[3]*f[3*n] + s[5]*f[5*n] + s[7]*f[7*n]
		inner := s[1]*f[n+1] + s[3]*f[3*n+1] + s[5]*f[5*n+1] + s[7]*f[7*n+1]
		row := dst[y*stride:][:n]
		row[0], row[3] = sample(level+even+outer), sample(level+even-outer)
		row[1], row[2] = sample(level-even+inner), sample(level-even-inner)
	}
}

// passRound rounds the sums of the first pass.
const passRound = 1 << (basisBits - sumBits - 1)

// sample rounds a sum of the second pass, and shifts its level (T.81 A.3.1).
func sample(v int32) uint8 {
	const bits = sumBits + basisBits
	return clampByte((v + 128<<bits + 1<<(bits-1)) >> bits)
}

func clampByte(v int32) uint8 {
	if uint32(v) > 255 {
		return uint8(^v >> 31)
	}
	return uint8(v)
}
