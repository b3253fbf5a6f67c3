// Package scaledjpeg decodes JPEG pictures (ITU-T T.81) at a half, a quarter or
// an eighth of their size, for much less work than at full size: every sample
// it gives is the mean of those the full picture has there.
//
// It reads what cameras and phones write, the baseline process in one scan with
// grey or Y, Cb and Cr components, and only when undamaged. Anything else it
// leaves to a complete decoder, which then also says what is wrong.
package scaledjpeg

import "encoding/binary"

// Plane is one component of a picture.
type Plane struct {
	// Pix holds H rows of W samples, Stride apart.
	Pix          []uint8
	Stride, W, H int
	// Wide and High are how much of the plane the picture takes up, in samples;
	// the last column or row may be covered in part only.
	Wide, High float64
}

// Decode gives the grey plane, or the Y, Cb and Cr planes, of a picture at 1/by
// of its size; by is 2, 4 or 8. Chroma that was stored at a lower resolution
// than luma is reduced less, where possible to the same size. ok is false when
// the picture is left to a complete decoder. The size of the picture is taken on
// trust: check it beforehand.
func Decode(data []byte, by int) (planes []Plane, ok bool) {
	d := decoder{size: 8 / by}
	at, ok := d.headers(data)
	if !ok {
		return nil, false
	}
	d.prepare()
	d.bits.data, d.bits.at = data, at
	if !d.scan() {
		return nil, false
	}
	for i := range d.parts {
		planes = append(planes, d.parts[i].plane)
	}
	return planes, true
}

// decoder holds what the headers say and the state of the scan.
type decoder struct {
	size       int // of a luma block in the result
	w, h       int
	hMax, vMax int
	mcuW, mcuH int // number of minimum coded units across and down
	interval   int // of restart, in units; 0 without
	quant      [4]*[64]uint8
	dc, ac     [4]*huffman
	parts      []component
	bits       bitReader
	sums       [64]int32
}

// component is one colour component of the frame.
type component struct {
	id, h, v, tq byte
	dc, ac       *huffman
	last         int32 // DC coefficient of the block before
	block        blockMaker
	plane        Plane
}

const (
	markSOF0, markSOF1 = 0xc0, 0xc1
	markDHT, markDQT   = 0xc4, 0xdb
	markRST0, markSOI  = 0xd0, 0xd8
	markEOI, markSOS   = 0xd9, 0xda
	markDRI, markAPP0  = 0xdd, 0xe0
	markAPP14, markCOM = 0xee, 0xfe
)

// headers reads the segments up to the first scan and gives where its data
// begin.
func (d *decoder) headers(data []byte) (at int, ok bool) {
	if len(data) < 2 || data[0] != 0xff || data[1] != markSOI {
		return 0, false
	}
	for at = 2; at+4 <= len(data) && data[at] == 0xff; {
		mark, length := data[at+1], int(binary.BigEndian.Uint16(data[at+2:]))
		end := at + 2 + length
		if length < 2 || end > len(data) {
			return 0, false
		}
		if !d.segment(mark, data[at+4:end]) {
			return 0, false
		}
		if at = end; mark == markSOS {
			return at, true
		}
	}
	return 0, false
}

// segment reads one segment; false when a complete decoder must see it.
func (d *decoder) segment(mark byte, s []byte) bool {
	switch mark {
	case markSOF0, markSOF1:
		return d.frame(s)
	case markDHT:
		return d.huffmanTables(s)
	case markDQT:
		return d.quantTables(s)
	case markDRI:
		if len(s) != 2 {
			return false
		}
		d.interval = int(binary.BigEndian.Uint16(s))
		return true
	case markSOS:
		return d.scanHeader(s)
	case markAPP14: // Adobe: the last byte 1 says Y, Cb, Cr
		return len(s) < 12 || string(s[:5]) != "Adobe" || s[11] == 1
	}
	return mark >= markAPP0 && mark < markAPP0+16 || mark == markCOM
}

func (d *decoder) frame(s []byte) bool {
	if d.parts != nil || len(s) < 6 || s[0] != 8 {
		return false
	}
	d.h, d.w = int(binary.BigEndian.Uint16(s[1:])), int(binary.BigEndian.Uint16(s[3:]))
	n := int(s[5])
	if s = s[6:]; d.w == 0 || d.h == 0 || n != 1 && n != 3 || len(s) != 3*n {
		return false
	}
	for ; len(s) > 0; s = s[3:] {
		h, v := s[1]>>4, s[1]&15
		if s[2] > 3 || h < 1 || v < 1 || h > 4 || v > 4 || h == 3 || v == 3 {
			return false
		}
		d.parts = append(d.parts, component{id: s[0], h: h, v: v, tq: s[2]})
	}
	if n == 1 { // a scan of one component has no minimum coded units
		d.parts[0].h, d.parts[0].v = 1, 1
	}
	first, second := d.parts[0], d.parts[n-1]
	d.hMax, d.vMax = int(first.h), int(first.v)
	for _, c := range d.parts[1:] { // both chroma planes alike
		if c.h != second.h || c.v != second.v {
			return false
		}
	}
	if !usualSampling[[4]byte{first.h, first.v, second.h, second.v}] {
		return false
	}
	return n == 1 || first.id != 'R' || d.parts[1].id != 'G' || second.id != 'B'
}

// usualSampling lists the sampling factors of luma and chroma that are read:
// 4:4:4 (and grey), 4:2:2, 4:4:0, 4:2:0, 4:1:1 and 4:1:0.
var usualSampling = map[[4]byte]bool{
	{1, 1, 1, 1}: true, {2, 1, 1, 1}: true, {1, 2, 1, 1}: true,
	{2, 2, 1, 1}: true, {4, 1, 1, 1}: true, {4, 2, 1, 1}: true,
}

func (d *decoder) quantTables(s []byte) bool {
	for ; len(s) > 0; s = s[65:] {
		if s[0] > 3 || len(s) < 65 { // 8 bits to an entry
			return false
		}
		d.quant[s[0]] = (*[64]uint8)(s[1:65])
	}
	return true
}

func (d *decoder) huffmanTables(s []byte) bool {
	for len(s) > 0 {
		if len(s) < 17 || s[0]>>4 > 1 || s[0]&15 > 3 {
			return false
		}
		table, used, ok := newHuffman(s[1:])
		if !ok {
			return false
		}
		if s[0]>>4 == 0 {
			d.dc[s[0]&15] = table
		} else {
			d.ac[s[0]&15] = table
		}
		s = s[1+used:]
	}
	return true
}

// scanHeader wants one scan with all components in the order of the frame.
func (d *decoder) scanHeader(s []byte) bool {
	n := len(d.parts)
	if n == 0 || len(s) != 4+2*n || int(s[0]) != n {
		return false
	}
	for i := range d.parts {
		c, id, tables := &d.parts[i], s[1+2*i], s[2+2*i]
		if id != c.id || tables>>4 > 3 || tables&15 > 3 {
			return false
		}
		c.dc, c.ac = d.dc[tables>>4], d.ac[tables&15]
		if c.dc == nil || c.ac == nil || d.quant[c.tq] == nil {
			return false
		}
	}
	rest := s[1+2*n:]
	return rest[0] == 0 && rest[1] == 63 && rest[2] == 0
}
