package imaging

import (
	"encoding/binary"
	"testing"

	"github.com/stretchr/testify/assert"
)

var be = binary.BigEndian

// boxOf is a box of a HEIC file: its size, its kind, its content (ISO/IEC 14496-12, 4.2).
func boxOf(kind string, content ...byte) []byte {
	return append(append(be.AppendUint32(nil, uint32(8+len(content))), kind...), content...)
}

func joined(parts ...[]byte) (out []byte) {
	for _, p := range parts {
		out = append(out, p...)
	}
	return out
}

// info is an item information entry of version 2 or 3 (8.11.6).
func info(version byte, id byte, kind string) []byte {
	e := []byte{version, 0, 0, 0, 0, id, 0, 0}
	if version > 2 {
		e = []byte{version, 0, 0, 0, 0, 0, 0, id, 0, 0}
	}
	return boxOf("infe", append(append(e, kind...), 0)...)
}

// lies is an entry of an item location box of version 1: one stretch by method (8.11.3).
func lies(id, method byte, from, length uint32) []byte {
	return be.AppendUint32(be.AppendUint32([]byte{0, id, 0, method, 0, 0, 0, 1}, from), length)
}

// The coded picture lies where the primary item's tiles lie: not its small copy, not what
// lies in another place of the file's own, not notes.
func TestWhereACodedPictureLies(t *testing.T) {
	infos := func(version byte) []byte {
		return joined([]byte{0, 0, 0, 0, 0, 5}, info(version, 1, "grid"), info(version, 2, "hvc1"), info(version, 3, "hvc1"), info(version, 4, "hvc1"), info(version, 5, "Exif"))
	}
	iloc := joined([]byte{1, 0, 0, 0, 0x44, 0, 0, 5}, lies(1, 1, 0, 8), lies(2, 0, 100, 20), lies(3, 0, 120, 30), lies(4, 0, 150, 5), lies(5, 0, 155, 9))
	tiles := boxOf("dimg", 0, 1, 0, 2, 0, 2, 0, 3) // 1 is made of 2 and 3
	copies := boxOf("thmb", 0, 4, 0, 1, 0, 1)
	refer := joined([]byte{0, 0, 0, 0}, copies, tiles)
	meta := func(parts ...[]byte) []byte { return joined([]byte{0, 0, 0, 0}, joined(parts...)) }
	primary := func(id byte) []byte { return boxOf("pitm", 0, 0, 0, 0, 0, id) }
	want := []extent{{100, 20}, {120, 30}}
	for _, version := range []byte{2, 3} {
		got := codedExtents(meta(primary(1), boxOf("iinf", infos(version)...), boxOf("iref", refer...), boxOf("iloc", iloc...)))
		assert.Equal(t, want, got, "version %d", version)
	}
	one := codedExtents(meta(primary(4), boxOf("iinf", infos(2)...), boxOf("iref", refer...), boxOf("iloc", iloc...)))
	assert.Equal(t, []extent{{150, 5}}, one, "a picture that is one item")
	unknown := codedExtents(meta(primary(9), boxOf("iinf", infos(2)...), boxOf("iref", refer...), boxOf("iloc", iloc...)))
	assert.Equal(t, []extent{{100, 20}, {120, 30}, {150, 5}}, unknown, "nobody knows which: all")

	// Entries of old versions and of other kinds say nothing that is known here.
	for name, list := range map[string][]byte{
		"version 1":    joined([]byte{0, 0, 0, 0, 0, 1}, info(1, 4, "hvc1")),
		"another kind": joined([]byte{0, 0, 0, 0, 0, 1}, boxOf("junk", info(2, 4, "hvc1")[8:]...)),
		"cut short":    {0, 0, 0, 0, 0},
		"nothing":      nil,
	} {
		assert.Empty(t, codedExtents(meta(primary(4), boxOf("iinf", list...), boxOf("iloc", iloc...))), name)
	}
	assert.Empty(t, codedExtents([]byte{0, 0, 0}))
	whole := boxOf("iloc", iloc...)
	for n := range whole {
		assert.LessOrEqual(t, len(locations(whole[8:max(8, n)], map[uint32]string{2: "hvc1", 3: "hvc1"})), 2, "%d bytes", n)
	}
	// Version 0 has neither method nor index, version 2 numbers of four bytes.
	v0 := joined([]byte{0, 0, 0, 0, 0x44, 0x04, 0, 1, 0, 2, 0, 0, 0, 1}, be.AppendUint32(be.AppendUint32(nil, 7), 9))
	assert.Equal(t, []extent{{7, 9}}, locations(v0, map[uint32]string{2: "hvc1"}))
	v2 := joined([]byte{2, 0, 0, 0, 0x44, 0x40, 0, 0, 0, 1, 0, 0, 0, 2, 0, 0, 0, 0, 0, 0, 1, 0, 0, 1}, be.AppendUint32(be.AppendUint32(nil, 7), 9))
	assert.Equal(t, []extent{{256 + 7, 9}}, locations(v2, map[uint32]string{2: "hvc1"}), "from a base of 256")
}
