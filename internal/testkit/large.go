// Package testkit makes what tests start from, and fails the test that asks where it
// cannot; what programs of the developers need too is in package jartest.
package testkit

import (
	"bytes"
	"image"
	"image/jpeg"
	"math/rand/v2"
	"testing"

	"mudline/imaging"
	"mudline/internal/jartest"

	"github.com/stretchr/testify/require"
	"golang.org/x/image/draw"
)

// LargePhoto enlarges an encoded photo to 12 megapixels (3000 x 4000), adds the
// fine grain that enlarging lacks, and encodes it as a phone does: JPEG with
// halved chroma, about 1.5 MB.
func LargePhoto(t testing.TB, encoded []byte) []byte { return Enlarged(t, encoded, 3000, 4000) }

// Enlarged is LargePhoto for any size.
func Enlarged(t testing.TB, encoded []byte, w, h int) []byte {
	t.Helper()
	small, err := jpeg.Decode(bytes.NewReader(encoded))
	require.NoError(t, err)
	large := image.NewRGBA(image.Rect(0, 0, w, h))
	draw.ApproxBiLinear.Scale(large, large.Rect, small, small.Bounds(), draw.Src, nil)
	rng := rand.New(rand.NewPCG(5, 12))
	for i := 0; i < len(large.Pix); i += 4 {
		grain := rng.IntN(9) - 4
		for k := range 3 {
			large.Pix[i+k] = uint8(min(max(int(large.Pix[i+k])+grain, 0), 255))
		}
	}
	data, _ := Coded(t, large, 88)
	return jartest.WithEXIF(data, jartest.EXIF{Orientation: 1, Taken: "2026:05:03 14:03:22", Offset: "+02:00", Focal35MM: 26})
}

// Coded encodes a picture as JPEG and inspects it.
func Coded(t testing.TB, pic image.Image, quality int) ([]byte, imaging.Info) {
	t.Helper()
	var b bytes.Buffer
	require.NoError(t, jpeg.Encode(&b, pic, &jpeg.Options{Quality: quality}))
	info, err := imaging.Inspect(b.Bytes())
	require.NoError(t, err)
	return b.Bytes(), info
}
