//go:build opencv

package engine_test

import (
	"context"
	"math"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mudline/imaging"
	"mudline/internal/engine"
	"mudline/internal/jar"
	"mudline/internal/jartest"
	"mudline/internal/reading"
	"mudline/internal/record"
)

// Both engines must see the same lines and read the same heights, within 1 % of the
// water depth.
func TestEnginesReadTheSameHeights(t *testing.T) {
	root := os.Getenv("MUDLINE_JARS")
	if root == "" {
		root = "../../testdata/jars"
	}
	truths, err := jartest.ReadTruths(root)
	require.NoError(t, err)
	require.NotEmpty(t, truths)
	for _, truth := range truths {
		t.Run(truth.Name, func(t *testing.T) {
			a, b := read(t, truth, imaging.PureGo{}), read(t, truth, engine.Default())
			require.Equal(t, "opencv", b.Engine)
			for i := range a.Photos {
				p, q := a.Photos[i].HeightsMM, b.Photos[i].HeightsMM
				same(t, truth, a.Photos[i].File+" deposit top", p.DepositTop, q.DepositTop)
				same(t, truth, a.Photos[i].File+" sand top", p.SandTop, q.SandTop)
				same(t, truth, a.Photos[i].File+" silt top", p.SiltTop, q.SiltTop)
			}
		})
	}
}

func same(t *testing.T, truth *jartest.Truth, name string, a, b *reading.Height) {
	if a == nil || b == nil {
		assert.True(t, a == b, "%s is seen by one engine only", name)
		return
	}
	assert.LessOrEqual(t, math.Abs(a.Value-b.Value), 0.01*truth.WaterHeightMM, "%s: %.2f and %.2f mm", name, a.Value, b.Value)
}

func read(t *testing.T, truth *jartest.Truth, eng imaging.Engine) reading.Reading {
	shaken, err := record.ParseMoment(truth.ShakeTime)
	require.NoError(t, err)
	rec := record.Record{WaterDepthMM: truth.WaterHeightMM, TempC: &truth.TempC, Shaken: shaken}
	var files []jar.File
	for _, p := range truth.Photos {
		path := filepath.Join(truth.Dir, p.File)
		files = append(files, jar.File{Name: p.File, Data: func() ([]byte, error) { return os.ReadFile(path) }})
	}
	res, err := jar.Analyse(context.Background(), files, rec, jar.Options{Engine: eng})
	require.NoError(t, err)
	return res.Reading
}
