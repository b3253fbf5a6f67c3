package imaging_test

import (
	"bytes"
	"errors"
	"fmt"
	"image"
	"image/jpeg"
	"image/png"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"golang.org/x/image/tiff"

	"mudline/imaging"
)

// wholeJars are sound pictures of a rendered jar in every format, all of them
// without metadata, so that every cut goes through the picture.
func wholeJars(t *testing.T) map[string][]byte {
	out := map[string][]byte{}
	for _, name := range []string{"jar.heic", "jar.webp", "jar-lossless.webp"} {
		out[name] = fixture(t, name)
	}
	info, err := imaging.Open(imaging.PureGo{}, "jar.webp", out["jar.webp"])
	require.NoError(t, err)
	encode := func(name string, how func(*bytes.Buffer, image.Image) error) {
		var b bytes.Buffer
		require.NoError(t, how(&b, info.Picture))
		out[name] = b.Bytes()
	}
	encode("jar.png", func(b *bytes.Buffer, m image.Image) error { return png.Encode(b, m) })
	encode("jar.jpg", func(b *bytes.Buffer, m image.Image) error { return jpeg.Encode(b, m, &jpeg.Options{Quality: 85}) })
	encode("jar.tif", func(b *bytes.Buffer, m image.Image) error {
		return tiff.Encode(b, m, &tiff.Options{Compression: tiff.Deflate})
	})
	return out
}

// A picture that was broken off is refused, whether its file ends there or goes
// on in zeros, and so is one with a hole; what is whole is read.
func TestDamagedFilesAreRefused(t *testing.T) {
	for name, data := range wholeJars(t) {
		if _, err := imaging.Open(imaging.PureGo{}, name, data); !assert.NoError(t, err, "%s as it is", name) {
			continue
		}
		for tenths := 1; tenths <= 9; tenths++ {
			cut := len(data) * tenths / 10
			zeroed, holed := bytes.Clone(data), bytes.Clone(data)
			clear(zeroed[cut:])
			clear(holed[cut:min(cut+len(data)/20, len(data))])
			for how, spoilt := range map[string][]byte{"cut": data[:cut], "zeros from": zeroed, "hole at": holed} {
				what := fmt.Sprintf("%s, %s %d of %d bytes", name, how, cut, len(data))
				_, err := imaging.Open(imaging.PureGo{}, name, spoilt)
				var refusal *imaging.Refusal
				if !assert.True(t, errors.As(err, &refusal), what) {
					continue
				}
				assert.Contains(t, []string{imaging.CodeTruncated, imaging.CodeDamaged}, refusal.Code, "%s: %s", what, refusal.Text)
			}
		}
	}
}

// What a browser decoded is not believed either where its file is not whole.
func TestDamagedFilesDecodedElsewhereAreRefused(t *testing.T) {
	data := bytes.Clone(fixture(t, "jar.heic"))
	clear(data[len(data)/2:])
	_, err := imaging.OpenDecoded("jar.heic", data, image.NewRGBA(image.Rect(0, 0, 300, 400)), image.Pt(300, 400))
	assert.Equal(t, imaging.CodeDamaged, refusalOf(t, err).Code)
}
