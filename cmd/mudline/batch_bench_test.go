//go:build unix

package main

import (
	"bytes"
	"fmt"
	"image/jpeg"
	"os"
	"path/filepath"
	"runtime"
	"syscall"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"mudline/internal/batch"
	"mudline/internal/engine"
	"mudline/internal/files"
	"mudline/internal/jar"
	"mudline/internal/report"
	"mudline/internal/testkit"
)

// cpuTime is the processor time this process has taken.
func cpuTime() time.Duration {
	var u syscall.Rusage
	_ = syscall.Getrusage(syscall.RUSAGE_SELF, &u)
	return time.Duration(u.Utime.Nano() + u.Stime.Nano())
}

// BenchmarkBatchPhoto reads a batch of 12-megapixel photos. x-decode is the
// processor time a photo takes, everything included but the HTML report, over
// that of image/jpeg decoding the same photos; x-decode-html has the report in it.
func BenchmarkBatchPhoto(b *testing.B) {
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(1))
	root := filepath.Join(b.TempDir(), "jars")
	var photos [][]byte
	paths, err := filepath.Glob(filepath.Join("..", "..", "testdata", "jars", "open-05", "*.jpg"))
	require.NoError(b, err)
	const jars = 3
	for q, at := range []string{"1min", "2h", "2d"} {
		data, err := os.ReadFile(paths[q])
		require.NoError(b, err)
		photos = append(photos, testkit.LargePhoto(b, data))
		for k := range jars {
			dir := filepath.Join(root, fmt.Sprint(k))
			require.NoError(b, os.MkdirAll(dir, 0o755))
			require.NoError(b, os.WriteFile(filepath.Join(dir, "p_"+at+".jpg"), photos[q], 0o644))
		}
	}
	read := func(render func(batch.Outcome) ([]files.File, error)) time.Duration {
		eng := engine.Default()
		plan, err := batch.Find(root, eng)
		require.NoError(b, err)
		start := cpuTime()
		s, err := batch.Run(b.Context(), plan, batch.Options{Out: filepath.Join(b.TempDir(), "out"), Engine: eng, Stamp: "bench", Jobs: 1,
			Memory: batch.DefaultMemory, Analyse: jar.Analyse, Render: render})
		require.NoError(b, err)
		require.Equal(b, jars, s.Read)
		return (cpuTime() - start) / jars
	}
	pictures := func(o batch.Outcome) ([]files.File, error) { return drawn(report.ReportInput{Result: *o.Result}) }
	var decode, bare, with time.Duration
	for b.Loop() {
		start := cpuTime()
		for _, p := range photos {
			_, err := jpeg.Decode(bytes.NewReader(p))
			require.NoError(b, err)
		}
		decode += cpuTime() - start
		bare += read(pictures)
		with += read(renderIn(nil))
	}
	b.ReportMetric(float64(bare)/float64(decode), "x-decode")
	b.ReportMetric(float64(with)/float64(decode), "x-decode-html")
	b.ReportMetric(float64(bare.Milliseconds())/float64(b.N*len(photos)), "cpu-ms-photo")
}
