package scaledjpeg

import "encoding/binary"

// bitReader reads the bits of entropy-coded data, highest first, up to the next
// marker. The n bits that are ready are the upper ones of ready; below them
// there are zeros or bits that will be read again. n below zero says that bits
// were taken that are not there.
type bitReader struct {
	data  []byte
	at    int
	ready uint64
	n     int
}

// fill makes at least 56 bits ready, fewer before a marker.
func (b *bitReader) fill() {
	if b.n < 0 {
		return
	}
	if b.at+8 <= len(b.data) {
		if eight := binary.BigEndian.Uint64(b.data[b.at:]); !has0xff(eight) {
			b.ready |= eight >> (b.n & 63)
			whole := (63 - b.n) >> 3
			b.at += whole
			b.n += 8 * whole
			return
		}
	}
	for b.n <= 56 && b.at < len(b.data) {
		c := b.data[b.at]
		if c == 0xff {
			if b.at+1 >= len(b.data) || b.data[b.at+1] != 0 { // a marker
				return
			}
			b.at++ // a stuffed zero
		}
		b.at++
		b.ready |= uint64(c) << (56 - b.n)
		b.n += 8
	}
}

func has0xff(eight uint64) bool {
	const ones, tops = 0x0101010101010101, 0x8080808080808080
	return (^eight-ones)&eight&tops != 0
}

// marker passes the marker with which entropy-coded data must end; false when
// another comes, or data that nothing asked for.
func (b *bitReader) marker(want byte) bool {
	if b.fill(); b.n < 0 || b.n > 7 || b.at+2 > len(b.data) || b.data[b.at] != 0xff || b.data[b.at+1] != want {
		return false
	}
	b.at += 2
	b.ready, b.n = 0, 0
	return true
}

// lookBits is the length of the codes that are looked up at once.
const lookBits = 10

// symbol is a decoded Huffman code. From the lowest bit: eight bits for how many
// bits it takes up, four for the run of zeros before the coefficient, four for
// how many bits of the coefficient are still to be read, and sixteen for the
// coefficient when there are none. 0 is no code.
type symbol uint32

func (s symbol) length() int   { return int(s & 0xff) }
func (s symbol) run() int      { return int(s >> 8 & 15) }
func (s symbol) rest() int     { return int(s >> 12 & 15) }
func (s symbol) value() int32  { return int32(s) >> 16 }
func (s symbol) isPlain() bool { return s>>12 == 0 } // no coefficient at all

// huffman is a table of codes (T.81 annex C).
type huffman struct {
	short [1 << lookBits]symbol // by the next bits; coefficients that fit are in it
	// Codes of each length: the first one too large, aligned to 16 bits, and
	// what leads from a code to its place in values.
	limit  [17]uint32
	offset [17]int
	values []byte
}

// newHuffman builds a table from the 16 counts and the values of a DHT segment
// and says how many bytes they take up.
func newHuffman(s []byte) (t *huffman, used int, ok bool) {
	counts, n := s[:16], 0
	for _, c := range counts {
		n += int(c)
	}
	if n == 0 || n > 256 || len(s) < 16+n {
		return nil, 0, false
	}
	t = &huffman{values: s[16 : 16+n]}
	code, k := 0, 0
	for i, c := range counts {
		length := i + 1
		t.offset[length] = k - code
		for range c {
			if code >= 1<<length {
				return nil, 0, false
			}
			t.enter(code, length, t.values[k])
			code, k = code+1, k+1
		}
		t.limit[length] = uint32(code) << (16 - length)
		code <<= 1
	}
	return t, 16 + n, true
}

// enter fills the places of short that begin with a code.
func (t *huffman) enter(code, length int, value byte) {
	if length > lookBits {
		return
	}
	free := lookBits - length
	size := int(value & 15)
	for tail := range 1 << free {
		s := symbol(length) | symbol(value>>4)<<8 | symbol(size)<<12
		if size > 0 && size <= free {
			v := extend(uint64(tail>>(free-size)), size)
			s = symbol(length+size) | symbol(value>>4)<<8 | symbol(uint16(v))<<16
		}
		t.short[code<<free|tail] = s
	}
}

// long finds a code of more than lookBits bits; 0 when there is none.
func (t *huffman) long(ready uint64) symbol {
	next := uint32(ready >> 48)
	for length := lookBits + 1; length <= 16; length++ {
		if next < t.limit[length] {
			value := t.values[int(next>>(16-length))+t.offset[length]]
			return symbol(length) | symbol(value>>4)<<8 | symbol(value&15)<<12
		}
	}
	return 0
}

// extend turns the bits of a coefficient into its value (T.81 F.2.2.1).
func extend(raw uint64, size int) int32 {
	v := int32(raw)
	if v < 1<<(size-1) {
		v += -1<<size + 1
	}
	return v
}
