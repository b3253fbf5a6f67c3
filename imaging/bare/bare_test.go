package bare_test

import (
	"bytes"
	"encoding/binary"
	"image"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"github.com/bep/imagemeta"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mudline/imaging"
	"mudline/imaging/bare"
)

var formats = map[string]imagemeta.ImageFormat{
	"told.jpg": imagemeta.JPEG, "told.png": imagemeta.PNG, "told.webp": imagemeta.WebP,
	"told.tif": imagemeta.TIFF, "told.heic": imagemeta.HEIF,
}

func fixture(t testing.TB, name string) []byte {
	data, err := os.ReadFile(filepath.Join("testdata", name))
	require.NoError(t, err)
	return data
}

// told are the tags that a reader of metadata that is not ours finds.
func told(t testing.TB, data []byte, format imagemeta.ImageFormat) (tags []string) {
	_, err := imagemeta.Decode(imagemeta.Options{
		R: bytes.NewReader(data), ImageFormat: format, Sources: imagemeta.EXIF | imagemeta.IPTC | imagemeta.XMP,
		ShouldHandleTag: func(imagemeta.TagInfo) bool { return true },
		HandleTag:       func(i imagemeta.TagInfo) error { tags = append(tags, i.Tag); return nil },
	})
	require.NoError(t, err)
	return tags
}

func decoded(t testing.TB, data []byte) *image.RGBA {
	p, err := imaging.Open(imaging.PureGo{}, "photo", data)
	require.NoError(t, err)
	return p.Picture
}

// What identifies a person or a place is gone; the time, the way up, the focal length
// and every pixel stay.
func TestPhotoTellsTheReadingAlone(t *testing.T) {
	for name, format := range formats {
		data := fixture(t, name)
		require.Contains(t, string(data), "SECRET", name)
		require.Contains(t, told(t, data, format), "GPSLatitude", name)
		whole := data
		if name != "told.tif" { // where a file may end anywhere
			data = append(data, "SECRET behind the end"...)
		}
		got, err := bare.Photo(data)
		require.NoError(t, err, name)
		assert.NotContains(t, string(got), "SECRET", name)
		assert.NotContains(t, string(got), "xmpmeta", name)
		for _, tag := range told(t, got, format) {
			assert.Contains(t, []string{"DateTimeOriginal", "OffsetTimeOriginal", "FocalLengthIn35mmFormat", "Orientation", "ExifOffset",
				// how a TIFF is laid out
				"ImageWidth", "ImageHeight", "ImageLength", "BitsPerSample", "Compression", "PhotometricInterpretation", "StripOffsets", "SamplesPerPixel",
				"RowsPerStrip", "StripByteCounts", "PlanarConfiguration", "Predictor", "FillOrder", "XResolution", "YResolution", "ResolutionUnit",
				"SubfileType", "ExtraSamples"}, tag, name)
		}
		before, err := imaging.Inspect(data)
		require.NoError(t, err)
		after, err := imaging.Inspect(got)
		require.NoError(t, err, name)
		assert.Equal(t, before, after, name)
		assert.True(t, after.HasOffset, name)
		assert.Equal(t, 26.0, after.Focal35MM, name)
		assert.Equal(t, decoded(t, whole), decoded(t, got), name)
		again, err := bare.Photo(got)
		require.NoError(t, err)
		assert.Equal(t, got, again, "%s: a second time changes nothing", name)
	}
}

// The small copy inside a HEIC file is zeroed and out of sight, its bytes with it.
func TestHEICKeepsNoSmallCopy(t *testing.T) {
	data := fixture(t, "told.heic")
	got, err := bare.Photo(data)
	require.NoError(t, err)
	require.Len(t, got, len(data))
	// By exiftool -v3: item 5, the copy, is a grid of item 4 alone, which lies at 0x159f,
	// 0xe8 bytes; item 1, the picture, at 0x334, 0x1e7 bytes.
	assert.Equal(t, make([]byte, 0xe8), got[0x159f:][:0xe8])
	assert.Equal(t, data[0x334:][:0x1e7], got[0x334:][:0x1e7])
}

// Segments between the scans of a progressive picture and small copies of JFIF go too.
func TestJPEGSegmentsAnywhere(t *testing.T) {
	data, err := os.ReadFile(filepath.Join("..", "testdata", "quadrants-progressive.jpg"))
	require.NoError(t, err)
	segment := func(mark byte, text string) []byte {
		return append(binary.BigEndian.AppendUint16([]byte{0xff, mark}, uint16(2+len(text))), text...)
	}
	scan := bytes.LastIndex(data, []byte{0xff, 0xda})
	spoilt := slices.Concat(data[:2], segment(0xe0, "JFIF\x00\x01\x02\x00\x00\x01\x00\x01\x02\x01SECRET"), segment(0xe0, "JFXX\x00\x10SECRET"),
		segment(0xed, "Photoshop 3.0\x00SECRET"), segment(0xe2, "MPF\x00SECRET"), data[2:scan], segment(0xfe, "SECRET"), segment(0xef, "SECRET"), data[scan:], []byte("SECRET film"))
	got, err := bare.Photo(spoilt)
	require.NoError(t, err)
	assert.NotContains(t, string(got), "SECRET")
	assert.NotContains(t, string(got), "MPF")
	assert.Contains(t, string(got), "JFIF\x00\x01\x02\x00\x00\x01\x00\x01\x00\x00")
	assert.Equal(t, decoded(t, data), decoded(t, got))
}

func TestWhatIsNoPhotoIsRefused(t *testing.T) {
	var refusal *imaging.Refusal
	for _, data := range [][]byte{nil, []byte("hello"), fixture(t, "told.jpg")[:3000], fixture(t, "told.heic")[:3000]} {
		_, err := bare.Photo(data)
		require.ErrorAs(t, err, &refusal)
	}
}

// A photo cut short anywhere is refused, or what is left of it tells nothing.
func TestPhotosCutShort(t *testing.T) {
	for name := range formats {
		whole := fixture(t, name)
		for n := 0; n < len(whole); n += 1 + n/40 {
			got, err := bare.Photo(whole[:n:n])
			if err != nil {
				var refusal *imaging.Refusal
				require.ErrorAs(t, err, &refusal, "%s, %d bytes", name, n)
				continue
			}
			require.NotContains(t, string(got), "SECRET", "%s, %d bytes", name, n)
			require.NotEqual(t, "told.png", name, "%d bytes have no end", n)
		}
		_, err := bare.Photo(whole[: len(whole)-3 : len(whole)-3])
		if name == "told.png" || name == "told.webp" {
			require.Error(t, err, name)
		}
	}
}

// FuzzPhoto: whatever the bytes, a photo stays one of the same size and the same facts,
// and no word of it is left that was not part of the picture.
func FuzzPhoto(f *testing.F) {
	for name := range formats {
		f.Add(fixture(f, name))
	}
	jar, err := filepath.Glob(filepath.Join("..", "testdata", "quadrants*"))
	require.NoError(f, err)
	for _, name := range jar {
		data, err := os.ReadFile(name)
		require.NoError(f, err)
		f.Add(data)
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		before := bytes.Clone(data)
		got, err := bare.Photo(data)
		require.True(t, bytes.Equal(before, data), "the photo itself is left alone")
		if err != nil {
			var refusal *imaging.Refusal
			require.ErrorAs(t, err, &refusal)
			return
		}
		require.LessOrEqual(t, len(got), len(data)+1000)
		was, err := imaging.Inspect(data)
		require.NoError(t, err)
		is, err := imaging.Inspect(got)
		if err != nil { // what was damaged may show only now
			return
		}
		require.Equal(t, [2]int{was.W, was.H}, [2]int{is.W, is.H})
		require.Equal(t, was.Taken, is.Taken)
		require.Equal(t, was.Orientation, is.Orientation)
		require.InDelta(t, was.Focal35MM, is.Focal35MM, 0.5)
	})
}
