package jar

import (
	"bytes"
	"context"
	"errors"
	"image"
	"image/jpeg"
	"testing"

	lib "github.com/disintegration/imaging"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mudline/imaging"
	"mudline/internal/reading"
	"mudline/internal/record"
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

// A box says where the jar is, not which way up: a jar that lies in its box must not be
// read across. Each photo is a rendered jar of testdata; the box is the upright one's glass.
func TestABoxDoesNotHideThatAJarLies(t *testing.T) {
	for _, name := range []string{"open-02", "open-08"} {
		files, rec := rendered(t, name)
		one := files[len(files)/2]
		up, err := Open(turnedFile(t, one, 0), rec, imaging.PureGo{})
		require.NoError(t, err)
		place := up.Stands()
		require.NotNil(t, place, name)
		k, size := up.photo.Scale, image.Pt(up.photo.FullW, up.photo.FullH)
		left, right := place.Frame.At(-1, 0.5), place.Frame.At(1, 0.5)
		box := image.Rect(int(left.X*k)-20, size.Y/10, int(right.X*k)+20, size.Y*9/10)
		for _, deg := range []int{0, 90, 180, 270} {
			b := turnedBox(box, size, deg)
			rec.Box = &record.Box{X0: float64(b.Min.X), Y0: float64(b.Min.Y), X1: float64(b.Max.X), Y1: float64(b.Max.Y)}
			_, err := Open(turnedFile(t, one, deg), rec, imaging.PureGo{})
			pic := *up.photo.Turned(deg)
			pic.TurnedDeg = 0 // as in a file that lies
			later := lookAgain(context.Background(), []*Opened{sight(one.Name, &pic, image.Rectangle{})}, &rec)
			if deg == 0 {
				assert.NoError(t, err, name)
				assert.NoError(t, later, name)
				continue
			}
			assert.Equal(t, reading.NotUpright, codeOf(t, err), "%s %d", name, deg)
			assert.Equal(t, reading.NotUpright, codeOf(t, later), "%s %d: a box drawn once the photo is open", name, deg)
		}
	}
	files, rec := rendered(t, "open-08")
	rec.Box = &record.Box{X0: 0, Y0: 0, X1: 1600, Y1: 1200}
	_, err := Analyse(context.Background(), []File{turnedFile(t, files[2], 90)}, rec, Options{})
	assert.Equal(t, reading.NotUpright, codeOf(t, err), "refused, not turned: the box was drawn on the photo as it lies")
}

func warned(r reading.Reading, code reading.WarningCode) bool {
	for _, w := range r.Warnings {
		if w.Code == code {
			return true
		}
	}
	return false
}

func codeOf(t *testing.T, err error) reading.RefusalCode {
	var r *reading.Refusal
	require.True(t, errors.As(err, &r), "%v", err)
	return r.Code
}
