package bare

import (
	"encoding/binary"
	"hash/crc32"

	"mudline/imaging"
)

// pngKept are the chunks of PNG that make the picture and its colours (PNG third
// edition, sections 11.2 and 11.3).
var pngKept = map[string]bool{
	"IHDR": true, "PLTE": true, "IDAT": true, "IEND": true, "tRNS": true,
	"cHRM": true, "gAMA": true, "iCCP": true, "sBIT": true, "sRGB": true, "cICP": true,
}

// barePNG copies the chunks that are kept, up to the last.
func barePNG(data []byte, info imaging.Info) ([]byte, error) {
	const head, frame = 8, 12 // of the file; round a chunk's content
	out := append(make([]byte, 0, len(data)+200), data[:head]...)
	for rest := data[head:]; ; {
		if len(rest) < frame {
			return nil, unclear("PNG") // it has no end
		}
		size := int64(binary.BigEndian.Uint32(rest)) + frame
		if size > int64(len(rest)) {
			return nil, unclear("PNG") // a chunk has an impossible length
		}
		kind := string(rest[4:8])
		if pngKept[kind] {
			out = append(out, rest[:size]...)
		}
		if kind == "IEND" {
			return out, nil
		}
		if b := block(info); kind == "IHDR" && b != nil {
			out = binary.BigEndian.AppendUint32(out, uint32(len(b)))
			from := len(out)
			out = append(append(out, "eXIf"...), b...)
			out = binary.BigEndian.AppendUint32(out, crc32.ChecksumIEEE(out[from:]))
		}
		rest = rest[size:]
	}
}

// The flags of WebP's extended header (RFC 9649 section 2.7.1).
const (
	webpICC, webpAlpha, webpExif = 0x20, 0x10, 0x08
)

// bareWebP copies the picture with its transparency and colour profile.
func bareWebP(data []byte, info imaging.Info) ([]byte, error) {
	body := data[12 : int64(binary.LittleEndian.Uint32(data[4:]))+8]
	var flags byte
	var extended bool
	var kept []byte
	for len(body) >= 8 {
		kind, size := string(body[:4]), int64(binary.LittleEndian.Uint32(body[4:]))
		if size+8 > int64(len(body)) {
			return nil, unclear("WebP") // a chunk has an impossible length
		}
		content := body[8 : 8+size]
		switch kind {
		case "VP8X":
			extended = true
		case "ICCP":
			flags |= webpICC
		case "ALPH":
			flags |= webpAlpha
		}
		switch kind {
		case "ICCP", "ALPH", "VP8 ", "VP8L":
			kept = appendChunk(kept, kind, content)
		}
		body = body[min(8+size+size%2, int64(len(body))):]
	}
	exif := block(info)
	if exif != nil {
		flags |= webpExif
		kept = appendChunk(kept, "EXIF", exif)
	}
	out := append([]byte("RIFF"), 0, 0, 0, 0)
	out = append(out, "WEBP"...)
	if extended || exif != nil {
		w, h := info.W-1, info.H-1
		out = appendChunk(out, "VP8X", []byte{flags, 0, 0, 0,
			byte(w), byte(w >> 8), byte(w >> 16), byte(h), byte(h >> 8), byte(h >> 16)})
	}
	out = append(out, kept...)
	binary.LittleEndian.PutUint32(out[4:], uint32(len(out)-8))
	return out, nil
}

func appendChunk(out []byte, kind string, content []byte) []byte {
	out = binary.LittleEndian.AppendUint32(append(out, kind...), uint32(len(content)))
	out = append(out, content...)
	if len(content)%2 == 1 {
		out = append(out, 0)
	}
	return out
}
