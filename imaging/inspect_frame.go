package imaging

import (
	"bytes"
	"encoding/binary"

	"github.com/bep/imagemeta"

	"mudline/internal/words"
)

func be16(b []byte) int    { return int(binary.BigEndian.Uint16(b)) }
func be32(b []byte) uint32 { return binary.BigEndian.Uint32(b) }
func le32(b []byte) uint32 { return binary.LittleEndian.Uint32(b) }

// maxScans is far more than the ten or so of a progressive picture.
const maxScans = 100

// frameJPEG walks the segments of a JPEG file (ITU-T T.81 annex B) to the frame
// header for the size, and then to the end-of-image marker. Entropy-coded data
// holds no marker but the restart ones, so a file without the end marker has
// been cut. Each scan costs a pass over all pixels, and may be a few bytes long: a file
// with more of them than encoders write would take hours.
func frameJPEG(data []byte, info *Info) error {
	at, scans := 2, 0
	for {
		marker, next := nextMarker(data, at)
		if next < 0 {
			return truncated(len(data), words.Say("photo.end-before-mark"))
		}
		at = next
		switch {
		case marker == 0xd9: // end of image
			if info.W == 0 {
				return damaged(words.Say("photo.jpeg-without-picture"))
			}
			return nil
		case marker >= 0xd0 && marker <= 0xd8 || marker == 0x01: // no payload
			continue
		}
		if at+2 > len(data) {
			return truncated(len(data), words.Say("photo.end-in-segment-header"))
		}
		length := be16(data[at:])
		if length < 2 {
			return damaged(words.Say("photo.jpeg-segment", words.Whole("length", length)))
		}
		if at+length > len(data) {
			return truncated(len(data), words.Say("photo.end-in-segment"))
		}
		if err := frameHeader(marker, data[at:at+length], info); err != nil {
			return err
		}
		if marker == 0xda {
			scans++
		}
		if scans > maxScans {
			return damaged(words.Say("photo.jpeg-scans", words.Whole("most", maxScans)))
		}
		at += length
	}
}

// nextMarker finds the next JPEG marker from at, skipping entropy-coded data:
// next is the position behind it, -1 when there is none.
func nextMarker(data []byte, at int) (marker byte, next int) {
	for at < len(data) {
		i := bytes.IndexByte(data[at:], 0xff)
		if i < 0 {
			return 0, -1
		}
		at += i + 1
		for at < len(data) && data[at] == 0xff { // fill bytes
			at++
		}
		if at < len(data) && data[at] != 0 { // 0 is a stuffed byte
			return data[at], at + 1
		}
	}
	return 0, -1
}

// frameHeader takes the size from a start-of-frame segment and passes over any
// other.
func frameHeader(marker byte, segment []byte, info *Info) error {
	if marker < 0xc0 || marker > 0xcf || marker == 0xc4 || marker == 0xc8 || marker == 0xcc {
		return nil
	}
	if marker > 0xc2 {
		return refuse(CodeUnsupported, words.Say("photo.jpeg-process", words.Whole("process", int(marker-0xc0))), useJPEG)
	}
	if len(segment) < 7 {
		return damaged(words.Say("photo.jpeg-frame"))
	}
	if info.W != 0 {
		return damaged(words.Say("photo.jpeg-frames"))
	}
	info.H, info.W = be16(segment[3:]), be16(segment[5:])
	// Refused here, before the walk through the rest of the file.
	return checkSize(info.W, info.H)
}

// framePNG walks the chunks of a PNG file to IEND.
func framePNG(data []byte, info *Info) error {
	at := 8
	for first := true; ; first = false {
		if at+8 > len(data) {
			return truncated(len(data), words.Say("photo.end-before-end-chunk"))
		}
		length, kind := int64(be32(data[at:])), string(data[at+4:at+8])
		if first && (kind != "IHDR" || length != 13) {
			return damaged(words.Say("photo.png-header"))
		}
		if first && at+16 <= len(data) {
			w, h := be32(data[at+8:]), be32(data[at+12:])
			if w > 1<<31-1 || h > 1<<31-1 {
				return damaged(words.Say("photo.png-size"))
			}
			info.W, info.H = int(w), int(h)
			if err := checkSize(info.W, info.H); err != nil {
				return err
			}
		}
		if int64(at)+12+length > int64(len(data)) {
			return truncated(len(data), words.Say("photo.end-in-kind-of-chunk", words.Quoted("kind", kind)))
		}
		if kind == "IEND" {
			return nil
		}
		at += 12 + int(length)
	}
}

// frameHEIC walks the outermost boxes of a HEIC file (ISO/IEC 14496-12) to its
// end and takes the size of the primary item. What some cameras append behind
// the picture need not be made of boxes.
func frameHEIC(data []byte, info *Info) error {
	seen := map[string]bool{}
	var meta []byte
	for at := int64(0); at < int64(len(data)) && !(seen["meta"] && seen["mdat"]); {
		rest := data[at:]
		if len(rest) < 8 {
			return truncated(len(data), words.Say("photo.end-in-box-header"))
		}
		size := uint64(be32(rest))
		switch {
		case size == 0: // to the end of the file
			size = uint64(len(rest))
		case size == 1 && len(rest) < 16:
			return truncated(len(data), words.Say("photo.end-in-box-header"))
		case size == 1:
			size = binary.BigEndian.Uint64(rest[8:])
		}
		if size < 8 {
			return damaged(words.Say("photo.heic-box", words.Decimal("length", float64(size), 0)))
		}
		if size > uint64(len(rest)) {
			return truncated(len(data), words.Say("photo.end-in-kind-of-box", words.Quoted("kind", string(rest[4:8]))))
		}
		seen[string(rest[4:8])] = true
		if string(rest[4:8]) == "meta" {
			meta = rest[8:size]
		}
		at += int64(size)
	}
	if !seen["meta"] || !seen["mdat"] {
		return truncated(len(data), words.Say("photo.end-before-picture"))
	}
	res, err := imagemeta.Decode(imagemeta.Options{
		R: bytes.NewReader(data), ImageFormat: imagemeta.HEIF, Sources: imagemeta.CONFIG,
	})
	if err != nil || res.ImageConfig.Width == 0 {
		return damaged(words.Say("photo.heic-size"))
	}
	info.W, info.H = res.ImageConfig.Width, res.ImageConfig.Height
	return wholeHEIC(data, meta)
}

// isRawTIFF tells a camera's raw file (whose first directory holds a small
// preview) from a plain TIFF: it carries DNGVersion, or its first directory is
// marked as a reduced copy (NewSubfileType bit 0, TIFF 6.0 section 8).
func isRawTIFF(data []byte) bool {
	var order binary.ByteOrder = binary.BigEndian
	if data[0] == 'I' {
		order = binary.LittleEndian
	}
	if len(data) >= 10 && string(data[8:10]) == "CR" {
		return true
	}
	if len(data) < 8 {
		return false
	}
	at := int64(order.Uint32(data[4:]))
	if at+2 > int64(len(data)) {
		return false
	}
	const tagSubfile, tagDNGVersion = 254, 50706
	n := int64(order.Uint16(data[at:]))
	for e := at + 2; n > 0 && e+12 <= int64(len(data)); e, n = e+12, n-1 {
		switch order.Uint16(data[e:]) {
		case tagDNGVersion:
			return true
		case tagSubfile:
			if order.Uint32(data[e+8:])&1 != 0 {
				return true
			}
		}
	}
	return false
}
