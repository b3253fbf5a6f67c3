package imaging_test

import (
	"bytes"
	"encoding/binary"
	"image"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mudline/imaging"
	"mudline/internal/testkit"
)

// A HEIC picture larger than can be decoded in bounded memory is refused before a pixel of
// it is decoded, with what to do; one that a browser has decoded is taken.
func TestLargeHEICIsBound(t *testing.T) {
	data := bytes.Clone(fixture(t, "quadrants.heic"))
	claim := func(w, h uint32) {
		at := bytes.Index(data, []byte("ispe")) // ISO/IEC 23008-12 section 6.5.3
		require.Positive(t, at)
		binary.BigEndian.PutUint32(data[at+8:], w)
		binary.BigEndian.PutUint32(data[at+12:], h)
	}
	claim(8064, 6048)
	var err error
	assert.Less(t, testkit.Quickest(func() { _, err = imaging.Open(imaging.PureGo{}, "a_2h.heic", data) }), time.Second)
	r := refusalOf(t, err)
	assert.Equal(t, imaging.CodeTooLarge, r.Code)
	assert.Contains(t, r.Text.String(), "8064 x 6048")
	assert.Contains(t, r.Remedy.String(), "JPEG")
	w, h := imaging.Fit(8064, 6048, imaging.WorkingSide)
	_, err = imaging.OpenDecoded("a_2h.heic", data, image.NewRGBA(image.Rect(0, 0, w, h)), image.Pt(8064, 6048))
	assert.NoError(t, err)
	claim(5712, 4284) // as phones write it
	_, err = imaging.Open(imaging.PureGo{}, "a_2h.heic", data)
	if err != nil {
		assert.NotEqual(t, imaging.CodeTooLarge, refusalOf(t, err).Code)
	}
}
