package batch

import (
	"context"
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mudline/imaging"
	"mudline/internal/browsertest"
	"mudline/internal/jar"
	"mudline/internal/record"
)

// childEnv tells this test binary to read a batch and leave: ROOT|OUT|SHARD|pause
const childEnv = "MUDLINE_BATCH_CHILD"

func TestMain(m *testing.M) {
	if task := os.Getenv(childEnv); task != "" {
		if err := child(strings.Split(task, "|")); err != nil {
			fmt.Fprintln(os.Stderr, err)
			os.Exit(1)
		}
		os.Exit(0)
	}
	os.Exit(browsertest.Run(m))
}

func child(task []string) error {
	opt := options(task[1])
	var err error
	if opt.Shard, err = ParseShard(task[2]); err != nil {
		return err
	}
	pause, err := time.ParseDuration(task[3])
	if err != nil {
		return err
	}
	opt.Analyse = func(ctx context.Context, f []jar.File, r record.Record, o jar.Options) (*jar.Result, error) {
		time.Sleep(pause)
		return made(ctx, f, r, o)
	}
	plan, err := Find(task[0], imaging.PureGo{}, task[1])
	if err != nil {
		return err
	}
	_, err = Run(context.Background(), plan, opt)
	return err
}

func start(t *testing.T, root, out, shard string, pause time.Duration) *exec.Cmd {
	t.Helper()
	c := exec.Command(os.Args[0])
	c.Env = append(os.Environ(), childEnv+"="+strings.Join([]string{root, out, shard, pause.String()}, "|"))
	c.Stderr = os.Stderr
	require.NoError(t, c.Start())
	return c
}

// TestKilled kills a process with signal 9 in mid-batch, several times at
// different moments: every file is whole, and the next run goes on from there to
// what an undisturbed one makes.
func TestKilled(t *testing.T) {
	root := many(t, 30)
	calm := options(filepath.Join(t.TempDir(), "out"))
	run(t, root, calm)
	want := results(t, calm.Out)
	out := filepath.Join(t.TempDir(), "out")
	finished := 0
	for k := range 5 {
		c := start(t, root, out, "1/1", 100*time.Millisecond)
		require.Eventually(t, func() bool {
			found, _ := filepath.Glob(filepath.Join(out, "*", doneName))
			return len(found) >= finished+2
		}, time.Minute, time.Millisecond)
		time.Sleep(time.Duration(4*k) * time.Millisecond)
		require.NoError(t, c.Process.Kill())
		_ = c.Wait() // killed
		now := 0
		for name, text := range results(t, out) {
			switch {
			case strings.Contains(filepath.Base(name), ".mudline-") || strings.HasPrefix(name, ".probe"):
			case filepath.Base(name) == doneName:
				require.True(t, json.Valid([]byte(text)), name)
				now++
				folder := filepath.Dir(name) + "/"
				for _, other := range []string{"reading.json", ReportName, ThumbName} {
					require.Equal(t, want[folder+other], results(t, out)[folder+other], "what is said to be finished is")
				}
			default:
				require.Equal(t, want[name], text, "%s is whole, whenever it is seen", name)
			}
		}
		require.GreaterOrEqual(t, now, finished, "nothing finished is lost")
		finished = now
	}
	require.NotZero(t, finished)
	require.Less(t, finished, 30, "it was killed in mid-batch")
	opt, n := counting(options(out))
	s := run(t, root, opt)
	assert.Equal(t, finished, s.Kept)
	assert.Equal(t, 30-finished, int(n.Load()))
	assert.Equal(t, want, results(t, out), "no leftovers either")
}

// TestShardsOfProcesses reads a batch with 1, 3 and 5 processes at once and asks
// for the same bytes as one process leaves.
func TestShardsOfProcesses(t *testing.T) {
	root := many(t, 25)
	one := options(filepath.Join(t.TempDir(), "out"))
	run(t, root, one)
	want := results(t, one.Out)
	for _, shared := range []bool{false, true} {
		for _, n := range []int{2, 5} {
			dir := t.TempDir()
			var outs []string
			var running []*exec.Cmd
			for k := range n {
				out := filepath.Join(dir, "shared")
				if !shared {
					out = filepath.Join(dir, fmt.Sprint(k))
				}
				if k == 0 || !shared {
					outs = append(outs, out)
				}
				running = append(running, start(t, root, out, fmt.Sprintf("%d/%d", k+1, n), 0))
			}
			for _, c := range running {
				require.NoError(t, c.Wait())
			}
			merged := filepath.Join(dir, "merged")
			s, err := Merge(outs, merged)
			require.NoError(t, err)
			assert.Equal(t, 25, s.Read)
			assert.Equal(t, want, results(t, merged), "%d processes, shared %v", n, shared)
			if shared { // in place
				_, err := Merge(outs, outs[0])
				require.NoError(t, err)
				got := results(t, outs[0])
				for name := range got {
					if strings.HasPrefix(name, "shard-") {
						delete(got, name)
					}
				}
				assert.Equal(t, want, got)
			}
			again, count := counting(options(merged))
			run(t, root, again)
			assert.Zero(t, count.Load(), "a merged folder counts as finished")
		}
	}
}

func TestShards(t *testing.T) {
	for _, bad := range []string{"", "1", "0/4", "5/4", "a/4", "1/0", "1/4/2", "1/1000000"} {
		_, err := ParseShard(bad)
		assert.Error(t, err, bad)
	}
	one, err := ParseShard("1/1")
	require.NoError(t, err)
	assert.Equal(t, whole, one)
	plan := find(t, many(t, 200))
	for _, n := range []int{2, 3, 8} {
		seen := map[string]int{}
		for k := 1; k <= n; k++ {
			mine := Shard{k, n}.Of(plan.Jars)
			assert.InDelta(t, 200/float64(n), len(mine), 1, "equal, since all have as many photos")
			for _, j := range mine {
				seen[j.ID]++
			}
		}
		require.Len(t, seen, 200)
		for id, times := range seen {
			require.Equal(t, 1, times, id)
		}
	}
}

// Parts of jars with unlike numbers of photos are equal work, whatever the order in which
// a machine lists the jars.
func TestShardsAreEqualWork(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 5))
	var jars []Jar
	total := 0
	for i := range 60 {
		n := 1 + rng.IntN(9)
		total += n
		jars = append(jars, Jar{ID: fmt.Sprintf("jar-%d/", i), Photos: make([]string, n)})
	}
	for _, n := range []int{2, 3, 4, 7} {
		part := deal(jars, n)
		photos := make([]float64, n+1)
		for _, j := range jars {
			photos[part[j.ID]] += float64(len(j.Photos))
		}
		for k := 1; k <= n; k++ {
			assert.InDelta(t, float64(total)/float64(n), photos[k], 1, "part %d of %d", k, n)
		}
		shuffled := slices.Clone(jars)
		rng.Shuffle(len(shuffled), func(i, k int) { shuffled[i], shuffled[k] = shuffled[k], shuffled[i] })
		assert.Equal(t, part, deal(shuffled, n))
	}
	assert.Len(t, deal(jars, maxShards), 60, "more parts than jars")
}

func TestMergeRefuses(t *testing.T) {
	root := many(t, 12)
	dir := t.TempDir()
	shard := func(name, part, stamp, root string) string {
		opt := options(filepath.Join(dir, name))
		opt.Stamp = stamp
		var err error
		opt.Shard, err = ParseShard(part)
		require.NoError(t, err)
		run(t, root, opt)
		return opt.Out
	}
	a, b, c := shard("a", "1/3", "test 1", root), shard("b", "2/3", "test 1", root), shard("c", "3/3", "test 1", root)
	newer, other, half := shard("newer", "3/3", "test 2", root), shard("other", "3/3", "test 1", many(t, 13)), shard("half", "2/2", "test 1", root)
	copyOfA := shard("a2", "1/3", "test 1", root)
	for _, x := range []struct {
		from []string
		want string
	}{
		{[]string{a, b}, "parts are missing: 3 of 3"},
		{[]string{a, c, b, copyOfA}, "part 1/3 is there twice, in " + a},
		{[]string{a, b, newer}, "different programs or with different options: test 1 in " + a + ", test 2 in " + newer},
		{[]string{a, b, other}, "not of the same folder of photos"},
		{[]string{a, half}, "merge parts that were split the same way"},
		{[]string{a, t.TempDir()}, "holds no part of a batch"},
	} {
		out := filepath.Join(dir, "merged")
		_, err := Merge(x.from, out)
		assert.ErrorContains(t, err, x.want)
		assert.NoDirExists(t, out, "nothing is written")
	}
	out := filepath.Join(dir, "merged")
	list, err := readManifest(filepath.Join(b, "shard-2-of-3.json"))
	require.NoError(t, err)
	require.NotEmpty(t, list.Jars)
	require.NoError(t, os.WriteFile(filepath.Join(b, list.Jars[0].Folder, ReportName), []byte("longer than it was, by some bytes and then some more of them"), 0o644))
	_, err = Merge([]string{a, b, c}, out)
	assert.ErrorContains(t, err, "was changed after it was written")
	require.NoError(t, os.Remove(filepath.Join(b, list.Jars[0].Folder, doneName)))
	_, err = Merge([]string{a, b, c}, out)
	assert.ErrorContains(t, err, "run that part again")
	shard("b", "2/3", "test 1", root)
	s, err := Merge([]string{c, a, b}, out)
	require.NoError(t, err)
	assert.Equal(t, 12, s.Read)
}

func TestUnfinishedShardIsNotMerged(t *testing.T) {
	root := many(t, 12)
	opt := options(filepath.Join(t.TempDir(), "out"))
	opt.Shard = Shard{1, 2}
	ctx, cancel := context.WithCancel(t.Context())
	opt.Jobs = 1
	opt.Analyse = func(c context.Context, f []jar.File, r record.Record, o jar.Options) (*jar.Result, error) {
		defer cancel()
		return made(c, f, r, o)
	}
	_, err := Run(ctx, find(t, root), opt)
	require.ErrorIs(t, err, context.Canceled)
	_, err = Merge([]string{opt.Out}, opt.Out)
	assert.ErrorContains(t, err, "part 1/2 in "+opt.Out+" is not finished")
}
