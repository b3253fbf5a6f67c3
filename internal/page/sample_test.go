package page_test

import (
	"encoding/json"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mudline/internal/jartest"
	"mudline/internal/page"
	"mudline/internal/reading"
	"mudline/internal/record"
)

// The sample jar is samples/plot-07-by-the-brook, smaller: what it reads as holds the
// truth from which it was rendered. Its photos are small and no part of the first load.
func TestTheSampleJarReadsTrue(t *testing.T) {
	site := files(t)
	text, err := os.ReadFile(filepath.Join(sample("plot-07-by-the-brook"), record.FileName))
	require.NoError(t, err)
	tree, err := record.ParseTree(record.FileName, text)
	require.NoError(t, err)
	for _, key := range []string{"water-depth", "temp"} {
		assert.Contains(t, string(site["js/sample.js"]), `"`+tree[key].(string)+`"`, key)
	}
	dir := t.TempDir()
	var names []string
	for name, data := range site {
		if !page.OnDemand(name) {
			continue
		}
		assert.Less(t, len(data), 150_000, name)
		names = append(names, filepath.Base(name))
		assert.Contains(t, string(site["js/sample.js"]), `"`+filepath.Base(name)+`"`)
		assert.NotContains(t, string(site["sw.js"]), name, "it is not kept before it is asked for")
		require.NoError(t, os.WriteFile(filepath.Join(dir, filepath.Base(name)), data, 0o644))
	}
	require.Len(t, names, 3)
	truth, err := jartest.ReadTruth(sample("plot-07-by-the-brook"))
	require.NoError(t, err)
	var r reading.Reading
	require.NoError(t, json.Unmarshal([]byte(native(t, tree, dir, names)), &r))
	for _, c := range []struct {
		want float64
		got  reading.Estimate
	}{{truth.Soil.SandPct, r.Fractions.Sand}, {truth.Soil.SiltPct, r.Fractions.Silt}, {truth.Soil.ClayPct, r.Fractions.Clay}} {
		assert.GreaterOrEqual(t, c.want, c.got.Low)
		assert.LessOrEqual(t, c.want, c.got.High)
	}
	assert.Equal(t, truth.Soil.USDAClass, r.Class.Name)
}
