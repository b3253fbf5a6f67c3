package bare

import (
	"encoding/binary"
	"math"
	"slices"

	"mudline/imaging"
)

// The tags that are written (TIFF 6.0; CIPA DC-008, Exif 2.32, section 4.6).
const (
	tagOrientation = 0x0112
	tagExif        = 0x8769
	tagTaken       = 0x9003 // DateTimeOriginal
	tagOffset      = 0x9011 // OffsetTimeOriginal
	tagFocal35     = 0xa405 // FocalLengthIn35mmFilm
)

// The types of a value (TIFF 6.0 section 2).
const (
	kindText  = 2
	kindShort = 3
	kindLong  = 4
)

// byteOrder reads and appends numbers.
type byteOrder interface {
	binary.ByteOrder
	binary.AppendByteOrder
}

// entry is one entry of a directory; value holds count values in the file's order.
type entry struct {
	tag, kind uint16
	count     uint32
	value     []byte
}

func short(o byteOrder, tag, v uint16) entry {
	return entry{tag, kindShort, 1, o.AppendUint16(nil, v)}
}

func long(o byteOrder, tag uint16, v ...uint32) entry {
	e := entry{tag: tag, kind: kindLong, count: uint32(len(v))}
	for _, x := range v {
		e.value = o.AppendUint32(e.value, x)
	}
	return e
}

func text(tag uint16, s string) entry {
	return entry{tag, kindText, uint32(len(s) + 1), append([]byte(s), 0)}
}

// directory lays out entries as the directory that begins at a position, what does not
// fit into an entry behind it; no other directory follows.
func directory(o byteOrder, entries []entry, at int) []byte {
	slices.SortFunc(entries, func(a, b entry) int { return int(a.tag) - int(b.tag) })
	out := o.AppendUint16(nil, uint16(len(entries)))
	behind := at + 2 + 12*len(entries) + 4
	var values []byte
	for _, e := range entries {
		out = o.AppendUint32(o.AppendUint16(o.AppendUint16(out, e.tag), e.kind), e.count)
		if len(e.value) <= 4 {
			out = append(append(out, e.value...), make([]byte, 4-len(e.value))...)
			continue
		}
		out = o.AppendUint32(out, uint32(behind+len(values)))
		values = append(values, e.value...)
		if len(values)%2 == 1 {
			values = append(values, 0)
		}
	}
	return append(o.AppendUint32(out, 0), values...)
}

// facts are what stays of the metadata: for the main directory and for that of Exif.
func facts(o byteOrder, info imaging.Info) (top, exif []entry) {
	if info.Orientation > 1 {
		top = append(top, short(o, tagOrientation, uint16(info.Orientation)))
	}
	if !info.Taken.IsZero() {
		exif = append(exif, text(tagTaken, info.Taken.Format("2006:01:02 15:04:05.999999999")))
		if info.HasOffset {
			exif = append(exif, text(tagOffset, info.Taken.Format("-07:00")))
		}
	}
	if f := math.Round(info.Focal35MM); f >= 1 {
		exif = append(exif, short(o, tagFocal35, uint16(f)))
	}
	return top, exif
}

// headerSize is the size of a TIFF header.
const headerSize = 8

// block gives what stays as a TIFF structure, nil where nothing is known.
func block(info imaging.Info) []byte {
	o := binary.BigEndian
	top, exif := facts(o, info)
	if len(top)+len(exif) == 0 {
		return nil
	}
	out := []byte{'M', 'M', 0, 42, 0, 0, 0, headerSize}
	return append(out, withExif(o, top, exif, headerSize)...)
}

// withExif lays out a main directory at a position and that of Exif behind it.
func withExif(o byteOrder, top, exif []entry, at int) []byte {
	if len(exif) == 0 {
		return directory(o, top, at)
	}
	size := len(directory(o, append(slices.Clone(top), long(o, tagExif, 0)), at))
	size += size % 2
	main := directory(o, append(top, long(o, tagExif, uint32(at+size))), at)
	main = append(main, make([]byte, size-len(main))...)
	return append(main, directory(o, exif, at+size)...)
}
