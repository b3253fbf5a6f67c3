package batch

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"image/jpeg"
	"os"
	"path/filepath"
	"runtime"
	"sync/atomic"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mudline/imaging"
	"mudline/internal/jar"
	"mudline/internal/jartest"
	"mudline/internal/record"
)

// liveHeap is what is alive on the heap. Rubbish is swept first: how much of it
// lies about is chance.
func liveHeap() uint64 {
	var m runtime.MemStats
	runtime.GC()
	runtime.ReadMemStats(&m)
	return m.HeapAlloc
}

// TestMemoryIsFlat: a thousand jars need no more than 1.2 times the memory of a
// hundred. The analysis holds about what the reading of a small photo does, and
// what is alive is looked at while it does, one jar at a time.
func TestMemoryIsFlat(t *testing.T) {
	if testing.Short() {
		t.Skip("takes some seconds")
	}
	peak := func(n int) (most uint64) {
		root := many(t, n)
		opt := options(filepath.Join(t.TempDir(), "out"))
		calls := 0
		opt.Jobs = 1
		opt.Analyse = func(ctx context.Context, f []jar.File, r record.Record, o jar.Options) (*jar.Result, error) {
			pictures := make([][]byte, 12*len(f)) // the picture, its planes, what is seen in it
			for i := range pictures {
				pictures[i] = bytes.Repeat([]byte{byte(i)}, 1<<20)
			}
			res, err := made(ctx, f, r, o)
			for range 150 { // a cloud of soils
				res.Reading.Soils = append(res.Reading.Soils, [3]float64{20, 30, 50})
			}
			if calls++; calls%10 == 0 {
				most = max(most, liveHeap())
			}
			runtime.KeepAlive(pictures)
			return res, err
		}
		assert.Equal(t, n, run(t, root, opt).Read)
		return most
	}
	small, large := peak(20), peak(200)
	t.Logf("20 jars: %.1f MB, 200 jars: %.1f MB", float64(small)/(1<<20), float64(large)/(1<<20))
	assert.Less(t, float64(large), 1.2*float64(small))
}

// TestMemoryBudget: jars run side by side only as far as they fit.
func TestMemoryBudget(t *testing.T) {
	var pic bytes.Buffer
	require.NoError(t, jpeg.Encode(&pic, imageOf(4000, 3000), &jpeg.Options{Quality: 30}))
	list := map[string]string{}
	for i := range 6 {
		list[fmt.Sprintf("j%d/a_1min.jpg", i)] = pic.String()
	}
	root := tree(t, list)
	one := (&runner{plan: find(t, root)}).weight(&find(t, root).Jars[0])
	assert.InDelta(t, jarBytes+(keptBytes+lookingBytes)*1600*1200+36e6, float64(one), 3e6, "12 megapixels of three bytes, and the file")
	for budget, want := range map[int64]int32{programBytes + one + one/2: 1, programBytes + 2*one: 2, programBytes + 4*one: 4} {
		var now, most atomic.Int32
		opt := options(filepath.Join(t.TempDir(), "out"))
		opt.Jobs, opt.Memory = 4, budget
		opt.Analyse = func(ctx context.Context, f []jar.File, r record.Record, o jar.Options) (*jar.Result, error) {
			n := now.Add(1)
			for m := most.Load(); n > m && !most.CompareAndSwap(m, n); m = most.Load() {
			}
			for patience := time.After(10 * time.Second); most.Load() < want; { // as many as may come together
				select {
				case <-patience:
					return nil, errors.New("nobody else came")
				case <-time.After(time.Millisecond):
				}
			}
			time.Sleep(50 * time.Millisecond) // and as many as may not
			now.Add(-1)
			return made(ctx, f, r, o)
		}
		assert.Equal(t, 6, run(t, root, opt).Read)
		assert.Equal(t, want, most.Load(), "within %d MB", budget>>20)
	}
}

func TestProgressiveIsTold(t *testing.T) {
	var b bytes.Buffer
	require.NoError(t, jpeg.Encode(&b, imageOf(16, 16), nil))
	assert.False(t, progressive(b.Bytes()))
	at := bytes.Index(b.Bytes(), []byte{0xff, 0xc0})
	b.Bytes()[at+1] = 0xc2
	assert.True(t, progressive(b.Bytes()))
	for n := range 40 {
		progressive(b.Bytes()[:n])
	}
}

var someJars = []string{"open-02", "open-05", "open-08", "open-11", "open-13"}

// realJars is a folder of n jars with three small rendered photos each, made
// from those of testdata.
func realJars(t testing.TB, n int) string {
	list := map[string]string{}
	for i := range n {
		jar := someJars[i%len(someJars)]
		photos := jartest.SmallPhotos()[jar]
		for q, at := range []string{"1min", "2h", "2d"} {
			list[fmt.Sprintf("plot-%04d/p_%s.jpg", i, at)] = string(photos[min(q, len(photos)-1)])
		}
		list[fmt.Sprintf("plot-%04d/jar.yaml", i)] = "water-depth: 130 mm\ntemp: 20\n"
	}
	return tree(t, list)
}

// TestRealReading reads small rendered photos with one and with two workers.
func TestRealReading(t *testing.T) {
	if testing.Short() {
		t.Skip("reads pictures")
	}
	root := realJars(t, len(someJars))
	var first map[string]string
	for _, jobs := range []int{1, 2} {
		opt := options(filepath.Join(t.TempDir(), "out"))
		opt.Analyse, opt.Jobs = jar.Analyse, jobs
		s := run(t, root, opt)
		assert.Zero(t, s.Faults)
		assert.GreaterOrEqual(t, s.Read, 3, "of five jars: %v", s.Rows)
		if first == nil {
			first = results(t, opt.Out)
		}
		assert.Equal(t, first, results(t, opt.Out))
	}
}

// BenchmarkFinished runs over a finished folder of a thousand jars: ms-jar is
// the whole run, sorting included, per jar.
func BenchmarkFinished(b *testing.B) {
	const jars = 1000
	root := many(b, jars)
	opt := options(filepath.Join(b.TempDir(), "out"))
	run(b, root, opt)
	b.ResetTimer()
	for b.Loop() {
		s, err := Run(b.Context(), find(b, root), opt)
		require.NoError(b, err)
		require.Equal(b, jars, s.Kept)
	}
	b.ReportMetric(b.Elapsed().Seconds()*1000/float64(b.N)/jars, "ms-jar")
}

// BenchmarkTwoWorkers reads jars of small rendered photos with one worker on one
// processor and with two on two; x-one is the ratio of throughputs.
func BenchmarkTwoWorkers(b *testing.B) {
	if runtime.NumCPU() < 2 {
		b.Skip("one processor")
	}
	root := realJars(b, 20)
	read := func(jobs int) time.Duration {
		defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(jobs))
		out := filepath.Join(b.TempDir(), "out")
		defer os.RemoveAll(out)
		opt := options(out)
		opt.Analyse, opt.Jobs, opt.Engine, opt.Memory = jar.Analyse, jobs, imaging.PureGo{}, DefaultMemory
		start := time.Now()
		run(b, root, opt)
		return time.Since(start)
	}
	var one, two time.Duration
	for b.Loop() {
		one += read(1)
		two += read(2)
	}
	b.ReportMetric(float64(one)/float64(two), "x-one")
}
