package imaging_test

import (
	"encoding/binary"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"mudline/imaging"
	"mudline/internal/jartest"
)

// Whatever stands in a picture's Exif, the picture is read, and what is taken from it is
// within bounds.
func FuzzEXIF(f *testing.F) {
	plain := plainJPEG(f, 260, 250)
	whole := jartest.WithEXIF(plain, jartest.EXIF{Orientation: 5, Taken: "2026:05:03 14:03:22", Offset: "+02:00", Focal35MM: 26})
	size := int(binary.BigEndian.Uint16(whole[4:]))
	const head = 2 + 4 + len("Exif\x00\x00")
	f.Add(whole[head : 4+size])
	f.Add([]byte("II*\x00\x08\x00\x00\x00\x01\x00\x12\x01\x03\x00\xff\xff\xff\xff\x08\x00\x00\x00"))
	f.Add([]byte("MM\x00*\x00\x00\x00\x08\x00\x01\x87\x69\x00\x04\x00\x00\x00\x01\x00\x00\x00\x08"))
	f.Fuzz(func(t *testing.T, exif []byte) {
		payload := slices.Concat([]byte("Exif\x00\x00"), exif)
		if len(payload) > 65533 {
			return
		}
		segment := binary.BigEndian.AppendUint16([]byte{0xff, 0xe1}, uint16(len(payload)+2))
		info, err := imaging.Inspect(slices.Concat(plain[:2], segment, payload, plain[2:]))
		require.NoError(t, err)
		require.True(t, info.Orientation >= 1 && info.Orientation <= 8)
		require.True(t, info.Focal35MM >= 0 && info.Focal35MM < 10000)
		require.False(t, info.HasOffset && info.Taken.IsZero())
	})
}
