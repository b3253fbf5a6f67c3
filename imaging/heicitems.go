package imaging

import "encoding/binary"

// extent is a piece of a HEIC file that holds coded data.
type extent struct{ from, length uint64 }

// codedExtents lists where the HEVC picture of a HEIC file lies: the primary item
// itself, or the tiles it is put together from. meta is the content of the meta
// box (ISO/IEC 14496-12 section 8.11). What is not understood is left out.
func codedExtents(meta []byte) []extent {
	if len(meta) < 4 {
		return nil
	}
	kinds, tiles := map[uint32]string{}, map[uint32][]uint32{}
	var primary uint32
	var out []extent
	eachBox(meta[4:], func(kind string, body []byte) {
		switch kind {
		case "iinf":
			itemKinds(body, kinds)
		case "pitm":
			r := bits{data: body}
			version := r.number(1)
			r.number(3)
			primary = uint32(r.number(idSize(version > 0)))
		case "iref":
			tileReferences(body, tiles)
		}
	})
	kinds = partsOf(primary, kinds, tiles)
	eachBox(meta[4:], func(kind string, body []byte) {
		if kind == "iloc" {
			out = locations(body, kinds)
		}
	})
	return out
}

// eachBox calls visit for every box in data, as far as they are whole.
func eachBox(data []byte, visit func(kind string, body []byte)) {
	for len(data) >= 8 {
		size := uint64(be32(data))
		if size == 0 {
			size = uint64(len(data))
		}
		if size < 8 || size > uint64(len(data)) {
			return
		}
		visit(string(data[4:8]), data[8:size])
		data = data[size:]
	}
}

// idSize is the bytes of an item's number.
func idSize(long bool) int {
	if long {
		return 4
	}
	return 2
}

// tileReferences reads from an item reference box which items a picture is put
// together from (references of kind dimg).
func tileReferences(body []byte, into map[uint32][]uint32) {
	if len(body) < 4 {
		return
	}
	size := idSize(body[0] > 0)
	eachBox(body[4:], func(kind string, b []byte) {
		r := bits{data: b}
		from := uint32(r.number(size))
		for range r.number(2) {
			if to := uint32(r.number(size)); kind == "dimg" && !r.short {
				into[from] = append(into[from], to)
			}
		}
	})
}

// partsOf keeps the kinds of an item and of the tiles it is put together from; all
// where the item is not known. Small copies and their tiles are no part of it.
func partsOf(item uint32, kinds map[uint32]string, tiles map[uint32][]uint32) map[uint32]string {
	if kinds[item] == "" {
		return kinds
	}
	kept := map[uint32]string{item: kinds[item]}
	for _, t := range tiles[item] {
		kept[t] = kinds[t]
	}
	return kept
}

// itemKinds reads the kinds of the items from an item information box.
func itemKinds(body []byte, into map[uint32]string) {
	skip := 6
	if len(body) > 0 && body[0] > 0 {
		skip = 8
	}
	if len(body) < skip {
		return
	}
	eachBox(body[skip:], func(kind string, e []byte) {
		r := bits{data: e}
		version := r.number(1)
		r.number(3)
		if kind != "infe" || version < 2 {
			return
		}
		idBytes := 2
		if version >= 3 {
			idBytes = 4
		}
		id := uint32(r.number(idBytes))
		r.number(2)
		if name := r.take(4); name != nil {
			into[id] = string(name)
		}
	})
}

// locations reads where the items of kind hvc1 lie from an item location box.
func locations(body []byte, kinds map[uint32]string) (out []extent) {
	r := bits{data: body}
	version := r.number(1)
	r.number(3)
	sizes := r.number(2) // four of four bits
	offsetBytes, lengthBytes, baseBytes, indexBytes := int(sizes>>12), int(sizes>>8&15), int(sizes>>4&15), int(sizes&15)
	idBytes := 2
	if version == 2 {
		idBytes = 4
	}
	if version == 0 {
		indexBytes = 0
	}
	for range r.number(idBytes) {
		id, method := uint32(r.number(idBytes)), uint64(0)
		if version > 0 {
			method = r.number(2) & 15
		}
		r.number(2)
		base := r.number(baseBytes)
		for range r.number(2) {
			r.number(indexBytes)
			e := extent{base + r.number(offsetBytes), r.number(lengthBytes)}
			if r.short {
				return out
			}
			if kinds[id] == "hvc1" && method == 0 {
				out = append(out, e)
			}
		}
		if r.short {
			return out
		}
	}
	return out
}

// bits reads numbers from the front of data; short says that it ran out.
type bits struct {
	data  []byte
	short bool
}

func (r *bits) take(n int) []byte {
	if n > len(r.data) {
		r.short, r.data = true, nil
		return nil
	}
	b := r.data[:n]
	r.data = r.data[n:]
	return b
}

// number reads a big-endian number of n bytes, at most 8.
func (r *bits) number(n int) uint64 {
	var whole [8]byte
	if n > 8 {
		r.short = true
		return 0
	}
	copy(whole[8-n:], r.take(n))
	return binary.BigEndian.Uint64(whole[:])
}
