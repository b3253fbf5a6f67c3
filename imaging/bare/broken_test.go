package bare

import (
	"bytes"
	"encoding/binary"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mudline/imaging"
)

// directoryOf is a TIFF with one directory of these entries behind its header, with values
// after it (TIFF 6.0, section 2).
func directoryOf(values string, entries ...[4]uint32) []byte {
	o := binary.BigEndian
	out := []byte{'M', 'M', 0, 42, 0, 0, 0, 8}
	out = o.AppendUint16(out, uint16(len(entries)))
	for _, e := range entries {
		out = o.AppendUint16(o.AppendUint16(out, uint16(e[0])), uint16(e[1]))
		out = o.AppendUint32(o.AppendUint32(out, e[2]), e[3])
	}
	return append(out, values...)
}

// A directory is read where all of it lies in the file; values that lie outside are left
// out, and such as lie over each other refused: they would be written more than once.
func TestDirectoriesAtTheEndOfAFile(t *testing.T) {
	const ascii, long, start = 2, 4, 8 + 2 + 12
	o := binary.BigEndian
	read := func(data []byte) (map[uint16]entry, error) { return readDirectory(data[:len(data):len(data)], o) }
	whole := directoryOf("eight by", [4]uint32{305, ascii, 8, start})
	got, err := read(whole)
	require.NoError(t, err)
	assert.Equal(t, "eight by", string(got[305].value))
	for n := range whole {
		got, err := read(whole[:n])
		if n < start {
			require.Error(t, err, "%d bytes", n)
		} else {
			require.NoError(t, err, "%d bytes", n)
			assert.Empty(t, got, "its value is cut off")
		}
	}
	inside, err := read(directoryOf("", [4]uint32{256, long, 1, 640}))
	require.NoError(t, err)
	assert.Equal(t, uint32(640), o.Uint32(inside[256].value))
	unknown, err := read(directoryOf("", [4]uint32{256, 99, 1, 640}))
	require.NoError(t, err)
	assert.Empty(t, unknown)
	const two = start + 12
	_, err = read(directoryOf("eight by", [4]uint32{305, ascii, 8, two}, [4]uint32{306, ascii, 8, two}))
	require.NoError(t, err, "it has room for both")
	long64 := string(bytes.Repeat([]byte("x"), 64))
	_, err = read(directoryOf(long64, [4]uint32{305, ascii, 64, two}, [4]uint32{306, ascii, 64, two}))
	require.Error(t, err)
}

// The facts that stay are written where the metadata were, or the file is refused; without
// facts it needs no place for them.
func TestExifOfHEICHasOnePlace(t *testing.T) {
	taken := imaging.Info{Orientation: 1, Taken: time.Date(2024, 5, 6, 7, 8, 9, 0, time.UTC)}
	b := block(taken)
	require.NotEmpty(t, b)
	need := uint64(4 + len(b))
	write := func(exif uint32, info imaging.Info, where ...place) ([]byte, error) {
		data := bytes.Repeat([]byte{'.'}, 400)
		it := &items{exif: exif, extents: map[uint32][]place{3: where}}
		return data, it.writeExif(data, info)
	}
	data, err := write(3, taken, place{from: 10, to: 10 + need})
	require.NoError(t, err)
	assert.Equal(t, b, data[14:10+need])
	assert.Equal(t, byte('.'), data[10+need], "and no further")
	for name, where := range map[string][]place{
		"too short": {{from: 10, to: 9 + need}}, "in pieces": {{from: 10, to: 10 + need}, {from: 300, to: 310}}, "nowhere": nil,
	} {
		_, err := write(3, taken, where...)
		assert.Error(t, err, name)
	}
	_, err = write(0, taken, place{from: 10, to: 10 + need})
	assert.Error(t, err, "no metadata at all")
	data, err = write(0, imaging.Info{Orientation: 1})
	require.NoError(t, err)
	assert.Equal(t, bytes.Repeat([]byte{'.'}, 400), data)
}

// placesOf is an iloc box of version 1 with one item of one stretch (ISO/IEC 14496-12,
// section 8.11.3).
func placesOf(sizes, method, elsewhere uint16, from, length uint32) []byte {
	o := binary.BigEndian
	b := o.AppendUint32(nil, 1<<24)
	for _, v := range []uint16{sizes, 1, 7, method, elsewhere, 1} {
		b = o.AppendUint16(b, v)
	}
	return o.AppendUint32(o.AppendUint32(b, from), length)
}

// Where items lie is believed only where it is plain: in this file or its idat box, so many
// bytes from there. What is in another file, made of other items, empty, or beyond counting
// refuses the photo.
func TestPlacesOfItems(t *testing.T) {
	const usual = 0x4400
	read := func(b []byte) (*items, bool) {
		it := &items{extents: map[uint32][]place{}}
		return it, it.readPlaces(b, box{kind: "iloc", to: len(b)})
	}
	it, ok := read(placesOf(usual, 0, 0, 100, 20))
	require.True(t, ok)
	assert.Equal(t, []place{{100, 120, false}}, it.extents[7])
	it, ok = read(placesOf(usual, 1, 0, 100, 20))
	require.True(t, ok)
	assert.Equal(t, []place{{100, 120, true}}, it.extents[7])
	for name, b := range map[string][]byte{
		"in another file":     placesOf(usual, 0, 1, 100, 20),
		"made of other items": placesOf(usual, 2, 0, 100, 20),
		"empty":               placesOf(usual, 0, 0, 100, 0),
		"wide offsets":        placesOf(0x9400, 0, 0, 100, 20),
		"wide lengths":        placesOf(0x4900, 0, 0, 100, 20),
		"wide bases":          placesOf(0x4490, 0, 0, 100, 20),
		"wide indices":        placesOf(0x4409, 0, 0, 100, 20),
		"version 3":           append([]byte{3}, placesOf(usual, 0, 0, 100, 20)[1:]...),
		"cut short":           placesOf(usual, 0, 0, 100, 20)[:23],
	} {
		_, ok := read(b)
		assert.False(t, ok, name)
	}
	o := binary.BigEndian
	beyond := placesOf(0x8800, 0, 0, 0, 0)[:16]
	beyond = o.AppendUint64(o.AppendUint64(beyond, 1<<63), 1<<63)
	_, ok = read(beyond)
	assert.False(t, ok, "the end is beyond counting")
}

// Places lie over each other where they share a byte.
func TestOverlap(t *testing.T) {
	at := func(v ...uint64) (out []place) {
		for i := 0; i < len(v); i += 2 {
			out = append(out, place{from: v[i], to: v[i+1]})
		}
		return out
	}
	assert.False(t, overlap(at(10, 20, 30, 40), at(0, 10, 20, 30, 40, 50)), "end to end")
	assert.True(t, overlap(at(10, 20), at(19, 25)))
	assert.True(t, overlap(at(10, 20), at(5, 11)))
	assert.True(t, overlap(at(10, 20, 30, 40), at(0, 5, 32, 33)))
	assert.True(t, overlap(at(10, 40), at(20, 30)))
	assert.False(t, overlap(nil, at(0, 5)))
}

// What stays of a JPEG's segments: tables and headers of the picture whole, JFIF's facts
// without its small copy, Adobe's without what follows, colour profiles; nothing else.
func TestSegmentsThatStay(t *testing.T) {
	jfif := "JFIF\x00\x01\x02\x00\x00\x01\x00\x01\x02\x03SECRET"
	profile := "ICC_PROFILE\x00\x01\x01..."
	for _, c := range []struct {
		mark       byte
		text, stay string
	}{
		{0xc0, "frame", "frame"}, {0xc4, "tables", "tables"}, {0xcf, "frame", "frame"}, {0xda, "scan", "scan"}, {0xdb, "quanta", "quanta"}, {0xdd, "interval", "interval"},
		{0xbf, "before", ""}, {0xde, "hierarchy", ""}, {0xe1, "Exif\x00\x00", ""}, {0xed, "Photoshop 3.0", ""}, {0xfe, "a remark", ""}, {0xef, "whatever", ""},
		{0xe0, jfif, jfif[:12] + "\x00\x00"}, {0xe0, jfif[:14], jfif[:12] + "\x00\x00"}, {0xe0, jfif[:13], ""}, {0xe0, "JFXX" + jfif[4:], ""}, {0xe3, jfif, ""},
		{0xe2, profile, profile}, {0xe2, "MPF\x00" + profile, ""}, {0xe3, profile, ""},
		{0xee, "Adobe.......SECRET", "Adobe......."}, {0xee, "Adobe......", ""}, {0xee, "Abode.......", ""}, {0xe4, "Adobe.......", ""},
	} {
		assert.Equal(t, c.stay, string(keepSegment(c.mark, []byte(c.text))), "%x %q", c.mark, c.text)
	}
}

// Items that lie outside the file or the idat box refuse the photo, as does a picture
// that lies nowhere.
func TestItemsOutsideTheFile(t *testing.T) {
	data, idat := make([]byte, 100), box{from: 40, to: 60}
	lies := func(p ...place) error {
		it := &items{picture: map[uint32]bool{1: true}, extents: map[uint32][]place{1: p}}
		kept, gone, err := it.places(data, idat)
		if err == nil {
			assert.Len(t, kept, len(p))
			assert.Empty(t, gone)
		}
		return err
	}
	assert.NoError(t, lies(place{0, 100, false}))
	assert.NoError(t, lies(place{0, 20, true}))
	assert.Error(t, lies(place{0, 101, false}))
	assert.Error(t, lies(place{0, 21, true}))
	assert.Error(t, lies())
}

// Lists of items that end before they should are broken.
func TestListsOfItemsCutShort(t *testing.T) {
	o := binary.BigEndian
	boxOf := func(kind string, content []byte) []byte {
		return append(append(o.AppendUint32(nil, uint32(8+len(content))), kind...), content...)
	}
	whole := func(b []byte) box { return box{kind: "some", to: len(b)} }

	refer := append([]byte{0, 0, 0, 0}, boxOf("dimg", []byte{0, 1, 0, 2, 0, 5, 0, 6})...)
	got, ok := readReferences(refer, whole(refer))
	require.True(t, ok)
	assert.Equal(t, []reference{{"dimg", 1, 5}, {"dimg", 1, 6}}, got)
	short := append([]byte{0, 0, 0, 0}, boxOf("dimg", []byte{0, 1, 0, 2, 0, 5, 0})...)
	_, ok = readReferences(short, whole(short))
	assert.False(t, ok)
	_, ok = readReferences(nil, box{})
	assert.True(t, ok, "none are stated")

	entry := func(kind string, version byte) []byte {
		return boxOf(kind, append([]byte{version, 0, 0, 0, 0, 3, 0, 0}, "Exifa name"...))
	}
	list := func(count byte, entries ...[]byte) (*items, bool, []byte) {
		data := append([]byte{0, 0, 0, 0, 0, count}, bytes.Join(entries, nil)...)
		it := &items{picture: map[uint32]bool{}}
		return it, it.readInfo(data, whole(data)), data
	}
	it, ok, data := list(1, entry("infe", 2))
	require.True(t, ok)
	assert.Equal(t, uint32(3), it.exif)
	assert.NotContains(t, string(data), "name")
	for name, bad := range map[string]bool{
		"more than there are": func() bool { _, ok, _ := list(2, entry("infe", 2)); return ok }(),
		"another kind":        func() bool { _, ok, _ := list(1, entry("junk", 2)); return ok }(),
		"of old":              func() bool { _, ok, _ := list(1, entry("infe", 1)); return ok }(),
		"cut short":           func() bool { _, ok, _ := list(1, boxOf("infe", []byte{2, 0, 0, 0, 0, 3, 0})); return ok }(),
	} {
		assert.False(t, bad, name)
	}
}

// A TIFF whose strips and lengths do not match, or lie outside, is refused.
func TestStripsThatDoNotMatch(t *testing.T) {
	const short, long, at = 3, 4, 8 + 2 + 2*12
	for name, c := range map[string]struct {
		where, sizes [4]uint32
		ok           bool
	}{
		"one strip":         {[4]uint32{273, long, 1, at}, [4]uint32{279, long, 1, 8}, true},
		"in short numbers":  {[4]uint32{273, short, 1, at << 16}, [4]uint32{279, short, 1, 8 << 16}, true},
		"of another kind":   {[4]uint32{273, 11, 1, at}, [4]uint32{279, long, 1, 8}, false},
		"lengths of bytes":  {[4]uint32{273, long, 1, at}, [4]uint32{279, 2, 1, 8}, false},
		"two for one":       {[4]uint32{273, long, 1, at}, [4]uint32{279, short, 2, 4<<16 | 4}, false},
		"beyond the end":    {[4]uint32{273, long, 1, at}, [4]uint32{279, long, 1, 9}, false},
		"no strip is named": {[4]uint32{256, long, 1, at}, [4]uint32{279, long, 1, 8}, false},
	} {
		got, err := bareTIFF(directoryOf("the eye.", c.where, c.sizes), imaging.Info{Orientation: 1})
		if !c.ok {
			assert.Error(t, err, name)
			continue
		}
		require.NoError(t, err, name)
		assert.Contains(t, string(got), "the eye.", name)
	}
}

// The chunks of a PNG or WebP are copied whole or not at all, wherever the file ends.
func TestChunksCutShort(t *testing.T) {
	info := imaging.Info{Orientation: 1, W: 1, H: 1}
	chunk := func(kind, text string) []byte {
		b := append(binary.BigEndian.AppendUint32(nil, uint32(len(text))), kind...)
		return append(append(b, text...), "crc "...)
	}
	png := bytes.Join([][]byte{[]byte("\x89PNG\r\n\x1a\n"), chunk("IHDR", "head"), chunk("tEXt", "SECRET"), chunk("IDAT", "picture"), chunk("IEND", "")}, nil)
	got, err := barePNG(png, info)
	require.NoError(t, err)
	assert.Equal(t, bytes.Join([][]byte{png[:8], chunk("IHDR", "head"), chunk("IDAT", "picture"), chunk("IEND", "")}, nil), got)
	for n := 8; n < len(png); n++ {
		_, err := barePNG(png[:n:n], info)
		require.Error(t, err, "%d of %d bytes", n, len(png))
	}
}
