package imaging_test

import (
	"bytes"
	"encoding/binary"
	"hash/crc32"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mudline/imaging"
)

// pngChunk is a chunk as PNG frames it.
func pngChunk(kind string, content ...byte) []byte {
	out := binary.BigEndian.AppendUint32(nil, uint32(len(content)))
	out = append(append(out, kind...), content...)
	return binary.BigEndian.AppendUint32(out, crc32.ChecksumIEEE(out[4:]))
}

func pngHead(w, h uint32) []byte {
	head := binary.BigEndian.AppendUint32(binary.BigEndian.AppendUint32(nil, w), h)
	return slices.Concat([]byte("\x89PNG\r\n\x1a\n"), pngChunk("IHDR", append(head, 8, 2, 0, 0, 0)...))
}

// jpegClaiming gives a picture another size in its frame header.
func jpegClaiming(data []byte, w, h uint16) []byte {
	out := bytes.Clone(data)
	at := bytes.Index(out, []byte{0xff, 0xc0})
	if at < 0 {
		at = bytes.Index(out, []byte{0xff, 0xc2})
	}
	binary.BigEndian.PutUint16(out[at+5:], h)
	binary.BigEndian.PutUint16(out[at+7:], w)
	return out
}

// A file made to do harm, or damaged on its way, is refused with its reason, soon, and
// before memory is asked for that it only claims to need.
func TestHostileFiles(t *testing.T) {
	progressive, heic := fixture(t, "quadrants-progressive.jpg"), fixture(t, "quadrants.heic")
	plain := plainJPEG(t, 300, 400)
	scan := []byte{0xff, 0xda, 0, 8, 1, 1, 0, 1, 5, 0} // of one component, with no data
	manyScans := slices.Concat(jpegClaiming(progressive, 3000, 4000)[:len(progressive)-2], bytes.Repeat(scan, 5000), []byte{0xff, 0xd9})
	turned := bytes.Clone(heic)
	for i := len(turned) / 2; i < len(turned)-40; i += 37 {
		turned[i] ^= 0x55
	}
	loop := []byte("II*\x00\x08\x00\x00\x00\x01\x00\x00\x01\x04\x00\xff\xff\xff\xff\x08\x00\x00\x00\x08\x00\x00\x00")
	_, err := imaging.Open(imaging.PureGo{}, "a_2h", heic) // its decoder is built once
	require.NoError(t, err)
	for name, c := range map[string]struct {
		data  []byte
		codes string
	}{
		"jpeg, 4 gigapixels":             {jpegClaiming(plain, 65500, 65500), imaging.CodeTooLarge},
		"jpeg, no pixels":                {jpegClaiming(plain, 0, 0), imaging.CodeTooSmall},
		"jpeg, 5000 scans":               {manyScans, imaging.CodeDamaged},
		"jpeg, larger than its data":     {jpegClaiming(plain, 9000, 9000), imaging.CodeDamaged + " " + imaging.CodeTruncated},
		"jpeg, segment of no length":     {[]byte("\xff\xd8\xff\xe1\x00\x00Exif\xff\xd9"), imaging.CodeDamaged},
		"jpeg, nothing but marks":        {slices.Concat([]byte{0xff, 0xd8}, bytes.Repeat([]byte{0xff}, 1<<20)), imaging.CodeTruncated},
		"png, 3 gigapixels":              {slices.Concat(pngHead(60000, 50000), pngChunk("IEND")), imaging.CodeTooLarge},
		"png, a size beyond 31 bits":     {slices.Concat(pngHead(1<<31+5, 300), pngChunk("IEND")), imaging.CodeDamaged},
		"png, 100 megapixels of nothing": {slices.Concat(pngHead(10000, 10000), pngChunk("IDAT"), pngChunk("IEND")), imaging.CodeDamaged + " " + imaging.CodeTruncated},
		"png, wrong checksum":            {slices.Concat(pngHead(300, 400)[:30], []byte("xxx"), pngChunk("IEND")), imaging.CodeDamaged + " " + imaging.CodeTruncated},
		"webp, longer than it is":        {[]byte("RIFF\xff\xff\xff\x7fWEBPVP8 \x00\x00\x00\x00"), imaging.CodeTruncated},
		"tiff, a directory in a circle":  {loop, imaging.CodeDamaged + " " + imaging.CodeTruncated + " " + imaging.CodeTooSmall},
		"heic, turned bits":              {turned, ""},
		"heic, a box of no length":       {slices.Concat(heic[:binary.BigEndian.Uint32(heic)], []byte("\x00\x00\x00\x01meta\x00\x00\x00\x00\x00\x00\x00\x00")), imaging.CodeDamaged},
		"a page, not a picture":          {[]byte("<html><script>alert(1)</script>"), imaging.CodeNotImage},
		"a program":                      {[]byte("\x7fELF\x02\x01\x01"), imaging.CodeNotImage},
	} {
		began := time.Now()
		_, err := imaging.Open(imaging.PureGo{}, "a_2h", c.data)
		if c.codes != "" { // else damage that nobody need see
			require.Error(t, err, name)
			assert.Contains(t, strings.Fields(c.codes), refusalOf(t, err).Code, "%s: %v", name, err)
		}
		assert.Less(t, time.Since(began), 30*time.Second, name)
		inspected := testing.AllocsPerRun(1, func() { _, _ = imaging.Inspect(c.data) })
		assert.Less(t, inspected, 2000.0, name)
	}
}
