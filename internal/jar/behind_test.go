package jar_test

import (
	"context"
	"image"
	"math"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mudline/imaging"
	"mudline/imaging/sheetmark"
	"mudline/internal/backdrop"
	"mudline/internal/backdrop/press"
	"mudline/internal/jar"
	"mudline/internal/jartest"
	"mudline/internal/reading"
	"mudline/internal/record"
)

// laidJar opens the photos of a rendered jar of testdata/sheets with a sheet printed
// on, each spoilt in its own way.
func laidJar(t *testing.T, name string, spoil ...func(*image.RGBA) *image.RGBA) (*jartest.Truth, []*jar.Opened) {
	t.Helper()
	truth, err := jartest.ReadTruth(filepath.Join("..", "..", "testdata", "sheets", name))
	require.NoError(t, err)
	p, err := backdrop.Draw(backdrop.Sheet{Identity: 0x9d6ef, Name: "plot 7"})
	require.NoError(t, err)
	print := press.Picture(p, 150)
	var opened []*jar.Opened
	for i, photo := range truth.Photos {
		data, err := truth.LaidPhoto(photo, print, sheetmark.A4, spoil[i])
		require.NoError(t, err)
		o, err := jar.Open(jar.File{Name: photo.File, Data: func() ([]byte, error) { return data, nil }}, record.Record{}, imaging.PureGo{})
		require.NoError(t, err)
		opened = append(opened, o)
	}
	return truth, opened
}

// lamp is other light: linear light times a gain for each channel.
func lamp(gain ...float64) func(*image.RGBA) *image.RGBA {
	return func(p *image.RGBA) *image.RGBA {
		for i, v := range p.Pix {
			if k := i % 4; k < 3 {
				p.Pix[i] = uint8(math.Min(255*math.Pow(gain[k]*math.Pow(float64(v)/255, 2.2), 1/2.2)+0.5, 255))
			}
		}
		return p
	}
}

func mirror(p *image.RGBA) *image.RGBA {
	q := image.NewRGBA(p.Rect)
	for y := range p.Rect.Dy() {
		for x := range p.Rect.Dx() {
			q.SetRGBA(p.Rect.Dx()-1-x, y, p.RGBAAt(x, y))
		}
	}
	return q
}

func codes(r reading.Reading) (out []string) {
	for _, w := range r.Warnings {
		out = append(out, w.Code)
	}
	return out
}

// The pictures are rendered, with the print laid on: see jartest.Lay. One photo is
// mirrored, one in lamplight.
func TestSheetMeasuresTheJar(t *testing.T) {
	if testing.Short() {
		t.Skip("long, and nothing runs side by side in it that others do not; the plain run has it")
	}
	truth, opened := laidJar(t, "card-04", nil, mirror, lamp(1.5, 1, 0.45))
	read := func(rec record.Record) reading.Reading {
		res, err := jar.Combine(context.Background(), opened, rec, jar.Options{})
		require.NoError(t, err, "other light is no other jar")
		return res.Reading
	}
	r := read(record.Record{})
	require.NotNil(t, r.Sheet)
	assert.Equal(t, "KNQF", r.Sheet.Identity)
	assert.Equal(t, "plot 7", r.Sheet.Name)
	require.NotNil(t, r.WaterDepthMM)
	assert.Equal(t, "sheet", r.WaterDepthFrom)
	assert.InEpsilon(t, truth.WaterHeightMM, *r.WaterDepthMM, 0.02)
	assert.InDelta(t, truth.WaterHeightMM, *r.WaterDepthMM, 3**r.WaterDepthSDMM)
	assert.InEpsilon(t, 2*truth.Jar.OuterRadiusMM, r.Sheet.JarDiameterMM.Value, 0.02)
	assert.NotContains(t, r.Stated, "water-depth")
	assert.NotNil(t, r.Photos[0].HeightsMM)
	assert.Equal(t, "sheet", r.Colours.From)
	for i, p := range r.Photos {
		require.NotNil(t, p.Sheet)
		assert.Equal(t, i == 1, p.Sheet.Mirrored)
		assert.InDelta(t, truth.Photos[i].Camera.PitchDeg, p.Sheet.TiltDeg, 3)
	}
	assert.Contains(t, codes(r), "photo_mirrored")
	assert.NotContains(t, codes(r), "no_water_depth")

	right := read(record.Record{WaterDepthMM: truth.WaterHeightMM})
	assert.Equal(t, "stated", right.WaterDepthFrom)
	assert.NotContains(t, codes(right), "depth_disagrees")
	wrong := read(record.Record{WaterDepthMM: 1.1 * truth.WaterHeightMM})
	assert.Equal(t, 1.1*truth.WaterHeightMM, *wrong.WaterDepthMM, "what was stated stands")
	assert.Contains(t, codes(wrong), "depth_disagrees")
}

// Soil of one jar in three lights: with the sheet its colours lie less than half as far
// apart as without.
func TestSheetSteadiesColours(t *testing.T) {
	if testing.Short() {
		t.Skip("long, and nothing runs side by side in it that others do not; the plain run has it")
	}
	_, opened := laidJar(t, "card-02", lamp(1.4, 1, 0.5), lamp(0.7, 1, 1.5), lamp(0.5, 0.5, 0.5))
	res, err := jar.Combine(context.Background(), opened, record.Record{}, jar.Options{})
	require.NoError(t, err)
	var raw, lit [][3]float64
	for _, s := range res.Scenes {
		var sum [3]float64
		for _, u := range []float64{-0.4, -0.2, 0, 0.2, 0.4} {
			p := s.Frame.At(u, 0.03)
			c := s.Picture.RGBAAt(int(p.X), int(p.Y))
			for k, v := range []uint8{c.R, c.G, c.B} {
				sum[k] += math.Pow(float64(v)/255, 2.2) / 5
			}
		}
		raw = append(raw, sum)
	}
	for i, p := range res.Reading.Photos {
		g := p.Sheet.LightGain
		require.NotNil(t, g)
		lit = append(lit, [3]float64{g[0] * raw[i][0], g[1] * raw[i][1], g[2] * raw[i][2]})
	}
	assert.Less(t, spreadOf(lit), 0.5*spreadOf(raw))
}

// spreadOf is the mean CIELAB distance (CIE76) between colours of linear light.
func spreadOf(c [][3]float64) (mean float64) {
	lab := func(c [3]float64) [3]float64 {
		e := func(v float64) float32 { return float32(255 * math.Pow(v, 1/2.2)) }
		l, a, b := imaging.LabOf(e(c[0]), e(c[1]), e(c[2]))
		return [3]float64{float64(l), float64(a), float64(b)}
	}
	n := 0.0
	for i := range c {
		for j := range i {
			x, y := lab(c[i]), lab(c[j])
			mean += math.Sqrt((x[0]-y[0])*(x[0]-y[0]) + (x[1]-y[1])*(x[1]-y[1]) + (x[2]-y[2])*(x[2]-y[2]))
			n++
		}
	}
	return mean / n
}
