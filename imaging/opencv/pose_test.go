//go:build opencv

package opencv_test

import (
	"image"
	"math"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gocv.io/x/gocv"

	"mudline/imaging/sheetmark"
	"mudline/internal/backdrop"
	"mudline/internal/backdrop/press"
	"mudline/internal/jartest"
)

// The sheet's place in a rendered photo against OpenCV: cv::findHomography through the
// paper's corners as found must carry the marks to where our stand has them, and the
// plane that OpenCV's homography implies must face the camera as ours does. (This
// version of gocv does not bind solvePnP.)
func TestStandAgainstOpenCV(t *testing.T) {
	truth, err := jartest.ReadTruth(filepath.Join("..", "..", "testdata", "sheets", "card-04"))
	require.NoError(t, err)
	p, err := backdrop.Draw(backdrop.Sheet{Identity: 77})
	require.NoError(t, err)
	photo := truth.Photos[0]
	data, err := truth.LaidPhoto(photo, press.Picture(p, 150), sheetmark.A4, nil)
	require.NoError(t, err)
	mat, err := gocv.IMDecode(data, gocv.IMReadColor)
	require.NoError(t, err)
	defer mat.Close()
	img, err := mat.ToImage()
	require.NoError(t, err)
	pic, ok := img.(*image.RGBA)
	require.True(t, ok)
	found, _ := sheetmark.Find(pic, sheetmark.LensOf(photo.Camera.F35MM, pic.Rect.Dx(), pic.Rect.Dy()))
	require.Len(t, found, 1)
	s := found[0].Stand

	points := func(v []sheetmark.Point) gocv.Mat {
		m := gocv.NewMatWithSize(len(v), 1, gocv.MatTypeCV64FC2)
		for i, q := range v {
			m.SetDoubleAt(i, 0, q.X)
			m.SetDoubleAt(i, 1, q.Y)
		}
		return m
	}
	var on, seen []sheetmark.Point
	for i := range sheetmark.Marks {
		on = append(on, sheetmark.Mark(i))
		seen = append(seen, s.Picture(sheetmark.Mark(i)))
	}
	from, to := points(on), points(seen)
	mask := gocv.NewMat()
	defer from.Close()
	defer to.Close()
	defer mask.Close()
	h := gocv.FindHomography(from, &to, gocv.HomograpyMethodAllPoints, 3, &mask, 2000, 0.995)
	defer h.Close()
	at := func(q sheetmark.Point) sheetmark.Point {
		v := func(r int) float64 {
			return h.GetDoubleAt(r, 0)*q.X + h.GetDoubleAt(r, 1)*q.Y + h.GetDoubleAt(r, 2)
		}
		return sheetmark.Point{X: v(0) / v(2), Y: v(1) / v(2)}
	}
	for i, c := range sheetmark.A4.Corners() {
		q := at(c)
		want := photo.Rows.SheetCorners[i]
		assert.Less(t, math.Hypot(q.X-want[0], q.Y-want[1]), 2.0)
	}
	// The columns of K^-1 H are the sheet's directions, up to one factor (Zhang 2000).
	column := func(c int) sheetmark.Vector {
		z := h.GetDoubleAt(2, c)
		return sheetmark.Vector{X: (h.GetDoubleAt(0, c) - s.Mid.X*z) / s.Focal, Y: (h.GetDoubleAt(1, c) - s.Mid.Y*z) / s.Focal, Z: z}
	}
	right, up := column(0), column(1)
	assert.Greater(t, right.Unit().Dot(s.Right), math.Cos(0.02))
	assert.Greater(t, up.Unit().Dot(s.Up), math.Cos(0.02))
	k := (right.Len() + up.Len()) / 2
	assert.InEpsilon(t, s.DistanceMM(), column(2).Times(1/k).Len(), 0.01)
}
