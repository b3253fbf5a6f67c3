package batch

import (
	"os"
	"path/filepath"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// TestTwoRunsIntoOneFolder starts a second run while another process writes.
func TestTwoRunsIntoOneFolder(t *testing.T) {
	for first, second := range map[string]map[string]bool{
		"1/1": {"1/1": false, "1/2": false},
		"1/2": {"1/1": false, "1/2": false, "2/2": true},
	} {
		root, out := many(t, 8), filepath.Join(t.TempDir(), "out")
		c := start(t, root, out, first, time.Minute)
		require.Eventually(t, func() bool { // it has the folder, and is reading
			locks, _ := filepath.Glob(filepath.Join(out, ".*.lock"))
			probes, _ := filepath.Glob(filepath.Join(out, ".probe*"))
			temps, _ := filepath.Glob(filepath.Join(out, ".mudline-*"))
			return len(locks) > 0 && len(probes) == 0 && len(temps) == 0
		}, time.Minute, 10*time.Millisecond)
		time.Sleep(100 * time.Millisecond)
		for part, goes := range second {
			opt := options(out)
			var err error
			opt.Shard, err = ParseShard(part)
			require.NoError(t, err)
			_, err = Run(t.Context(), find(t, root), opt)
			if goes {
				assert.NoError(t, err, "%s beside %s", part, first)
			} else {
				assert.ErrorContains(t, err, "another batch is writing into "+out, "%s beside %s", part, first)
			}
		}
		require.NoError(t, c.Process.Kill())
		_ = c.Wait() // killed
		opt := options(out)
		_, err := Run(t.Context(), find(t, root), opt)
		assert.NoError(t, err, "the lock went with the process")
	}
}

// TestTrialBesideTrial lets shards try one folder at the same moment, which they
// do when a scheduler starts all of them.
func TestTrialBesideTrial(t *testing.T) {
	root, out := many(t, 1), filepath.Join(t.TempDir(), "out")
	plan := find(t, root)
	const shards, times = 8, 50
	failed := make(chan error, shards*times)
	for k := 1; k <= shards; k++ {
		go func() {
			for range times {
				opt := options(out)
				opt.Shard = Shard{k, shards}
				r := newRunner(plan, opt)
				release, err := r.takeOut()
				if err == nil {
					release()
				}
				failed <- err
			}
		}()
	}
	for range shards * times {
		require.NoError(t, <-failed)
	}
	left, err := os.ReadDir(out)
	require.NoError(t, err)
	for _, e := range left {
		assert.Equal(t, ".lock", filepath.Ext(e.Name()), "%s is left", e.Name())
	}
}
