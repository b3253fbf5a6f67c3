package bare

import (
	"encoding/binary"

	"mudline/imaging"
)

// tiffKept are the tags that say how the picture is laid out (TIFF 6.0 section 8;
// colour profile: ICC.1 annex B).
var tiffKept = map[uint16]bool{
	254: true, 256: true, 257: true, 258: true, 259: true, 262: true, 266: true, 274: true,
	277: true, 278: true, 282: true, 283: true, 284: true, 292: true, 293: true, 296: true, 317: true, 320: true,
	322: true, 323: true, 338: true, 339: true, 530: true, 531: true, 532: true, 34675: true,
}

// pieces are the tags of where the strips or tiles lie and how long each is.
var pieces = [2][2]uint16{{273, 279}, {324, 325}}

// kindSize is the size of one value of a type in bytes.
var kindSize = map[uint16]int64{1: 1, 2: 1, 3: 2, 4: 4, 5: 8, 6: 1, 7: 1, 8: 2, 9: 4, 10: 8, 11: 4, 12: 8}

// bareTIFF builds a new file of the first picture's strips and what they need.
func bareTIFF(data []byte, info imaging.Info) ([]byte, error) {
	var o byteOrder = binary.BigEndian
	if data[0] == 'I' {
		o = binary.LittleEndian
	}
	entries, err := readDirectory(data, o)
	if err != nil {
		return nil, err
	}
	out := append(make([]byte, 0, len(data)), data[:headerSize]...)
	var top []entry
	for _, tags := range pieces {
		where, sizes := entries[tags[0]], entries[tags[1]]
		if where.count == 0 {
			continue
		}
		from, long1 := numbers(o, where)
		length, long2 := numbers(o, sizes)
		if !long1 || !long2 || len(from) != len(length) {
			return nil, unclear("TIFF") // its strips do not match their lengths
		}
		for i, n := range length {
			if int64(from[i])+int64(n) > int64(len(data)) || len(out)+int(n) > len(data)+headerSize {
				return nil, unclear("TIFF") // its strips lie outside it or over each other
			}
			piece := data[from[i]:][:n]
			from[i] = uint32(len(out))
			out = append(out, piece...)
		}
		top = append(top, long(o, tags[0], from...), long(o, tags[1], length...))
	}
	if len(top) == 0 {
		return nil, unclear("TIFF") // it names no strips
	}
	for tag, e := range entries {
		if tiffKept[tag] && tag != tagOrientation {
			top = append(top, e)
		}
	}
	if len(out)%2 == 1 {
		out = append(out, 0)
	}
	o.PutUint32(out[4:], uint32(len(out)))
	more, exif := facts(o, info)
	return append(out, withExif(o, append(top, more...), exif, len(out))...), nil
}

// readDirectory gives the entries of the first directory by tag, those outside the file
// or of an unknown type left out.
func readDirectory(data []byte, o byteOrder) (map[uint16]entry, error) {
	size := int64(len(data))
	if size < headerSize {
		return nil, unclear("TIFF") // it has no directory
	}
	at := int64(o.Uint32(data[4:]))
	if at+2 > size || at+2+12*int64(o.Uint16(data[at:])) > size {
		return nil, unclear("TIFF") // its directory lies outside it
	}
	out, left := map[uint16]entry{}, size
	for n := int64(o.Uint16(data[at:])); n > 0; n-- {
		b := data[at+2+12*(n-1):]
		e := entry{tag: o.Uint16(b), kind: o.Uint16(b[2:]), count: o.Uint32(b[4:])}
		length := kindSize[e.kind] * int64(e.count)
		from := at + 2 + 12*(n-1) + 8
		if length > 4 {
			from = int64(o.Uint32(b[8:]))
		}
		if length > 0 && from+length <= size && out[e.tag].count == 0 {
			if left -= length; left < 0 {
				return nil, unclear("TIFF") // its values lie over each other
			}
			e.value = data[from : from+length]
			out[e.tag] = e
		}
	}
	return out, nil
}

// numbers gives the whole numbers of an entry.
func numbers(o byteOrder, e entry) (out []uint32, ok bool) {
	for i := range int(e.count) {
		switch e.kind {
		case kindShort:
			out = append(out, uint32(o.Uint16(e.value[2*i:])))
		case kindLong:
			out = append(out, o.Uint32(e.value[4*i:]))
		default:
			return nil, false
		}
	}
	return out, true
}
