package jar_test

import (
	"bytes"
	"context"
	"errors"
	"image"
	"image/color"
	"image/draw"
	"image/jpeg"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mudline/imaging"
	"mudline/internal/jar"
	"mudline/internal/reading"
	"mudline/internal/record"
)

// windowsill is the sample film: every second photo of a rendered one, reduced.
func windowsill(t *testing.T) []jar.File {
	t.Helper()
	paths, err := filepath.Glob(filepath.Join("..", "..", "samples", "plot-31-windowsill", "*.jpg"))
	require.NoError(t, err)
	require.Len(t, paths, 12)
	var out []jar.File
	for _, p := range paths {
		data, err := os.ReadFile(p)
		require.NoError(t, err)
		out = append(out, photoFile(filepath.Base(p), data))
	}
	return out
}

func photoFile(name string, data []byte) jar.File {
	return jar.File{Name: name, Data: func() ([]byte, error) { return data, nil }}
}

func dataOf(t *testing.T, f jar.File) []byte {
	t.Helper()
	data, err := f.Data()
	require.NoError(t, err)
	return data
}

func readFilm(t *testing.T, files []jar.File, opt jar.Options) *jar.Result {
	t.Helper()
	temp := 14.8
	opt.Engine = imaging.PureGo{}
	res, err := jar.Analyse(context.Background(), files, record.Record{WaterDepthMM: 95.6, TempC: &temp}, opt)
	require.NoError(t, err)
	return res
}

func encoded(t *testing.T, pic image.Image) []byte {
	t.Helper()
	var b bytes.Buffer
	require.NoError(t, jpeg.Encode(&b, pic, nil))
	return b.Bytes()
}

// The deposit tops of the film, mm: truth.json of the rendered film it is made of.
var windowsillTops = []float64{5.084, 5.825, 6.854, 8.07, 9.457, 11.017, 13.04, 16.008, 18.491, 18.682, 18.531, 18.318}

// TestFilmIsRead: what a sighted photo gives, a film gives in every one of its photos,
// and the straightened fronts beside.
func TestFilmIsRead(t *testing.T) {
	if testing.Short() {
		t.Skip("long, and nothing runs side by side in it that others do not; the plain run has it")
	}
	res := readFilm(t, windowsill(t), jar.Options{})
	require.NotNil(t, res.Film)
	require.Len(t, res.Reading.Photos, 12)
	assert.Empty(t, res.Reading.LeftOut)
	assert.Len(t, res.Film.Frames, 12)
	for i, p := range res.Reading.Photos {
		require.NotNil(t, p.HeightsMM.DepositTop, p.File)
		top := p.HeightsMM.DepositTop
		assert.InDelta(t, windowsillTops[i], top.Value, max(1, 2*top.SD), p.File) // 1 % of the depth: a pixel and a half
	}
	assert.NotEmpty(t, res.Reading.SizeCurve)
	f := res.Reading.Fractions
	for _, part := range []struct {
		e     reading.Estimate
		truth float64
	}{{f.Sand, 35.7}, {f.Silt, 43.4}, {f.Clay, 20.9}} {
		assert.LessOrEqual(t, part.e.Low, part.truth)
		assert.GreaterOrEqual(t, part.e.High, part.truth)
	}
}

// TestFilmLeavesOutByName: a black photo, a cut one, another jar's, one with a hand
// before the lens and one whose clock is an hour off are named, and change nothing of
// what is read in the others.
func TestFilmLeavesOutByName(t *testing.T) {
	if testing.Short() {
		t.Skip("long, and nothing runs side by side in it that others do not; the plain run has it")
	}
	files := windowsill(t)
	good := readFilm(t, files, jar.Options{})
	middle := dataOf(t, files[6])
	pic, err := jpeg.Decode(bytes.NewReader(middle))
	require.NoError(t, err)
	hand := image.NewRGBA(pic.Bounds())
	draw.Draw(hand, hand.Rect, pic, image.Point{}, draw.Src)
	draw.Draw(hand, image.Rect(60, 80, 525, 620), image.NewUniform(color.RGBA{190, 140, 120, 255}), image.Point{}, draw.Src)
	other, err := os.ReadFile(filepath.Join("..", "..", "samples", "plot-07-by-the-brook", "brook_2h.jpg"))
	require.NoError(t, err)
	files = append(files,
		photoFile("night_t040000s.jpg", encoded(t, image.NewRGBA(pic.Bounds()))),
		photoFile("cut_t001000s.jpg", middle[:len(middle)/2]),
		photoFile("other_t002000s.jpg", other),
		photoFile("hand_t004000s.jpg", encoded(t, hand)),
		photoFile("late_t004210s.jpg", dataOf(t, files[4]))) // that of 610 s
	res := readFilm(t, files, jar.Options{})
	codes := map[string]reading.RefusalCode{}
	for _, l := range res.Reading.LeftOut {
		codes[l.File] = l.Code
	}
	assert.Equal(t, map[string]reading.RefusalCode{"night_t040000s.jpg": reading.TooDark, "cut_t001000s.jpg": reading.Truncated,
		"other_t002000s.jpg": reading.OtherView, "hand_t004000s.jpg": reading.OtherView, "late_t004210s.jpg": reading.OutOfLine}, codes)
	said := ""
	for _, w := range res.Reading.Warnings {
		if w.Code == "photos_left_out" {
			said = w.Text
		}
	}
	assert.Contains(t, said, "4 of 17 photos were left out")
	assert.NotContains(t, said, "night", "a night is no fault")
	a, b := good.Reading.Fractions, res.Reading.Fractions
	assert.InDelta(t, a.Sand.Percent, b.Sand.Percent, 1)
	assert.InDelta(t, a.Silt.Percent, b.Silt.Percent, 1)
	assert.InDelta(t, a.Clay.Percent, b.Clay.Percent, 1)
}

// TestFilmAfterABump: the camera was pushed half way through; both stands are read.
func TestFilmAfterABump(t *testing.T) {
	if testing.Short() {
		t.Skip("long, and nothing runs side by side in it that others do not; the plain run has it")
	}
	files := windowsill(t)
	for i := 7; i < len(files); i++ {
		data := dataOf(t, files[i])
		pic, err := jpeg.Decode(bytes.NewReader(data))
		require.NoError(t, err)
		moved := image.NewRGBA(pic.Bounds())
		draw.Draw(moved, moved.Rect, pic, image.Point{}, draw.Src)
		draw.Draw(moved, moved.Rect, pic, image.Pt(-60, -25), draw.Src) // what comes in from the sides is what was there
		files[i] = photoFile(files[i].Name, withHead(data, encoded(t, moved)))
	}
	res := readFilm(t, files, jar.Options{})
	require.NotNil(t, res.Film)
	assert.Empty(t, res.Reading.LeftOut)
	for i, p := range res.Reading.Photos {
		require.NotNil(t, p.HeightsMM.DepositTop, p.File)
		top := p.HeightsMM.DepositTop
		assert.InDelta(t, windowsillTops[i], top.Value, max(1.3, 2*top.SD), p.File)
	}
}

// withHead gives a JPEG picture the first segment (EXIF) of another, with its lens.
func withHead(from, to []byte) []byte {
	n := 4 + int(from[4])<<8 + int(from[5])
	return append(append([]byte{0xff, 0xd8}, from[2:n]...), to[2:]...)
}

// TestFilmNeedsTimes: where no photo says when it was taken, that is what is said.
func TestFilmNeedsTimes(t *testing.T) {
	var files []jar.File
	for i, f := range windowsill(t) {
		files = append(files, photoFile(string(rune('a'+i))+".jpg", dataOf(t, f)))
	}
	_, err := jar.Analyse(context.Background(), files, record.Record{}, jar.Options{})
	var refusal *reading.Refusal
	require.ErrorAs(t, err, &refusal)
	assert.Equal(t, reading.NoTime, refusal.Code)
}

// memory is a jar.Store that fails from the n-th photo on, as a full disk or a kill.
type memory struct {
	mu    sync.Mutex
	kept  map[string][]byte
	most  int
	found int
}

func (m *memory) Load(key string) ([]byte, bool) {
	m.mu.Lock()
	defer m.mu.Unlock()
	data, ok := m.kept[key]
	if ok {
		m.found++
	}
	return data, ok
}

func (m *memory) Save(key string, data []byte) error {
	m.mu.Lock()
	defer m.mu.Unlock()
	if len(m.kept) == m.most {
		return errors.New("stopped")
	}
	m.kept[key] = data
	return nil
}

// TestFilmGoesOn: a reading that was stopped goes on where it was, to the same answer.
func TestFilmGoesOn(t *testing.T) {
	if testing.Short() {
		t.Skip("long, and nothing runs side by side in it that others do not; the plain run has it")
	}
	files := windowsill(t)
	temp := 14.8
	rec := record.Record{WaterDepthMM: 95.6, TempC: &temp}
	store := &memory{kept: map[string][]byte{}, most: 5}
	_, err := jar.Analyse(context.Background(), files, rec, jar.Options{Store: store})
	require.ErrorContains(t, err, "stopped")
	require.Len(t, store.kept, 5)
	store.most = 100
	res, err := jar.Analyse(context.Background(), files, rec, jar.Options{Store: store})
	require.NoError(t, err)
	assert.Equal(t, 5, store.found)
	plain := readFilm(t, files, jar.Options{})
	var a, b strings.Builder
	require.NoError(t, res.Reading.Encode(&a))
	require.NoError(t, plain.Reading.Encode(&b))
	assert.Equal(t, b.String(), a.String())
}

// TestFilmKeptOpen: a front end that keeps the photos open gets the same film, and a line
// that is dragged leaves it one.
func TestFilmKeptOpen(t *testing.T) {
	if testing.Short() {
		t.Skip("long, and nothing runs side by side in it that others do not; the plain run has it")
	}
	temp := 14.8
	rec := record.Record{WaterDepthMM: 95.6, TempC: &temp}
	var opened []*jar.Opened
	for _, f := range windowsill(t) {
		o, err := jar.Open(f, rec, imaging.PureGo{})
		require.NoError(t, err)
		opened = append(opened, o)
	}
	res, err := jar.Combine(context.Background(), opened, rec, jar.Options{})
	require.NoError(t, err)
	require.NotNil(t, res.Film)
	for _, s := range res.Scenes {
		assert.NotNil(t, s.Picture, "a page shows every photo")
	}
	plain := readFilm(t, windowsill(t), jar.Options{})
	assert.InDelta(t, plain.Reading.Fractions.Clay.Percent, res.Reading.Fractions.Clay.Percent, 0.5)
	last := res.Reading.Photos[11].File
	rec.Edit(last, func(p *record.Photo) { p.Lines.DepositTop = &record.Line{Value: 18.3, MM: true} })
	dragged, err := res.Preview(rec, imaging.PureGo{})
	require.NoError(t, err)
	assert.NotNil(t, dragged.Film)
	assert.InDelta(t, 18.3, dragged.Reading.Photos[11].HeightsMM.DepositTop.Value, 1e-6)
}

// A film saved anew: in its last, clear photos another line seems to be the top of the
// soil, 6 mm too low. That is doubted, and moves what is read by little: the silt came out
// 10 points lower where the layers were looked for below such tops only.
func TestFilmSavedAnew(t *testing.T) {
	if testing.Short() {
		t.Skip("long, and nothing runs side by side in it that others do not; the plain run has it")
	}
	paths, err := filepath.Glob(filepath.Join("..", "..", "testdata", "film", "*.jpg"))
	require.NoError(t, err)
	require.Len(t, paths, 10)
	var asTheyAre, anew []jar.File
	for _, p := range paths {
		data, err := os.ReadFile(p)
		require.NoError(t, err)
		pic, err := jpeg.Decode(bytes.NewReader(data))
		require.NoError(t, err)
		var b bytes.Buffer
		require.NoError(t, jpeg.Encode(&b, pic, &jpeg.Options{Quality: 95}))
		asTheyAre, anew = append(asTheyAre, photoFile(filepath.Base(p), data)), append(anew, photoFile(filepath.Base(p), b.Bytes()))
	}
	a, b := readFilm(t, asTheyAre, jar.Options{}).Reading, readFilm(t, anew, jar.Options{}).Reading
	assert.InDelta(t, a.Fractions.Sand.Percent, b.Fractions.Sand.Percent, 6)
	assert.InDelta(t, a.Fractions.Silt.Percent, b.Fractions.Silt.Percent, 6)
	assert.InDelta(t, a.Fractions.Clay.Percent, b.Fractions.Clay.Percent, 6)
	const last = 18.318 // truth.json of the film
	for _, r := range []reading.Reading{a, b} {
		top := r.Photos[9].HeightsMM.DepositTop
		require.NotNil(t, top)
		assert.InDelta(t, last, top.Value, 2*top.SD)
	}
}

// A film sent on by a messenger, saved anew as JPEG of quality 85 and without the lens in
// its head: the lens is told by the sides of the glass, and every top stays where it was,
// within half a millimetre or, in clear water, its doubt. With a usual lens in its place they
// came out up to 1.1 mm low, and the clay 4 points.
func TestFilmSentOn(t *testing.T) {
	if testing.Short() {
		t.Skip("long, and nothing runs side by side in it that others do not; the plain run has it")
	}
	files := windowsill(t)
	var sent []jar.File
	for _, f := range files {
		pic, err := jpeg.Decode(bytes.NewReader(dataOf(t, f)))
		require.NoError(t, err)
		var b bytes.Buffer
		require.NoError(t, jpeg.Encode(&b, pic, &jpeg.Options{Quality: 85}))
		sent = append(sent, photoFile(f.Name, b.Bytes()))
	}
	a, b := readFilm(t, files, jar.Options{}).Reading, readFilm(t, sent, jar.Options{}).Reading
	for i := range a.Photos {
		before, after := a.Photos[i].HeightsMM.DepositTop, b.Photos[i].HeightsMM.DepositTop
		require.NotNil(t, before)
		require.NotNil(t, after)
		assert.InDelta(t, before.Value, after.Value, max(0.5, 1.5*before.SD), a.Photos[i].File)
	}
	assert.InDelta(t, a.Fractions.Sand.Percent, b.Fractions.Sand.Percent, 4)
	assert.InDelta(t, a.Fractions.Silt.Percent, b.Fractions.Silt.Percent, 4)
	assert.InDelta(t, a.Fractions.Clay.Percent, b.Fractions.Clay.Percent, 4)
}
