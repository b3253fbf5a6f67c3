package jar_test

import (
	"bytes"
	"context"
	"fmt"
	"image/jpeg"
	"os"
	"path/filepath"
	"runtime"
	"sync/atomic"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"mudline/imaging/enginetest"
	"mudline/internal/engine"
	"mudline/internal/jar"
	"mudline/internal/record"
)

// largePhotos are photos of one rendered jar as a phone's 12-megapixel JPEGs.
func largePhotos(b *testing.B, n int) []jar.File {
	paths, err := filepath.Glob(filepath.Join("..", "..", "testdata", "jars", "open-05", "*.jpg"))
	require.NoError(b, err)
	require.GreaterOrEqual(b, len(paths), n)
	var files []jar.File
	for i, at := range []string{"1min", "2h", "2d"}[:n] {
		data, err := os.ReadFile(paths[i])
		require.NoError(b, err)
		large := enginetest.LargePhoto(b, data)
		files = append(files, jar.File{Name: fmt.Sprintf("%d_%s.jpg", i, at), Data: func() ([]byte, error) { return large, nil }})
	}
	return files
}

func readAll(b *testing.B, files []jar.File) time.Duration {
	start := time.Now()
	_, err := jar.Analyse(context.Background(), files, record.Record{WaterDepthMM: 113.7}, jar.Options{Engine: engine.Default()})
	require.NoError(b, err)
	return time.Since(start)
}

// BenchmarkReadOne reads one 12-megapixel JPEG end to end. x-decode is its time
// over that of image/jpeg for the same file, both on one processor.
func BenchmarkReadOne(b *testing.B) {
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(1))
	files := largePhotos(b, 1)
	data, _ := files[0].Data()
	var decode, read time.Duration
	for b.Loop() {
		start := time.Now()
		_, err := jpeg.Decode(bytes.NewReader(data))
		require.NoError(b, err)
		decode += time.Since(start)
		read += readAll(b, files)
	}
	b.ReportMetric(float64(read)/float64(decode), "x-decode")
	b.ReportMetric(float64(read.Milliseconds())/float64(b.N), "ms-read")
}

// BenchmarkReadMemory reports the largest heap met while one 12-megapixel JPEG
// is read, over the decoded picture (Y, Cb and Cr planes with halved chroma).
// With OpenCV, what lies outside Go's heap is not in it.
func BenchmarkReadMemory(b *testing.B) {
	files := largePhotos(b, 1)
	const decoded = 3000 * 4000 * 3 / 2
	var peak uint64
	for b.Loop() {
		peak = max(peak, peakHeap(func() { readAll(b, files) }))
	}
	b.ReportMetric(float64(peak)/decoded, "x-memory")
}

// peakHeap samples the heap while work runs, above what was in use before.
func peakHeap(work func()) uint64 {
	var m runtime.MemStats
	runtime.GC()
	runtime.ReadMemStats(&m)
	before, peak := m.HeapAlloc, uint64(0)
	var done atomic.Bool
	stopped := make(chan struct{})
	go func() {
		defer close(stopped)
		var m runtime.MemStats
		for !done.Load() {
			runtime.ReadMemStats(&m)
			peak = max(peak, m.HeapAlloc)
			time.Sleep(2 * time.Millisecond)
		}
	}()
	work()
	done.Store(true)
	<-stopped
	return peak - min(before, peak)
}

// BenchmarkReadThree reads three 12-megapixel JPEGs on all processors.
func BenchmarkReadThree(b *testing.B) {
	files := largePhotos(b, 3)
	var read time.Duration
	for b.Loop() {
		read += readAll(b, files)
	}
	b.ReportMetric(read.Seconds()/float64(b.N), "s-three-photos")
}
