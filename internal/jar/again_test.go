package jar

import (
	"context"
	"os"
	"path/filepath"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mudline/imaging"
	"mudline/internal/jartest"
	"mudline/internal/reading"
	"mudline/internal/record"
)

// rendered gives the files of a rendered jar and what is known of it.
func rendered(t *testing.T, name string) ([]File, record.Record) {
	truth, err := jartest.ReadTruth(filepath.Join("..", "..", "testdata", "jars", name))
	require.NoError(t, err)
	rec := record.Record{WaterDepthMM: truth.WaterHeightMM, TempC: &truth.TempC}
	var files []File
	for _, p := range truth.Photos {
		path := filepath.Join(truth.Dir, p.File)
		files = append(files, File{Name: p.File, Data: func() ([]byte, error) { return os.ReadFile(path) }})
		rec.Edit(p.File, func(q *record.Photo) { q.Elapsed = time.Duration(p.ElapsedS * float64(time.Second)) })
	}
	return files, rec
}

func openEach(t *testing.T, files []File, rec record.Record) []*Opened {
	var out []*Opened
	for _, f := range files {
		o, err := Open(f, rec, imaging.PureGo{})
		require.NoError(t, err)
		out = append(out, o)
	}
	return out
}

func TestCombineReadsAsAnalyseDoesAgainAndAgain(t *testing.T) {
	files, rec := rendered(t, "open-05")
	want, err := Analyse(context.Background(), files, rec, Options{})
	require.NoError(t, err)
	opened := openEach(t, files, rec)
	for range 2 {
		got, err := Combine(context.Background(), opened, rec, Options{})
		require.NoError(t, err)
		assert.Equal(t, want.Reading, got.Reading)
	}
}

// share is the percent of sand, of silt or of clay.
func shares(r reading.Reading) [3]float64 {
	return [3]float64{r.Fractions.Sand.Percent, r.Fractions.Silt.Percent, r.Fractions.Clay.Percent}
}

func TestPreviewFollowsADraggedLine(t *testing.T) {
	files, rec := rendered(t, "open-05")
	opened := openEach(t, files, rec)
	whole, err := Combine(context.Background(), opened, rec, Options{})
	require.NoError(t, err)

	still, err := whole.Preview(rec, imaging.PureGo{})
	require.NoError(t, err)
	for i, p := range still.Reading.Photos {
		assert.Equal(t, whole.Reading.Photos[i].RowsPx, p.RowsPx, "nothing was dragged")
	}
	for k, v := range shares(still.Reading) {
		assert.InDelta(t, shares(whole.Reading)[k], v, 3, "fewer draws")
	}

	last := whole.Reading.Photos[len(whole.Reading.Photos)-1]
	row := *last.RowsPx.SandTop + 25
	moved := rec
	moved.Photos = map[string]record.Photo{}
	for f, p := range rec.Photos {
		moved.Photos[f] = p
	}
	moved.Edit(last.File, func(p *record.Photo) { p.Lines.SandTop = &record.Line{Value: row} })
	preview, err := whole.Preview(moved, imaging.PureGo{})
	require.NoError(t, err)
	now := preview.Reading.Photos[len(preview.Reading.Photos)-1]
	assert.InDelta(t, row, *now.RowsPx.SandTop, 0.01)
	assert.Equal(t, []string{"sand_top"}, now.Stated)
	assert.Equal(t, *last.RowsPx.DepositTop, *now.RowsPx.DepositTop)
	assert.Less(t, preview.Reading.Fractions.Sand.Percent, whole.Reading.Fractions.Sand.Percent)
	assert.Equal(t, *last.RowsPx.SandTop, *whole.Reading.Photos[len(whole.Reading.Photos)-1].RowsPx.SandTop, "the reading it came from is as it was")

	let, err := Combine(context.Background(), opened, moved, Options{})
	require.NoError(t, err)
	// Once let go, the other lines are looked for anew; the preview, which keeps
	// them, goes the same way and at least a third as far.
	far := let.Reading.Fractions.Sand.Percent - whole.Reading.Fractions.Sand.Percent
	assert.Less(t, far, -2.0)
	assert.Less(t, preview.Reading.Fractions.Sand.Percent, whole.Reading.Fractions.Sand.Percent+far/3)
	assert.Greater(t, preview.Reading.Fractions.Sand.Percent, let.Reading.Fractions.Sand.Percent-3)
}

func TestPreviewOfAMovedFloorKeepsTheLinesWhereTheyWereSeen(t *testing.T) {
	files, rec := rendered(t, "open-05")
	whole, err := Combine(context.Background(), openEach(t, files, rec), rec, Options{})
	require.NoError(t, err)
	last := whole.Reading.Photos[len(whole.Reading.Photos)-1]
	moved := rec
	moved.Photos = map[string]record.Photo{}
	for f, p := range rec.Photos {
		moved.Photos[f] = p
	}
	moved.Edit(last.File, func(p *record.Photo) { p.Lines.Floor = &record.Line{Value: *last.RowsPx.Floor + 10} })
	preview, err := whole.Preview(moved, imaging.PureGo{})
	require.NoError(t, err)
	now := preview.Reading.Photos[len(preview.Reading.Photos)-1]
	assert.InDelta(t, *last.RowsPx.Floor+10, *now.RowsPx.Floor, 0.01)
	assert.InDelta(t, *last.RowsPx.DepositTop, *now.RowsPx.DepositTop, 0.05)
	assert.Greater(t, now.HeightsMM.DepositTop.Value, last.HeightsMM.DepositTop.Value, "the same row is higher above a lower floor")
}

func TestStatedEdgesMoveTheGlass(t *testing.T) {
	files, rec := rendered(t, "open-05")
	opened := openEach(t, files, rec)
	whole, err := Combine(context.Background(), opened, rec, Options{})
	require.NoError(t, err)
	first := whole.Reading.Photos[0]
	rec.Edit(first.File, func(p *record.Photo) {
		p.Lines.Left = &record.Line{Value: first.EdgesPx[0][0] + 30}
		p.Lines.Right = &record.Line{Value: first.EdgesPx[1][0] - 10}
	})
	moved, err := Combine(context.Background(), opened, rec, Options{})
	require.NoError(t, err)
	now := moved.Reading.Photos[0]
	assert.InDelta(t, first.EdgesPx[0][0]+30, now.EdgesPx[0][0], 0.5)
	assert.InDelta(t, first.EdgesPx[1][0]-10, now.EdgesPx[1][0], 0.5)
	assert.Equal(t, []string{"left", "right"}, now.Stated)
	assert.Equal(t, *first.RowsPx.Floor, *now.RowsPx.Floor)

	rec.Edit(first.File, func(p *record.Photo) { p.Lines.Left.Value = first.EdgesPx[1][0] - 20 })
	_, err = Combine(context.Background(), opened, rec, Options{})
	assert.ErrorContains(t, err, "edges of the glass")
	rec.Edit(first.File, func(p *record.Photo) { p.Lines.Left.Value = 1e5; p.Lines.Right = nil })
	_, err = Combine(context.Background(), opened, rec, Options{})
	assert.ErrorContains(t, err, "outside the photo")
}
