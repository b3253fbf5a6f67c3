//go:build unix

package jar_test

import (
	"bytes"
	"context"
	"fmt"
	"image/jpeg"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"sync"
	"sync/atomic"
	"syscall"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"mudline/internal/engine"
	"mudline/internal/jar"
	"mudline/internal/record"
	"mudline/internal/testkit"
)

// photos are n photos of one rendered jar as a phone's JPEGs of w x h pixels.
func photos(b *testing.B, n, w, h int) []jar.File {
	paths, err := filepath.Glob(filepath.Join("..", "..", "testdata", "jars", "open-05", "*.jpg"))
	require.NoError(b, err)
	require.GreaterOrEqual(b, len(paths), n)
	var files []jar.File
	for i, at := range []string{"1min", "2h", "2d"}[:n] {
		data, err := os.ReadFile(paths[i])
		require.NoError(b, err)
		large := testkit.Enlarged(b, data, w, h)
		files = append(files, jar.File{Name: fmt.Sprintf("%d_%s.jpg", i, at), Data: func() ([]byte, error) { return large, nil }})
	}
	return files
}

func readAll(b *testing.B, files []jar.File) {
	_, err := jar.Analyse(context.Background(), files, record.Record{WaterDepthMM: 113.7}, jar.Options{Engine: engine.Default()})
	require.NoError(b, err)
}

// cpu is the processor time the program has used, its own and the system's for
// it. Unlike time on the clock it does not count what other programs do.
func cpu(b *testing.B) time.Duration {
	var u syscall.Rusage
	require.NoError(b, syscall.Getrusage(syscall.RUSAGE_SELF, &u))
	return time.Duration(u.Utime.Nano() + u.Stime.Nano())
}

// BenchmarkReadJar reads a jar of three 12-megapixel JPEGs end to end on one
// processor. x-decode is its processor time over that of image/jpeg for the
// same files, x-djpeg over that of libjpeg-turbo's djpeg where it is installed.
func BenchmarkReadJar(b *testing.B) {
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(1))
	files := photos(b, 3, 3000, 4000)
	var decode, read time.Duration
	for b.Loop() {
		start := cpu(b)
		for _, f := range files {
			data, _ := f.Data()
			_, err := jpeg.Decode(bytes.NewReader(data))
			require.NoError(b, err)
		}
		decode += cpu(b) - start
		start = cpu(b)
		readAll(b, files)
		read += cpu(b) - start
	}
	b.ReportMetric(float64(read)/float64(decode), "x-decode")
	b.ReportMetric(float64(read.Milliseconds())/float64(b.N*len(files)), "cpu-ms/photo")
	if turbo := djpeg(b, files); turbo > 0 {
		b.ReportMetric(float64(read)/float64(b.N)/float64(turbo), "x-djpeg")
		b.ReportMetric(float64(turbo.Microseconds())/1000/float64(len(files)), "djpeg-ms/photo")
	}
}

// djpeg is the processor time djpeg takes to decode the files and write them to
// the null device, the least of several runs; 0 where it is not installed.
func djpeg(b *testing.B, files []jar.File) (sum time.Duration) {
	program, err := exec.LookPath("djpeg")
	if err != nil {
		return 0
	}
	for _, f := range files {
		data, _ := f.Data()
		least := time.Duration(1 << 62)
		for range 10 {
			run := exec.Command(program)
			run.Stdin = bytes.NewReader(data)
			require.NoError(b, run.Run())
			least = min(least, run.ProcessState.UserTime()+run.ProcessState.SystemTime())
		}
		sum += least
	}
	return sum
}

// BenchmarkTwoWorkers reads jars one after the other on one processor, and two
// at a time on two. x-throughput is the ratio of the times on the clock, so it
// means something on a machine at rest only; x-cpu is how much more processor
// time two at a time take, so 2/x-cpu is what a machine at rest could reach.
func BenchmarkTwoWorkers(b *testing.B) {
	if runtime.NumCPU() < 2 {
		b.Skip("one processor only")
	}
	files := photos(b, 3, 3000, 4000)
	const jars = 4
	work := func(workers int, clock, used *time.Duration) {
		defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(workers))
		start, before := time.Now(), cpu(b)
		var next atomic.Int32
		var wg sync.WaitGroup
		for range workers {
			wg.Go(func() {
				for next.Add(1) <= jars {
					readAll(b, files)
				}
			})
		}
		wg.Wait()
		*clock += time.Since(start)
		*used += cpu(b) - before
	}
	var one, two, oneCPU, twoCPU time.Duration
	for b.Loop() {
		work(1, &one, &oneCPU)
		work(2, &two, &twoCPU)
	}
	b.ReportMetric(float64(one)/float64(two), "x-throughput")
	b.ReportMetric(float64(twoCPU)/float64(oneCPU), "x-cpu")
}

// BenchmarkPeak reports the largest heap met while one photo is read, in bytes
// per pixel of the photo. With OpenCV, what lies outside Go's heap is not in it.
func BenchmarkPeak(b *testing.B) {
	for _, size := range [][2]int{{3000, 4000}, {6000, 8000}} {
		b.Run(fmt.Sprintf("%dMP", size[0]*size[1]/1_000_000), func(b *testing.B) {
			files := photos(b, 1, size[0], size[1])
			var peak uint64
			for b.Loop() {
				peak = max(peak, peakHeap(func() { readAll(b, files) }))
			}
			b.ReportMetric(float64(peak)/1e6, "MB")
			b.ReportMetric(float64(peak)/float64(size[0]*size[1]), "B/pixel")
		})
	}
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
