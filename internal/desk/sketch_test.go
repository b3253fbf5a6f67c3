package desk_test

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"image"
	"image/jpeg"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mudline/imaging"
	"mudline/internal/desk"
	"mudline/internal/jartest"
	"mudline/internal/reading"
	"mudline/internal/testkit"
	"mudline/internal/words"
)

// spoilt is photo i of a rendered jar, -1 the last, with something done to it, as a phone
// writes it.
func spoilt(t *testing.T, name string, i int, spoil func(pic *image.RGBA, f imaging.Frame, top float64) *image.RGBA) []byte {
	t.Helper()
	photo := testkit.RenderedPhoto(t, filepath.Join("..", "..", "testdata", "jars", name), i)
	pic := photo.Picture
	if spoil != nil {
		pic = spoil(pic, photo.Frame, photo.Top)
	}
	var b bytes.Buffer
	require.NoError(t, jpeg.Encode(&b, pic, &jpeg.Options{Quality: 92}))
	return jartest.WithEXIF(b.Bytes(), jartest.EXIF{Orientation: 1, Focal35MM: 26})
}

// bench is a desk with photos open and what is stated of their lines.
type bench struct {
	t     *testing.T
	desk  *desk.Desk
	names []string
	lines map[string]map[string]string
}

func benchWith(t *testing.T, photos map[string][]byte) *bench {
	b := &bench{t: t, desk: desk.New(imaging.PureGo{}), lines: map[string]map[string]string{}}
	for name, data := range photos {
		_, err := b.desk.Open(name, data, nil, []byte("{}"))
		require.NoError(t, err)
		b.names, b.lines[name] = append(b.names, name), map[string]string{}
	}
	return b
}

func (b *bench) record() map[string]any {
	photos := map[string]any{}
	for name, lines := range b.lines {
		photos[name] = map[string]any{"lines": lines}
	}
	return map[string]any{"water-depth": "130 mm", "photos": photos}
}

func (b *bench) read() desk.Answer {
	b.t.Helper()
	a, err := b.desk.Read(context.Background(), asJSON(b.t, b.record()), b.names)
	require.NoError(b.t, err)
	require.Empty(b.t, a.Mistake)
	return a
}

func (b *bench) sketch() (byName map[string]desk.PhotoLines) {
	b.t.Helper()
	got, err := b.desk.Ask("sketch", asJSON(b.t, map[string]any{"record": b.record(), "photos": b.names}))
	require.NoError(b.t, err)
	a := got.(desk.Answer)
	require.Empty(b.t, a.Mistake)
	require.Len(b.t, a.Photos, len(b.names))
	byName = map[string]desk.PhotoLines{}
	for _, p := range a.Photos {
		byName[p.File] = p
	}
	return byName
}

func px(v float64) string { return fmt.Sprintf("%.1f px", v) }

// rowOf is where a line stands; its absence fails the test.
func rowOf(t *testing.T, p desk.PhotoLines, name string) desk.Line {
	t.Helper()
	for _, l := range p.Lines {
		if string(l.Name) == name {
			return l
		}
	}
	require.Fail(t, "no line "+name)
	return desk.Line{}
}

// side is the column of an edge at half the water's height.
func side(e [2]reading.PointPx) float64 { return e[0][0] + 0.52/1.08*(e[1][0]-e[0][0]) }

// placeAll states the jar as a sketch has it.
func (b *bench) placeAll(name string) {
	p := b.sketch()[name]
	b.lines[name]["floor"], b.lines[name]["water"] = px(rowOf(b.t, p, "floor").Row), px(rowOf(b.t, p, "water").Row)
	b.lines[name]["left"], b.lines[name]["right"] = px(side(p.Left)), px(side(p.Right))
}

func (b *bench) placeTop(name string, share float64) {
	p := b.sketch()[name]
	floor, water := rowOf(b.t, p, "floor").Row, rowOf(b.t, p, "water").Row
	b.lines[name]["deposit-top"] = px(floor - share*(floor-water))
	assert.InDelta(b.t, 100*share, rowOf(b.t, b.sketch()[name], "deposit-top").Percent, 4)
}

// Whatever is refused for what was seen can be cured by what a sketch gives to take hold of.
func TestARefusedJarCanBePlaced(t *testing.T) {
	t.Run("no jar", func(t *testing.T) {
		const name = "a_2h.jpg"
		b := benchWith(t, map[string][]byte{name: spoilt(t, "open-02", 0, func(pic *image.RGBA, f imaging.Frame, _ float64) *image.RGBA { return jartest.WithoutJar(pic, f) })})
		require.Equal(t, reading.NoJar, b.read().Refused.Code)
		p := b.sketch()[name]
		assert.True(t, p.Guessed)
		floor, water := rowOf(t, p, "floor"), rowOf(t, p, "water")
		assert.Greater(t, floor.Row-water.Row, 200.0)
		assert.Greater(t, side(p.Right)-side(p.Left), 100.0)

		b.lines[name]["floor"] = px(floor.Row + 30) // what was placed stays as the rest is moved
		b.lines[name]["right"] = px(side(p.Right) + 20)
		p = b.sketch()[name]
		assert.True(t, p.Guessed, "not whole yet")
		assert.InDelta(t, floor.Row+30, rowOf(t, p, "floor").Row, 0.1)
		assert.InDelta(t, water.Row, rowOf(t, p, "water").Row, 1)
		assert.True(t, rowOf(t, p, "floor").Stated)
		assert.Equal(t, reading.NoJar, b.read().Refused.Code)

		b.placeAll(name)
		assert.False(t, b.sketch()[name].Guessed)
		b.placeTop(name, 0.25)
		a := b.read()
		require.Nil(t, a.Refused)
		assert.Contains(t, string(a.Reading), `"deposit_top"`)
	})
	t.Run("no deposit", func(t *testing.T) {
		const name = "a_2d.jpg"
		b := benchWith(t, map[string][]byte{name: spoilt(t, "open-08", -1, jartest.ClearWater)})
		require.Equal(t, reading.NoDeposit, b.read().Refused.Code)
		require.False(t, b.sketch()[name].Guessed)
		b.placeTop(name, 0.2)
		assert.Nil(t, b.read().Refused)
	})
	t.Run("two jars", func(t *testing.T) {
		b := benchWith(t, map[string][]byte{"a_1min.jpg": spoilt(t, "open-11", 0, nil), "b_2h.jpg": spoilt(t, "open-05", 1, nil), "c_2d.jpg": spoilt(t, "open-05", -1, nil)})
		for range 3 {
			no := b.read().Refused
			if no == nil {
				return
			}
			require.Equal(t, reading.DifferentJars, no.Code)
			file, _ := no.Todo.Arg("file").(words.Text)
			p := b.sketch()[string(file)]
			b.lines[string(file)]["floor"], b.lines[string(file)]["water"] = px(rowOf(t, p, "floor").Row), px(rowOf(t, p, "water").Row)
		}
		assert.Fail(t, "still refused")
	})
}

// A guessed jar stands in the box that was drawn; a line that is off it is a mistake in words.
func TestASketchKeepsToTheBox(t *testing.T) {
	d := desk.New(imaging.PureGo{})
	wall := spoilt(t, "open-08", 0, func(pic *image.RGBA, f imaging.Frame, _ float64) *image.RGBA { return jartest.WithoutJar(pic, f) })
	_, err := d.Open("a_2h.jpg", wall, nil, []byte("{}"))
	require.NoError(t, err)
	ask := func(photo string) desk.Answer {
		got, err := d.Ask("sketch", []byte(`{"photos":["a_2h.jpg"],"record":{"photos":{"a_2h.jpg":`+photo+`}}}`))
		require.NoError(t, err)
		return got.(desk.Answer)
	}
	p := ask(`{"box":["100","200","400","900"]}`).Photos[0]
	require.True(t, p.Guessed)
	assert.GreaterOrEqual(t, side(p.Left), 95.0)
	assert.LessOrEqual(t, side(p.Right), 405.0)
	assert.Less(t, rowOf(t, p, "floor").Row, 900.0)
	assert.Greater(t, rowOf(t, p, "water").Row, 200.0)
	assert.NotEmpty(t, ask(`{"lines":{"deposit-top":"1 px"}}`).Mistake)
	_, err = d.Ask("sketch", []byte(`{"photos":["none.jpg"],"record":{}}`))
	assert.ErrorContains(t, err, "not open")
}

// The far side of a circle meets its front at both ends, and lies on its other side in the
// middle.
func TestALineGoesRoundTheJar(t *testing.T) {
	b := benchWith(t, map[string][]byte{"a_2d.jpg": spoilt(t, "open-08", -1, nil)})
	var bowed int
	for _, l := range b.sketch()["a_2d.jpg"].Lines {
		n := len(l.Points)
		require.Len(t, l.Back, n)
		for _, i := range []int{0, n - 1} {
			assert.InDelta(t, l.Points[i][0], l.Back[i][0], 1, l.Name)
			assert.InDelta(t, l.Points[i][1], l.Back[i][1], 1, l.Name)
		}
		chord := (l.Points[0][1] + l.Points[n-1][1]) / 2
		assert.InDelta(t, chord-l.Points[n/2][1], l.Back[n/2][1]-chord, 1, l.Name)
		if chord != l.Points[n/2][1] {
			bowed++
		}
	}
	assert.Positive(t, bowed)
	_, err := json.Marshal(b.sketch())
	require.NoError(t, err)
}
