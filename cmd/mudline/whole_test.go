package main

import (
	"bytes"
	"encoding/json"
	"os"
	"path/filepath"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mudline/internal/jar"
	"mudline/internal/jartest"
	"mudline/internal/reading"
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
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(reading.Schema))
	require.NoError(t, err)
	c := jsonschema.NewCompiler()
	require.NoError(t, c.AddResource("schema.json", doc))
	s, err := c.Compile("schema.json")
	require.NoError(t, err)
	return s
}

// TestSamplesAreRead reads the three sample jars (rendered) as the demo does
// and asks that the written reading keeps to its schema and its truth: the
// deposit's top within 5 % of the water depth, the glass within 3 % of its
// width, the true fractions inside 25 points.
func TestSamplesAreRead(t *testing.T) {
	truths, err := jartest.ReadTruths(filepath.Join("..", "..", "samples"))
	require.NoError(t, err)
	require.Len(t, truths, 3)
	s := schema(t)
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
			assert.Len(t, names(t, out), 4, "three pictures and the reading")
		})
	}
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
	assert.InDelta(t, truth.Soil.SandPct, r.Fractions.Sand.Percent, 25)
	assert.InDelta(t, truth.Soil.SiltPct, r.Fractions.Silt.Percent, 25)
	assert.InDelta(t, truth.Soil.ClayPct, r.Fractions.Clay.Percent, 25)
}
