package imaging

import (
	"math"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
)

// The time of a photo as EXIF 2.32 writes it (DateTimeOriginal, 4.6.5; OffsetTimeOriginal):
// with an offset that is in use somewhere it is known, without one it is a wall clock's; a
// clock that was never set tells nothing.
func TestExifTime(t *testing.T) {
	const taken = "2026:05:03 14:03:22"
	clock := time.Date(2026, 5, 3, 14, 3, 22, 0, time.UTC)
	for offset, hours := range map[string]float64{"+02:00": 2, "-12:00": -12, "+14:00": 14, "+05:45": 5.75, "+00:00": 0} {
		got, known := exifTime(taken, offset)
		assert.True(t, known, offset)
		assert.True(t, got.Equal(clock.Add(-time.Duration(hours*float64(time.Hour)))), "%s: %v", offset, got)
	}
	for _, offset := range []string{"", "  :  ", "+14:30", "-12:15", "02:00", "+2"} {
		got, known := exifTime(taken, offset)
		assert.False(t, known, offset)
		assert.True(t, got.Equal(clock), "%s: %v", offset, got)
	}
	for _, never := range []string{"", "0000:00:00 00:00:00", "1800:01:01 00:00:00", "2026-05-03 14:03:22", "    :  :     :  :  "} {
		got, known := exifTime(never, "+02:00")
		assert.True(t, got.IsZero(), never)
		assert.False(t, known, never)
	}
	assert.Equal(t, "+02:00", asText("+02:00\x00"))
	for _, v := range []any{uint8(26), uint16(26), uint32(26), int32(26), 26, 26.0, " 26 "} {
		assert.Equal(t, 26.0, asNumber(v), "%T", v)
	}
	assert.True(t, math.IsNaN(asNumber("wide")))
	assert.True(t, math.IsNaN(asNumber(nil)))
}

// A TIFF is a camera's raw file where it says so: the mark of one maker, a version of DNG, or
// a first directory that is a reduced copy (TIFF 6.0, section 8). One too short to say
// anything is left to its decoder.
func TestRawFiles(t *testing.T) {
	with := func(tag, value byte) []byte { // one entry of a LONG, big-endian
		return []byte{'M', 'M', 0, 42, 0, 0, 0, 8, 0, 1, 0, tag, 0, 4, 0, 0, 0, 1, 0, 0, 0, value}
	}
	assert.True(t, isRawTIFF(with(254, 1)), "a reduced copy")
	assert.False(t, isRawTIFF(with(254, 0)))
	assert.False(t, isRawTIFF(with(255, 1)))
	dng := with(0, 1)
	dng[10], dng[11] = 50706>>8, 50706&255
	assert.True(t, isRawTIFF(dng))
	assert.True(t, isRawTIFF([]byte("II*\x00\x10\x00\x00\x00CR\x02\x00")))
	little := []byte{'I', 'I', 42, 0, 8, 0, 0, 0, 1, 0, 254, 0, 4, 0, 1, 0, 0, 0, 1, 0, 0, 0}
	assert.True(t, isRawTIFF(little))
	for n := 1; n < len(little); n++ {
		assert.False(t, isRawTIFF(little[:n:n]), "%d bytes", n)
	}
	far := with(254, 1)
	far[7] = 200
	assert.False(t, isRawTIFF(far), "its directory lies outside")
}
