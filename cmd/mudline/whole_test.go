package main

import (
	"bytes"
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mudline/internal/jar"
	"mudline/internal/jartest"
	"mudline/internal/reading"
	"mudline/internal/testkit"
)

// whole runs the real program.
func whole(t *testing.T, args ...string) (status int, out, errOut string) {
	t.Helper()
	var stdout, stderr bytes.Buffer
	status = app{analyse: jar.Analyse}.run(t.Context(), args, &stdout, &stderr)
	return status, stdout.String(), stderr.String()
}

func schema(t *testing.T) *jsonschema.Schema {
	t.Helper()
	return testkit.Schema(t, reading.Schema)
}

// TestSamplesAreRead reads the three sample jars (rendered) as the demo does
// and asks that the written reading keeps to its schema and its truth: the
// deposit's top within 5 % of the water depth, the glass within 3 % of its
// width, the true fractions within 15 points. Those are off by less than two thirds of
// what the best answer is that does not look at the photos.
func TestSamplesAreRead(t *testing.T) {
	truths, err := jartest.ReadTruths(filepath.Join("..", "..", "samples"))
	require.NoError(t, err)
	require.Len(t, truths, 3)
	s := schema(t)
	var got, want [][3]float64
	for _, truth := range truths {
		t.Run(truth.Name, func(t *testing.T) {
			out := filepath.Join(t.TempDir(), "out")
			status, text, errText := whole(t, "read", truth.Dir, "--out", out)
			require.Equal(t, statusOK, status, errText)
			assert.Contains(t, text, "by thickness alone")
			data, err := os.ReadFile(filepath.Join(out, "reading.json"))
			require.NoError(t, err)
			v, err := jsonschema.UnmarshalJSON(bytes.NewReader(data))
			require.NoError(t, err)
			require.NoError(t, s.Validate(v))
			var r reading.Reading
			require.NoError(t, json.Unmarshal(data, &r))
			againstTruth(t, truth, r)
			f := r.Fractions
			got = append(got, [3]float64{f.Sand.Percent, f.Silt.Percent, f.Clay.Percent})
			want = append(want, [3]float64{truth.Soil.SandPct, truth.Soil.SiltPct, truth.Soil.ClayPct})
			assert.Len(t, names(t, out), 4, "three pictures and the reading")
		})
	}
	require.Len(t, got, len(truths))
	blind := slices.Repeat([][3]float64{middleOf(want)}, len(want))
	t.Logf("off by %.1f points in the mean, one answer to all by %.1f", meanOff(got, want), meanOff(blind, want))
	assert.Less(t, meanOff(got, want), meanOff(blind, want)*2/3)
}

// middleOf is the one answer to all that is least off: the median of each fraction.
func middleOf(soils [][3]float64) (mid [3]float64) {
	for k := range mid {
		var all []float64
		for _, s := range soils {
			all = append(all, s[k])
		}
		slices.Sort(all)
		mid[k] = all[len(all)/2]
	}
	return mid
}

// meanOff is how far fractions are off in the mean, in points.
func meanOff(got, want [][3]float64) (mean float64) {
	for i := range got {
		for k := range got[i] {
			mean += math.Abs(got[i][k]-want[i][k]) / float64(3*len(got))
		}
	}
	return mean
}

func againstTruth(t *testing.T, truth *jartest.Truth, r reading.Reading) {
	require.Len(t, r.Photos, len(truth.Photos))
	for i, p := range truth.Photos {
		got := r.Photos[i]
		require.Equal(t, p.File, got.File)
		assert.InEpsilon(t, p.ElapsedS, got.ElapsedS, 0.03, p.File)
		width := p.Rows.EdgeRight[0] - p.Rows.EdgeLeft[0]
		assert.InDelta(t, p.Rows.EdgeLeft[0], got.EdgesPx[0][0], 0.03*width, p.File)
		assert.InDelta(t, p.Rows.EdgeRight[0], got.EdgesPx[1][0], 0.03*width, p.File)
		require.NotNil(t, got.HeightsMM.DepositTop, p.File)
		assert.InDelta(t, *p.FacingHeights.DepositTop, got.HeightsMM.DepositTop.Value, 0.05*truth.WaterHeightMM, p.File)
	}
	require.NotNil(t, r.Fractions)
	assert.InDelta(t, truth.Soil.SandPct, r.Fractions.Sand.Percent, 15)
	assert.InDelta(t, truth.Soil.SiltPct, r.Fractions.Silt.Percent, 15)
	assert.InDelta(t, truth.Soil.ClayPct, r.Fractions.Clay.Percent, 15)
}
