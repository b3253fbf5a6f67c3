package page_test

import (
	"bytes"
	"encoding/binary"
	"math"
)

// shot is one picture of a film: VP8 data of a key frame, and when it comes.
type shot struct {
	ms  uint64
	vp8 []byte
}

// webm is a film of key frames that lasts so long, w by h pixels (Matroska,
// RFC 9559; EBML, RFC 8794). Each picture is a cluster with its cue, so that any
// can be sought.
func webm(shots []shot, lastsMS float64, w, h uint64) []byte {
	header := element(0x1A45DFA3, element(0x4286, number(1)), element(0x42F7, number(1)), element(0x42F2, number(4)),
		element(0x42F3, number(8)), element(0x4282, []byte("webm")), element(0x4287, number(2)), element(0x4285, number(2)))
	info := element(0x1549A966, element(0x2AD7B1, number(1_000_000)), element(0x4489, number(math.Float64bits(lastsMS))),
		element(0x4D80, []byte("test")), element(0x5741, []byte("test")))
	// The matrix of BT.601 in narrow range, as WebP has it (RFC 9649), and the
	// primaries and transfer of sRGB; numbers of ITU-T H.273.
	colour := element(0x55B0, element(0x55B1, number(6)), element(0x55B9, number(1)), element(0x55BA, number(13)), element(0x55BB, number(1)))
	tracks := element(0x1654AE6B, element(0xAE, element(0xD7, number(1)), element(0x73C5, number(1)), element(0x83, number(1)),
		element(0x86, []byte("V_VP8")), element(0xE0, element(0xB0, number(w)), element(0xBA, number(h)), colour)))
	clusters := make([][]byte, len(shots))
	for i, s := range shots {
		clusters[i] = element(0x1F43B675, element(0xE7, number(s.ms)), element(0xA3, []byte{0x81, 0, 0, 0x80}, s.vp8))
	}
	cues := func(at uint64) []byte {
		var points [][]byte
		for i, s := range shots {
			points = append(points, element(0xBB, element(0xB3, number(s.ms)), element(0xB7, element(0xF7, number(1)), element(0xF1, number(at)))))
			at += uint64(len(clusters[i]))
		}
		return element(0x1C53BB6B, points...)
	}
	before := uint64(len(info) + len(tracks))
	parts := append([][]byte{info, tracks, cues(before + uint64(len(cues(0))))}, clusters...)
	return append(header, element(0x18538067, parts...)...)
}

// element is an EBML element: its id, its size in eight bytes, what it holds.
func element(id uint32, parts ...[]byte) []byte {
	body := bytes.Join(parts, nil)
	out := bytes.TrimLeft(binary.BigEndian.AppendUint32(nil, id), "\x00")
	out = binary.BigEndian.AppendUint64(out, uint64(len(body))|1<<56)
	return append(out, body...)
}

// number is eight bytes, as whole numbers and floats of fixed size.
func number(v uint64) []byte { return binary.BigEndian.AppendUint64(nil, v) }
