package imaging_test

import (
	"bytes"
	"image"
	"image/jpeg"
	"runtime"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mudline/imaging"
	"mudline/internal/testkit"
)

// BenchmarkOpen12MP opens a 12-megapixel JPEG and reports beside its time the
// time of image/jpeg alone on the same file, measured in turn with it: the
// metric "x-decode" is their ratio.
func BenchmarkOpen12MP(b *testing.B) {
	data := testkit.LargePhoto(b, readJar(b, "open-05"))
	b.ReportAllocs()
	var decode, open time.Duration
	for b.Loop() {
		start := time.Now()
		_, err := jpeg.Decode(bytes.NewReader(data))
		require.NoError(b, err)
		middle := time.Now()
		_, err = imaging.Open(imaging.PureGo{}, "", data)
		require.NoError(b, err)
		decode += middle.Sub(start)
		open += time.Since(middle)
	}
	b.ReportMetric(float64(open)/float64(decode), "x-decode")
	b.ReportMetric(float64(open.Milliseconds())/float64(b.N), "ms-open")
}

func BenchmarkCutStrip(b *testing.B) {
	p, err := imaging.Open(imaging.PureGo{}, "", readJar(b, "open-05"))
	require.NoError(b, err)
	f := imaging.Frame{
		Floor: imaging.Point{X: 600, Y: 1300}, Water: imaging.Point{X: 600, Y: 400},
		HalfWidthFloor: 300, HalfWidthWater: 300,
	}
	for b.Loop() {
		imaging.CutStrip(p.Picture, f, 1.1, -0.1)
	}
}

// All the memory Open asks for, let alone its peak, is at most 6 times the
// decoded picture (its Y, Cb and Cr planes) for the JPEG a phone writes.
func TestOpenMemory(t *testing.T) {
	data := testkit.LargePhoto(t, readJar(t, "open-05"))
	img, err := jpeg.Decode(bytes.NewReader(data))
	require.NoError(t, err)
	planes, ok := img.(*image.YCbCr)
	require.True(t, ok)
	decoded := uint64(len(planes.Y) + len(planes.Cb) + len(planes.Cr))

	var before, after runtime.MemStats
	runtime.ReadMemStats(&before)
	p, err := imaging.Open(imaging.PureGo{}, "", data)
	runtime.ReadMemStats(&after)
	require.NoError(t, err)
	assert.Equal(t, 2.5, p.Scale)
	asked := after.TotalAlloc - before.TotalAlloc
	assert.LessOrEqual(t, asked, 6*decoded)
	t.Logf("asked for %.2f times the decoded picture of %d bytes", float64(asked)/float64(decoded), decoded)
}
