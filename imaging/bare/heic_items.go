package bare

import (
	"cmp"
	"encoding/binary"
	"slices"

	"mudline/imaging"
)

// items are the items of a HEIC file by their number.
type items struct {
	picture map[uint32]bool    // those that make the picture
	extents map[uint32][]place // where each lies
	exif    uint32             // the item of metadata; 0 without
}

// place is a stretch of the file, or of the idat box.
type place struct {
	from, to uint64
	inside   bool // of idat
}

// readItems reads what the parts of a meta box say of its items.
func readItems(data []byte, parts map[string]box) (*items, error) {
	bad := unclear("HEIC") // its list of items is broken
	it := &items{picture: map[uint32]bool{}, extents: map[uint32][]place{}}
	r := in(data, parts["pitm"])
	primary := r.id(r.version() > 0)
	if r.failed {
		return nil, bad
	}
	references, ok := readReferences(data, parts["iref"])
	if !ok {
		return nil, bad
	}
	it.follow(primary, references)
	if !it.readInfo(data, parts["iinf"]) || !it.readPlaces(data, parts["iloc"]) {
		return nil, bad
	}
	return it, nil
}

// reference says that an item is made of, or belongs to, another.
type reference struct {
	kind     string
	from, to uint32
}

func readReferences(data []byte, b box) (out []reference, ok bool) {
	if b.kind == "" {
		return nil, true
	}
	r := in(data, b)
	wide := r.version() > 0
	for _, c := range boxes(data, r.at, b.to) {
		r := in(data, c)
		from := r.id(wide)
		for n := r.number(2); n > 0 && !r.failed; n-- {
			out = append(out, reference{c.kind, from, r.id(wide)})
		}
		if r.failed {
			return nil, false
		}
	}
	return out, true
}

// follow counts an item as part of the picture, with what it is derived from and what
// tells of its pixels (transparency, depth). Small copies ("thmb") and descriptions
// ("cdsc") are not among them.
func (it *items) follow(item uint32, references []reference) {
	todo := []uint32{item}
	for len(todo) > 0 {
		one := todo[0]
		todo = todo[1:]
		if it.picture[one] {
			continue
		}
		it.picture[one] = true
		for _, r := range references {
			switch {
			case r.kind == "dimg" && r.from == one:
				todo = append(todo, r.to)
			case r.kind == "auxl" && r.to == one:
				todo = append(todo, r.from)
			}
		}
	}
}

// readInfo finds the item of metadata, takes items that are no part of the picture out of
// sight and blanks the names of all.
func (it *items) readInfo(data []byte, b box) bool {
	r := in(data, b)
	count := r.number(2 + 2*min(int(r.version()), 1))
	entries := boxes(data, r.at, b.to)
	if r.failed || uint64(len(entries)) < count {
		return false
	}
	for _, e := range entries {
		r := in(data, e)
		version := r.version()
		if e.kind != "infe" || version < 2 {
			return false
		}
		id := r.id(version > 2)
		r.number(2) // protection
		kind := r.number(4)
		if r.failed {
			return false
		}
		clear(data[r.at:e.to])
		if it.picture[id] {
			continue
		}
		data[e.from+3] |= 1 // hidden
		if kind == uint64(binary.BigEndian.Uint32([]byte("Exif"))) && it.exif == 0 {
			it.exif = id
		}
	}
	return true
}

// readPlaces reads where the items lie.
func (it *items) readPlaces(data []byte, b box) bool {
	r := in(data, b)
	version := r.version()
	sizes := r.number(2)
	wide := version > 1
	count := r.number(2 + 2*max(int(version)-1, 0))
	nibble := func(k int) int { return int(sizes >> (12 - 4*k) & 15) }
	if version > 2 || nibble(0) > 8 || nibble(1) > 8 || nibble(2) > 8 || nibble(3) > 8 {
		return false
	}
	for ; count > 0 && !r.failed; count-- {
		id := r.id(wide)
		method := uint64(0)
		if version > 0 {
			method = r.number(2) & 15
		}
		elsewhere := r.number(2) != 0
		base := r.number(nibble(2))
		for n := r.number(2); n > 0 && !r.failed; n-- {
			if version > 0 {
				r.number(nibble(3))
			}
			from := base + r.number(nibble(0))
			length := r.number(nibble(1))
			if elsewhere || method > 1 || length == 0 || from+length < from {
				return false
			}
			it.extents[id] = append(it.extents[id], place{from, from + length, method == 1})
		}
	}
	return !r.failed
}

// places gives the stretches of the file in which the picture lies, and those of all else.
func (it *items) places(data []byte, idat box) (kept, gone []place, err error) {
	for id, extents := range it.extents {
		for i, p := range extents {
			end := uint64(len(data))
			if p.inside {
				p = place{from: p.from + uint64(idat.from), to: p.to + uint64(idat.from)}
				end = uint64(idat.to)
			}
			if p.to > end || p.from > p.to {
				return nil, nil, unclear("HEIC") // an item lies outside it
			}
			extents[i] = p
			if it.picture[id] {
				kept = append(kept, p)
			} else {
				gone = append(gone, p)
			}
		}
	}
	if len(kept) == 0 {
		return nil, nil, unclear("HEIC") // its picture lies nowhere
	}
	return kept, gone, nil
}

// zeroOutside zeroes what lies in the boxes of content and in no place that is kept.
func zeroOutside(data []byte, content []box, kept, gone []place) error {
	byStart := func(a, b place) int { return cmp.Compare(a.from, b.from) }
	slices.SortFunc(kept, byStart)
	slices.SortFunc(gone, byStart)
	if overlap(kept, gone) {
		return unclear("HEIC") // items lie over each other
	}
	for _, b := range content {
		at := uint64(b.from)
		for _, k := range kept {
			if k.to <= at || k.from >= uint64(b.to) {
				continue
			}
			if k.from > at {
				clear(data[at:k.from])
			}
			at = k.to
		}
		if at < uint64(b.to) {
			clear(data[at:b.to])
		}
	}
	return nil
}

// overlap says whether a place of the one list lies over one of the other; both are in
// order of where they begin.
func overlap(a, b []place) bool {
	for _, p := range a {
		for len(b) > 0 && b[0].from < p.to {
			if b[0].to > p.from {
				return true
			}
			b = b[1:]
		}
	}
	return false
}

// writeExif puts the facts that stay where the metadata were.
func (it *items) writeExif(data []byte, info imaging.Info) error {
	b := block(info)
	if b == nil {
		return nil
	}
	where := it.extents[it.exif]
	b = append([]byte{0, 0, 0, 0}, b...) // where the TIFF header begins behind these four bytes
	if it.exif == 0 || len(where) != 1 || where[0].to-where[0].from < uint64(len(b)) {
		return unclear("HEIC") // its metadata lie in pieces
	}
	copy(data[where[0].from:], b)
	return nil
}

// reader reads numbers of a box; failed turns true when it ends before them.
type reader struct {
	data   []byte
	at, to int
	failed bool
}

func in(data []byte, b box) *reader { return &reader{data: data, at: b.from, to: b.to} }

// number reads a number of 0 to 8 bytes.
func (r *reader) number(size int) (v uint64) {
	if r.to-r.at < size {
		r.failed, r.at = true, r.to
		return 0
	}
	for _, b := range r.data[r.at : r.at+size] {
		v = v<<8 | uint64(b)
	}
	r.at += size
	return v
}

// version reads the version and flags of a full box.
func (r *reader) version() uint64 { return r.number(4) >> 24 }

func (r *reader) id(wide bool) uint32 {
	if wide {
		return uint32(r.number(4))
	}
	return uint32(r.number(2))
}
