package bare

import (
	"bytes"
	"encoding/binary"

	"mudline/imaging"
)

// heicProperties are the properties that say how to show an item (ISO/IEC 23008-12
// section 6.5).
var heicProperties = map[string]bool{
	"hvcC": true, "lhvC": true, "ispe": true, "pixi": true, "colr": true, "irot": true, "imir": true,
	"clap": true, "pasp": true, "auxC": true, "rloc": true, "clli": true, "mdcv": true, "free": true,
}

// bareHEIC zeroes, in a copy, all that is no part of the picture. Nothing moves, since
// the places of items are stated from the file's start (ISO/IEC 14496-12 section
// 8.11.3). Films, notes and whatever else lies behind the picture are zeroed too.
func bareHEIC(data []byte, info imaging.Info) ([]byte, error) {
	out := bytes.Clone(data)
	top := boxes(out, 0, len(out))
	if len(top) > 0 {
		out = out[:top[len(top)-1].to] // what follows is not made of boxes
	}
	var parts map[string]box
	var content []box
	for _, b := range top {
		switch {
		case b.kind == "ftyp":
		case b.kind == "meta" && parts == nil && b.to-b.from >= 4:
			parts = cleanMeta(out, b)
		case b.kind == "mdat":
			content = append(content, b)
		default:
			b.free(out)
		}
	}
	items, err := readItems(out, parts)
	if err != nil {
		return nil, err
	}
	kept, gone, err := items.places(out, parts["idat"])
	if err != nil {
		return nil, err
	}
	if b, ok := parts["idat"]; ok {
		content = append(content, b)
	}
	if err := zeroOutside(out, content, kept, gone); err != nil {
		return nil, err
	}
	return out, items.writeExif(out, info)
}

// cleanMeta gives the parts of the meta box by kind, and zeroes those that describe no
// picture.
func cleanMeta(data []byte, meta box) map[string]box {
	parts := map[string]box{}
	for _, b := range boxes(data, meta.from+4, meta.to) {
		switch b.kind {
		case "hdlr", "dinf", "pitm", "iinf", "iref", "iprp", "iloc", "idat", "grpl":
			if _, twice := parts[b.kind]; !twice {
				parts[b.kind] = b
				continue
			}
		}
		b.free(data)
	}
	if b, ok := parts["iprp"]; ok {
		for _, c := range boxes(data, b.from, b.to) {
			if c.kind != "ipco" {
				continue
			}
			for _, property := range boxes(data, c.from, c.to) {
				if !heicProperties[property.kind] {
					property.free(data)
				}
			}
		}
	}
	return parts
}

// box is one box of a file; its content is from..to.
type box struct {
	kind         string
	at, from, to int
}

// free turns a box into one that readers pass over, with nothing in it.
func (b box) free(data []byte) {
	copy(data[b.at+4:], "free")
	clear(data[b.from:b.to])
}

// boxes gives the boxes that fill data[at:end], up to the first that is broken.
func boxes(data []byte, at, end int) (out []box) {
	for end-at >= 8 {
		size, head := uint64(binary.BigEndian.Uint32(data[at:])), 8
		switch {
		case size == 0:
			size = uint64(end - at)
		case size == 1 && end-at >= 16:
			size, head = binary.BigEndian.Uint64(data[at+8:]), 16
		}
		if size < uint64(head) || size > uint64(end-at) {
			break
		}
		out = append(out, box{string(data[at+4 : at+8]), at, at + head, at + int(size)})
		at += int(size)
	}
	return out
}
