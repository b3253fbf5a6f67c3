package jartest

import (
	"bytes"
	"encoding/binary"
)

// EXIF is what WithEXIF writes; zero fields are left out.
type EXIF struct {
	Orientation uint16
	Taken       string // "2026:05:03 14:03:22"
	Offset      string // "+02:00"
	Focal35MM   uint16
}

// WithEXIF puts an Exif segment (CIPA DC-008, TIFF structure, big-endian) behind
// the start mark of a JPEG file.
func WithEXIF(jpeg []byte, e EXIF) []byte {
	payload := append([]byte("Exif\x00\x00"), e.tiff()...)
	var out bytes.Buffer
	out.Write(jpeg[:2])
	out.Write([]byte{0xff, 0xe1})
	_ = binary.Write(&out, binary.BigEndian, uint16(len(payload)+2))
	out.Write(payload)
	out.Write(jpeg[2:])
	return out.Bytes()
}

// field is one entry of a directory; text counts as ASCII, otherwise SHORT.
type field struct {
	tag    uint16
	text   string
	number uint32
	long   bool
}

func (e EXIF) tiff() []byte {
	var main, sub []field
	if e.Orientation != 0 {
		main = append(main, field{tag: 0x0112, number: uint32(e.Orientation)})
	}
	if e.Taken != "" {
		sub = append(sub, field{tag: 0x9003, text: e.Taken})
	}
	if e.Offset != "" {
		sub = append(sub, field{tag: 0x9011, text: e.Offset})
	}
	if e.Focal35MM != 0 {
		sub = append(sub, field{tag: 0xa405, number: uint32(e.Focal35MM)})
	}
	const header = 8
	subAt := header + len(directory(append(main, field{tag: 0x8769, long: true}), header))
	main = append(main, field{tag: 0x8769, number: uint32(subAt), long: true})
	out := []byte{'M', 'M', 0, 42, 0, 0, 0, header}
	out = append(out, directory(main, header)...)
	return append(out, directory(sub, subAt)...)
}

// directory lays out the fields of one directory that begins at a position,
// with the texts behind it.
func directory(fields []field, at int) []byte {
	be := binary.BigEndian
	out := be.AppendUint16(nil, uint16(len(fields)))
	textAt := at + 2 + 12*len(fields) + 4
	var texts []byte
	for _, f := range fields {
		out = be.AppendUint16(out, f.tag)
		switch {
		case f.text != "":
			out = be.AppendUint16(out, 2)
			out = be.AppendUint32(out, uint32(len(f.text)+1))
			out = be.AppendUint32(out, uint32(textAt+len(texts)))
			texts = append(texts, f.text...)
			texts = append(texts, 0)
		case f.long:
			out = be.AppendUint16(out, 4)
			out = be.AppendUint32(out, 1)
			out = be.AppendUint32(out, f.number)
		default:
			out = be.AppendUint16(out, 3)
			out = be.AppendUint32(out, 1)
			out = be.AppendUint32(out, f.number<<16)
		}
	}
	out = be.AppendUint32(out, 0)
	return append(out, texts...)
}
