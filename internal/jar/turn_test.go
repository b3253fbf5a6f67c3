package jar

import (
	"bytes"
	"context"
	"errors"
	"image/jpeg"
	"testing"

	lib "github.com/disintegration/imaging"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mudline/imaging"
	"mudline/internal/reading"
)

// turnedFile is a photo turned clockwise, in a file that does not tell which way is
// up.
func turnedFile(t *testing.T, f File, deg int) File {
	data, err := f.Data()
	require.NoError(t, err)
	pic, err := jpeg.Decode(bytes.NewReader(data))
	require.NoError(t, err)
	switch deg { // the library turns anticlockwise
	case 90:
		pic = lib.Rotate270(pic)
	case 180:
		pic = lib.Rotate180(pic)
	case 270:
		pic = lib.Rotate90(pic)
	}
	var b bytes.Buffer
	require.NoError(t, jpeg.Encode(&b, pic, &jpeg.Options{Quality: 95}))
	return File{Name: f.Name, Data: func() ([]byte, error) { return b.Bytes(), nil }}
}

func TestPhotosOnTheirSideAreTurned(t *testing.T) {
	if testing.Short() {
		t.Skip("long, and nothing runs side by side in it that others do not; the plain run has it")
	}
	files, rec := rendered(t, "open-08")
	one := files[1:2]
	want, err := Analyse(context.Background(), []File{turnedFile(t, one[0], 0)}, rec, Options{})
	require.NoError(t, err)
	assert.Zero(t, want.Reading.Photos[0].TurnedDeg)
	for lies, back := range map[int]int{90: 270, 270: 90} {
		got, err := Analyse(context.Background(), []File{turnedFile(t, one[0], lies)}, rec, Options{})
		require.NoError(t, err)
		p, q := got.Reading.Photos[0], want.Reading.Photos[0]
		assert.Equal(t, back, p.TurnedDeg)
		assert.Equal(t, q.SizePx, p.SizePx)
		assert.InDelta(t, q.HeightsPercent.DepositTop.Value, p.HeightsPercent.DepositTop.Value, 0.5)
		assert.True(t, warned(got.Reading, "photo_turned"))

		_, err = Open(turnedFile(t, one[0], lies), rec, imaging.PureGo{})
		assert.Equal(t, reading.NotUpright, codeOf(t, err), "a front end that shows the file as it is")
	}
	_, err = Analyse(context.Background(), []File{turnedFile(t, one[0], 180)}, rec, Options{})
	assert.Equal(t, reading.NotUpright, codeOf(t, err))
}

func warned(r reading.Reading, code string) bool {
	for _, w := range r.Warnings {
		if w.Code == code {
			return true
		}
	}
	return false
}

func codeOf(t *testing.T, err error) string {
	var r *reading.Refusal
	require.True(t, errors.As(err, &r), "%v", err)
	return r.Code
}
