package raster

import (
	"bytes"
	"encoding/binary"
	"hash/crc32"
)

// Signed says in a PNG file which program drew it, by which the program knows the file
// as its own and may write over it: a text chunk (PNG specification, 11.3.3.2) behind the
// signature and the header, which take 33 bytes.
func Signed(file []byte) []byte {
	const header = 8 + 25
	chunk := []byte("tEXtSoftware\x00mudline")
	out := binary.BigEndian.AppendUint32(bytes.Clone(file[:header]), uint32(len(chunk)-4))
	out = binary.BigEndian.AppendUint32(append(out, chunk...), crc32.ChecksumIEEE(chunk))
	return append(out, file[header:]...)
}
