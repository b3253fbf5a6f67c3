package jar

import (
	"bytes"
	"context"
	"maps"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mudline/imaging"
	"mudline/imaging/jarfind"
	"mudline/internal/jartest"
	"mudline/internal/reading"
	"mudline/internal/record"
)

// placing is a copy of rec with one photo's lines changed.
func placing(rec record.Record, file string, change func(*record.Lines)) record.Record {
	rec.Photos = maps.Clone(rec.Photos)
	rec.Edit(file, func(p *record.Photo) { change(&p.Lines) })
	return rec
}

func px(v float64) *record.Line { return &record.Line{Value: v} }
func mm(v float64) *record.Line { return &record.Line{Value: v, MM: true} }

// untouched asserts that every line that is not in after.Stated stands at the
// row it stood at before, to less than a hundredth of a pixel.
func untouched(t *testing.T, before, after reading.Reading) {
	t.Helper()
	require.Len(t, after.Photos, len(before.Photos))
	for i, b := range before.Photos {
		a := after.Photos[i]
		said := map[string]bool{}
		for _, s := range a.Stated {
			said[s] = true
		}
		for _, l := range []struct {
			name     string
			was, now *float64
		}{{"floor", b.RowsPx.Floor, a.RowsPx.Floor}, {"water", b.RowsPx.Meniscus, a.RowsPx.Meniscus}, {"deposit_top", b.RowsPx.DepositTop, a.RowsPx.DepositTop},
			{"sand_top", b.RowsPx.SandTop, a.RowsPx.SandTop}, {"silt_top", b.RowsPx.SiltTop, a.RowsPx.SiltTop}, {"haze_top", b.RowsPx.HazeTop, a.RowsPx.HazeTop}} {
			if said[l.name] {
				continue
			}
			require.Equal(t, l.was == nil, l.now == nil, "%s %s", b.File, l.name)
			if l.was != nil {
				assert.InDelta(t, *l.was, *l.now, 0.01, "%s %s", b.File, l.name)
			}
		}
		if !said["left"] && !said["right"] && !said["floor"] && !said["water"] {
			assert.Equal(t, *b.EdgesPx, *a.EdgesPx)
		}
	}
}

// Whatever line a person places, the others stay where they were seen, whether
// the jar is read anew or previewed.
func TestNothingStatedMovesAnotherLine(t *testing.T) {
	if testing.Short() {
		t.Skip("long, and nothing runs side by side in it that others do not; the plain run has it")
	}
	for _, name := range []string{"open-11", "open-13"} {
		files, rec := rendered(t, name)
		opened := openEach(t, files, rec)
		found, err := Combine(context.Background(), opened, rec, Options{})
		require.NoError(t, err)
		last := found.Reading.Photos[len(found.Reading.Photos)-1]
		rows := last.RowsPx
		for what, change := range map[string]func(*record.Lines){
			"floor":       func(l *record.Lines) { l.Floor = px(*rows.Floor + 4) },
			"water":       func(l *record.Lines) { l.Water = px(*rows.Meniscus - 5) },
			"deposit top": func(l *record.Lines) { l.DepositTop = px(*rows.DepositTop - 3) },
			"sand top":    func(l *record.Lines) { l.SandTop = px(*rows.SandTop + 2) },
			"edges":       func(l *record.Lines) { l.Left, l.Right = px(last.EdgesPx[0][0]-8), px(last.EdgesPx[1][0]+9) },
			"no haze":     func(l *record.Lines) { l.HazeTop = &record.Line{None: true} },
			"frame": func(l *record.Lines) {
				l.Floor, l.Water, l.DepositTop = px(*rows.Floor-3), px(*rows.Meniscus+4), px(*rows.DepositTop+2)
			},
		} {
			moved := placing(rec, last.File, change)
			preview, err := found.Preview(moved, imaging.PureGo{})
			require.NoError(t, err, what)
			untouched(t, found.Reading, preview.Reading)
			if what != "frame" && what != "sand top" {
				continue // one takes as long as all the previews
			}
			whole, err := Combine(context.Background(), opened, moved, Options{})
			require.NoError(t, err, what)
			untouched(t, found.Reading, whole.Reading)
			for i, p := range preview.Reading.Photos {
				assert.Equal(t, whole.Reading.Photos[i].RowsPx, p.RowsPx, "%s: a preview shows the lines of the reading that follows", what)
				assert.Equal(t, whole.Reading.Photos[i].HeightsMM, p.HeightsMM, what)
			}
		}
	}
}

// What is stated returns to the digit, as a row and as a height.
func TestStatedLinesReturnAsStated(t *testing.T) {
	files, rec := rendered(t, "open-08")
	opened := openEach(t, files, rec)
	found, err := Combine(context.Background(), opened, rec, Options{})
	require.NoError(t, err)
	last := found.Reading.Photos[len(found.Reading.Photos)-1]
	want := map[string]float64{"floor": *last.RowsPx.Floor + 3, "water": 568, "deposit_top": *last.RowsPx.DepositTop - 2.5,
		"left": last.EdgesPx[0][0] - 4, "right": last.EdgesPx[1][0] + 6}
	want["water"] = *last.RowsPx.Meniscus + 7
	stated := placing(rec, last.File, func(l *record.Lines) {
		l.Floor, l.Water, l.DepositTop = px(want["floor"]), px(want["water"]), px(want["deposit_top"])
		l.Left, l.Right = px(want["left"]), px(want["right"])
		l.SandTop, l.SiltTop, l.HazeTop = mm(12.25), &record.Line{None: true}, mm(90.5)
	})
	got, err := Combine(context.Background(), opened, stated, Options{})
	require.NoError(t, err)
	now := got.Reading.Photos[len(got.Reading.Photos)-1]
	assert.InDelta(t, want["floor"], *now.RowsPx.Floor, 1e-6)
	assert.InDelta(t, want["water"], *now.RowsPx.Meniscus, 1e-6)
	assert.Greater(t, *now.RowsPx.Water, *now.RowsPx.Meniscus, "the level surface lies below its edge on the glass")
	assert.InDelta(t, want["deposit_top"], *now.RowsPx.DepositTop, 1e-6)
	assert.InDelta(t, want["left"], now.EdgesPx[0][0], 1e-6)
	assert.InDelta(t, want["right"], now.EdgesPx[1][0], 1e-6)
	assert.InDelta(t, 12.25, now.HeightsMM.SandTop.Value, 1e-9)
	assert.InDelta(t, 90.5, now.HeightsMM.HazeTop.Value, 1e-9)
	assert.Nil(t, now.HeightsMM.SiltTop, "said not to be there")
	assert.Equal(t, "none", now.Placed["silt_top"])
	assert.Equal(t, "12.25 mm", now.Placed["sand_top"])
	assert.Equal(t, px(want["water"]).String(), now.Placed["water"])
	assert.Equal(t, []string{"floor", "water", "left", "right", "sand_top", "silt_top", "deposit_top", "haze_top"}, now.Stated)

	var text bytes.Buffer
	require.NoError(t, got.Reading.Encode(&text))
	assert.Contains(t, text.String(), `"sand_top": "12.25 mm"`)
}

// A sand top stated above the soil's top that was found is a mistake unless the
// two lie within each other's doubt; a found line above a stated top gives way.
func TestStatedAgainstFound(t *testing.T) {
	if testing.Short() {
		t.Skip("long, and nothing runs side by side in it that others do not; the plain run has it")
	}
	files, rec := rendered(t, "open-08")
	opened := openEach(t, files, rec)
	found, err := Combine(context.Background(), opened, rec, Options{})
	require.NoError(t, err)
	last := found.Reading.Photos[len(found.Reading.Photos)-1]
	top, sand := *last.HeightsMM.DepositTop, *last.HeightsMM.SandTop

	_, err = Combine(context.Background(), opened, placing(rec, last.File, func(l *record.Lines) { l.SandTop = mm(top.Value + 10) }), Options{})
	assert.ErrorContains(t, err, "the top of the soil was found at")
	assert.ErrorContains(t, err, last.File+":deposit-top=")

	near, err := Combine(context.Background(), opened, placing(rec, last.File, func(l *record.Lines) { l.SandTop = mm(top.Value + 0.3*top.SD) }), Options{})
	require.NoError(t, err)
	now := near.Reading.Photos[len(near.Reading.Photos)-1]
	assert.InDelta(t, *last.RowsPx.DepositTop, *now.RowsPx.DepositTop, 0.01)
	assert.Nil(t, near.Reading.Fractions, "no soil is all sand in the last photo and not before")
	assert.Equal(t, reading.LinesContradict, near.Reading.Warnings[0].Code)

	low, err := Combine(context.Background(), opened, placing(rec, last.File, func(l *record.Lines) { l.DepositTop = mm(sand.Value - 6) }), Options{})
	require.NoError(t, err)
	now = low.Reading.Photos[len(low.Reading.Photos)-1]
	assert.Nil(t, now.HeightsMM.SandTop)
	assert.InDelta(t, sand.Value-6, now.HeightsMM.DepositTop.Value, 1e-9)
	var warned []string
	for _, w := range low.Reading.Warnings {
		if w.Code == "line_gave_way" {
			warned = append(warned, w.Text)
		}
	}
	require.NotEmpty(t, warned)
	assert.Contains(t, warned[0], "top of the sand")
}

// What the picture does not show a person may: a jar by its four lines, a
// deposit by its top.
func TestStatedLinesCureRefusals(t *testing.T) {
	if testing.Short() {
		t.Skip("long, and nothing runs side by side in it that others do not; the plain run has it")
	}
	truth, err := jartest.ReadTruth("../../testdata/jars/open-11")
	require.NoError(t, err)
	files, rec := rendered(t, "open-11")
	opened := openEach(t, files, rec)
	last := truth.Photos[len(truth.Photos)-1]
	pic := opened[len(opened)-1].photo
	frame := last.Frame(truth.WaterHeightMM).Scaled(1 / pic.Scale)
	read := func(rec record.Record) (*Result, error) {
		spoilt := *opened[len(opened)-1]
		photo := *pic
		photo.Picture = jartest.ClearWater(pic.Picture, frame, *last.FacingHeights.DepositTop/truth.WaterHeightMM)
		spoilt.photo, spoilt.sighting = &photo, jarfind.Look(photo.Picture, photo.Focal35MM, spoilt.box)
		return Combine(context.Background(), []*Opened{&spoilt}, rec, Options{})
	}
	_, err = read(rec)
	var refusal *reading.Refusal
	require.ErrorAs(t, err, &refusal)
	assert.Equal(t, reading.NoDeposit, refusal.Code)
	assert.Contains(t, refusal.Remedy, last.File+":deposit-top=")
	cured, err := read(placing(rec, last.File, func(l *record.Lines) { l.DepositTop = mm(25) }))
	require.NoError(t, err)
	assert.InDelta(t, 25, cured.Reading.Photos[0].HeightsMM.DepositTop.Value, 1e-9)

	// A plain wall, with the jar that a person sees in it.
	blank := withoutJar(opened[0], truth, 0)
	_, err = Combine(context.Background(), []*Opened{blank, opened[2]}, rec, Options{})
	require.ErrorAs(t, err, &refusal)
	assert.Equal(t, reading.NoJar, refusal.Code)
	rows := truth.Photos[0].Rows
	got, err := Combine(context.Background(), []*Opened{blank, opened[2]}, placing(rec, blank.file, func(l *record.Lines) {
		l.Floor, l.Water = px(rows.Points["inner_base"].Row), px(rows.Points["water_surface"].Row-10)
		l.Left, l.Right, l.DepositTop = px(rows.EdgeLeft[0]), px(rows.EdgeRight[0]), px(rows.Points["deposit_top"].Row)
	}), Options{})
	require.NoError(t, err)
	first := got.Reading.Photos[0]
	assert.InDelta(t, rows.EdgeLeft[0], first.EdgesPx[0][0], 1e-6)
	assert.InDelta(t, rows.Points["deposit_top"].Row, *first.RowsPx.DepositTop, 1e-6)
	assert.InDelta(t, *truth.Photos[0].FacingHeights.DepositTop, first.HeightsMM.DepositTop.Value, 2)
}

// Who drew a box that holds no jar is told of the box, not to draw one.
func TestABoxWithoutAJarIsToBeDrawnAnew(t *testing.T) {
	files, rec := rendered(t, "open-11")
	rec.Edit(files[0].Name, func(p *record.Photo) { p.Box = &record.Box{X1: 60, Y1: 60} })
	_, err := Analyse(context.Background(), files[:1], rec, Options{})
	var refusal *reading.Refusal
	require.ErrorAs(t, err, &refusal)
	assert.Equal(t, "do.box-whole-jar", refusal.Help().Key)
}
