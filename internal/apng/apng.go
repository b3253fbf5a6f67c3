// Package apng writes animated PNG pictures (PNG specification, third edition, W3C
// 2025, sections 11.3.6: acTL, fcTL and fdAT). A reader that knows no animation shows
// the first picture.
package apng

import (
	"bytes"
	"encoding/binary"
	"errors"
	"hash/crc32"
	"image"
	"image/png"
	"io"
	"time"

	"mudline/internal/raster"
)

// Frame is one picture and how long it is shown, at most a minute.
type Frame struct {
	Picture *image.Paletted
	Shown   time.Duration
}

// Encode writes pictures of one size and one palette as an animation that begins again
// and again.
func Encode(w io.Writer, frames []Frame) error {
	if len(frames) == 0 {
		return errors.New("an animation without pictures")
	}
	var out bytes.Buffer
	out.WriteString("\x89PNG\r\n\x1a\n")
	sequence := uint32(0)
	for i, f := range frames {
		if f.Picture.Rect.Size() != frames[0].Picture.Rect.Size() || len(f.Picture.Palette) != len(frames[0].Picture.Palette) {
			return errors.New("the pictures of an animation have one size and one palette")
		}
		var one bytes.Buffer
		if err := (&png.Encoder{CompressionLevel: png.BestCompression}).Encode(&one, f.Picture); err != nil {
			return err
		}
		controlled := false
		for _, c := range chunks(one.Bytes()) {
			switch {
			case c.kind == "IDAT":
				if !controlled {
					write(&out, "fcTL", control(sequence, f))
					sequence, controlled = sequence+1, true
				}
				if i == 0 {
					write(&out, "IDAT", c.data)
					continue
				}
				write(&out, "fdAT", append(binary.BigEndian.AppendUint32(nil, sequence), c.data...))
				sequence++
			case i == 0 && c.kind != "IEND":
				write(&out, c.kind, c.data)
				if c.kind == "IHDR" {
					plays := uint32(0) // without end
					write(&out, "acTL", binary.BigEndian.AppendUint32(binary.BigEndian.AppendUint32(nil, uint32(len(frames))), plays))
				}
			}
		}
	}
	write(&out, "IEND", nil)
	_, err := w.Write(raster.Signed(out.Bytes()))
	return err
}

// control is the fcTL chunk of a picture that covers all of the animation.
func control(sequence uint32, f Frame) []byte {
	size := f.Picture.Rect.Size()
	b := binary.BigEndian.AppendUint32(nil, sequence)
	for _, v := range []int{size.X, size.Y, 0, 0} {
		b = binary.BigEndian.AppendUint32(b, uint32(v))
	}
	b = binary.BigEndian.AppendUint16(b, uint16(min(max(f.Shown, 0), time.Minute)/time.Millisecond))
	b = binary.BigEndian.AppendUint16(b, 1000)
	return append(b, 0, 0) // leave it there, and lay the next over it
}

type chunk struct {
	kind string
	data []byte
}

// chunks are those of a PNG file that this program has written.
func chunks(data []byte) (out []chunk) {
	for at := 8; at+12 <= len(data); {
		n := int(binary.BigEndian.Uint32(data[at:]))
		out = append(out, chunk{string(data[at+4 : at+8]), data[at+8 : at+8+n]})
		at += 12 + n
	}
	return out
}

func write(out *bytes.Buffer, kind string, data []byte) {
	body := append([]byte(kind), data...)
	out.Write(binary.BigEndian.AppendUint32(nil, uint32(len(data))))
	out.Write(body)
	out.Write(binary.BigEndian.AppendUint32(nil, crc32.ChecksumIEEE(body)))
}
