package bare

import (
	"bytes"
	"encoding/binary"

	"mudline/imaging"
)

// The markers of JPEG that need a word (ITU-T T.81 table B.1).
const (
	markRST0, markRST7 = 0xd0, 0xd7
	markSOI, markEOI   = 0xd8, 0xd9
	markSOS            = 0xda
	markTEM            = 0x01
)

// bareJPEG copies the segments that make the picture and the coded data, up to the
// end mark. Whatever lies between segments or behind the end is left out.
func bareJPEG(data []byte, info imaging.Info) ([]byte, error) {
	out := append(make([]byte, 0, len(data)+200), 0xff, markSOI)
	exif := exifSegment(info)
	for at := 2; ; {
		mark, next := nextMark(data, at)
		at = next
		switch {
		case mark == markEOI:
			return append(out, 0xff, markEOI), nil
		case mark == 0:
			return nil, unclear("JPEG") // it has no end
		case mark >= markRST0 && mark <= markSOI || mark == markTEM:
			continue // the data of a scan are copied with those inside
		}
		end := at
		if at+2 <= len(data) {
			end += int(binary.BigEndian.Uint16(data[at:]))
		}
		if end < at+2 || end > len(data) {
			return nil, unclear("JPEG") // a segment has an impossible length
		}
		if kept := keepSegment(mark, data[at+2:end]); kept != nil {
			if mark != 0xe0 && exif != nil { // behind JFIF's own segment, before all others
				out, exif = append(out, exif...), nil
			}
			out = binary.BigEndian.AppendUint16(append(out, 0xff, mark), uint16(len(kept)+2))
			out = append(out, kept...)
		}
		if at = end; mark == markSOS {
			end := endOfScan(data, at)
			out = append(out, data[at:end]...)
			at = end
		}
	}
}

// nextMark finds the next marker from at; mark is 0 where there is none.
func nextMark(data []byte, at int) (mark byte, next int) {
	for at < len(data) {
		i := bytes.IndexByte(data[at:], 0xff)
		if i < 0 {
			break
		}
		for at += i + 1; at < len(data) && data[at] == 0xff; { // fill bytes
			at++
		}
		if at < len(data) && data[at] != 0 {
			return data[at], at + 1
		}
	}
	return 0, len(data)
}

// endOfScan gives where coded data end that begin at a position: at the next marker
// that is none of restart.
func endOfScan(data []byte, at int) int {
	for {
		mark, next := nextMark(data, at)
		if mark == 0 {
			return next
		}
		if mark < markRST0 || mark > markRST7 {
			return next - 2
		}
		at = next
	}
}

// keepSegment gives what stays of a segment's content, nil for nothing: the tables and
// headers of the picture, the colour profile, and the bare facts of JFIF and Adobe.
func keepSegment(mark byte, s []byte) []byte {
	switch {
	case mark >= 0xc0 && mark <= 0xcf, mark >= markSOS && mark <= 0xdd: // also DQT, DNL, DRI
		return s
	case mark == 0xe0 && len(s) >= 14 && string(s[:5]) == "JFIF\x00":
		return append(bytes.Clone(s[:12]), 0, 0) // without its thumbnail
	case mark == 0xe2 && bytes.HasPrefix(s, []byte("ICC_PROFILE\x00")):
		return s
	case mark == 0xee && len(s) >= 12 && string(s[:5]) == "Adobe":
		return s[:12]
	}
	return nil
}

func exifSegment(info imaging.Info) []byte {
	b := block(info)
	if b == nil {
		return nil
	}
	const id = "Exif\x00\x00"
	out := binary.BigEndian.AppendUint16([]byte{0xff, 0xe1}, uint16(2+len(id)+len(b)))
	return append(append(out, id...), b...)
}
