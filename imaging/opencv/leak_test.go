//go:build opencv

package opencv_test

import (
	"bytes"
	"image"
	"image/jpeg"
	"os"
	"path/filepath"
	"runtime/pprof"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mudline/imaging"
	"mudline/imaging/opencv"
	"mudline/internal/testkit"
)

// Every Mat is closed. gocv counts those that are open when it is built with
// the tag matprofile; without it this check cannot be made.
func TestNoMatLeaks(t *testing.T) {
	open := pprof.Lookup("gocv.io/x/gocv.Mat")
	if open == nil {
		t.Skip("gocv counts open Mats only with -tags opencv,matprofile")
	}
	before := open.Count()
	eng := opencv.Engine{}
	pic := image.NewRGBA(image.Rect(0, 0, 640, 480))
	for i := range pic.Pix {
		pic.Pix[i] = uint8(i / 7)
	}
	data, info := testkit.Coded(t, pic, 90)
	for _, side := range []int{640, 300, 100} {
		_, _, err := eng.Decode(data, info, side)
		require.NoError(t, err)
	}
	_, _, _ = eng.Decode(data[:len(data)/2], info, 300)
	_, _, _ = eng.Decode([]byte("nothing"), info, 300)
	f := imaging.Frame{Floor: imaging.Point{X: 300, Y: 400}, Water: imaging.Point{X: 300, Y: 100}, HalfWidthFloor: 90, HalfWidthWater: 90}
	opencv.Remapped(pic, f, 1, 0)
	opencv.Remapped(pic, imaging.Frame{}, 1, 0)
	assert.Equal(t, before, open.Count())
}

// BenchmarkOpen12MP opens with OpenCV; "x-decode" is the time in units of what
// image/jpeg takes for the same file, measured in turn.
func BenchmarkOpen12MP(b *testing.B) {
	small, err := os.ReadFile(filepath.Join("..", "..", "testdata", "jars", "open-05", "open-05_t174876s.jpg"))
	require.NoError(b, err)
	data := testkit.LargePhoto(b, small)
	info, err := imaging.Inspect(data)
	require.NoError(b, err)
	var decode, open, reduced time.Duration
	for b.Loop() {
		start := time.Now()
		_, err := jpeg.Decode(bytes.NewReader(data))
		require.NoError(b, err)
		middle := time.Now()
		_, err = imaging.Open(opencv.Engine{}, "", data)
		require.NoError(b, err)
		opened := time.Now()
		_, _, err = opencv.Engine{}.Decode(data, info, imaging.WorkingSide)
		require.NoError(b, err)
		decode += middle.Sub(start)
		open += opened.Sub(middle)
		reduced += time.Since(opened)
	}
	b.ReportMetric(float64(open)/float64(decode), "x-decode")
	b.ReportMetric(float64(reduced)/float64(decode), "x-decode-reduce-only")
}

func BenchmarkRemapped(b *testing.B) {
	pic := image.NewRGBA(image.Rect(0, 0, 1200, 1600))
	f := imaging.Frame{
		Floor: imaging.Point{X: 600, Y: 1300}, Water: imaging.Point{X: 600, Y: 400},
		HalfWidthFloor: 300, HalfWidthWater: 300,
	}
	for b.Loop() {
		opencv.Remapped(pic, f, 1.1, -0.1)
	}
}
