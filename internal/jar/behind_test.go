package jar_test

import (
	"context"
	"fmt"
	"image"
	"math"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mudline/imaging"
	"mudline/imaging/colour"
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
		out = append(out, string(w.Code))
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

// Soil of one jar in three lights, the second drawn by a camera of another tone: with the
// sheet its colours lie less than half as far apart as without, and the jar is not taken
// for several.
func TestSheetSteadiesColours(t *testing.T) {
	if testing.Short() {
		t.Skip("long, and nothing runs side by side in it that others do not; the plain run has it")
	}
	contrast := func(p *image.RGBA) *image.RGBA {
		for i, v := range p.Pix {
			if i%4 < 3 {
				p.Pix[i] = uint8(255*math.Pow(float64(v)/255, 1.15) + 0.5)
			}
		}
		return p
	}
	shade := lamp(0.7, 1, 1.5)
	_, opened := laidJar(t, "card-02", lamp(1.4, 1, 0.5), func(p *image.RGBA) *image.RGBA { return contrast(shade(p)) }, lamp(0.5, 0.5, 0.5))
	res, err := jar.Combine(context.Background(), opened, record.Record{}, jar.Options{})
	require.NoError(t, err)
	var raw, lit [][3]float64
	for i, s := range res.Scenes {
		var sum [3]float64
		for _, u := range []float64{-0.4, -0.2, 0, 0.2, 0.4} {
			p := s.Frame.At(u, 0.03)
			c := s.Picture.RGBAAt(int(p.X), int(p.Y))
			for k, v := range []uint8{c.R, c.G, c.B} {
				sum[k] += math.Pow(float64(v)/255, 2.2) / 5
			}
		}
		raw = append(raw, labOf(sum))
		sheet := res.Reading.Photos[i].Sheet
		require.NotNil(t, sheet.SoilLab)
		lit = append(lit, *sheet.SoilLab)
		assert.Equal(t, i == 1, sheet.LightTone > 1.03, "tone %g", sheet.LightTone)
	}
	assert.Less(t, spreadOf(lit), 0.3*spreadOf(raw))
	require.NotNil(t, res.Reading.Colours.Wet)
	assert.Contains(t, res.Reading.Colours.Wet.Sand.Name, "grey", "by the truth the soil is grey")
	assert.Contains(t, res.Reading.Colours.Wet.Text, res.Reading.Colours.Wet.Clay.Name)
}

func labOf(light [3]float64) [3]float64 {
	e := func(v float64) float32 { return float32(255 * math.Pow(v, 1/2.2)) }
	l, a, b := colour.Lab(e(light[0]), e(light[1]), e(light[2]))
	return [3]float64{float64(l), float64(a), float64(b)}
}

// spreadOf is the mean distance (CIE76) between colours in CIELAB.
func spreadOf(c [][3]float64) (mean float64) {
	n := 0.0
	for i, x := range c {
		for _, y := range c[:i] {
			mean += math.Sqrt((x[0]-y[0])*(x[0]-y[0]) + (x[1]-y[1])*(x[1]-y[1]) + (x[2]-y[2])*(x[2]-y[2]))
			n++
		}
	}
	return mean / n
}

// A film has the depth from the sheet behind its jar. It is one rendered photo with the
// print laid on, in light that grows dimmer.
func TestSheetMeasuresTheJarOfAFilm(t *testing.T) {
	if testing.Short() {
		t.Skip("long, and nothing runs side by side in it that others do not; the plain run has it")
	}
	truth, err := jartest.ReadTruth(filepath.Join("..", "..", "testdata", "sheets", "card-04"))
	require.NoError(t, err)
	p, err := backdrop.Draw(backdrop.Sheet{Identity: 0x9d6ef, Name: "plot 7"})
	require.NoError(t, err)
	print := press.Picture(p, 150)
	var files []jar.File
	for i := range jar.FilmFrom {
		dim := 1 - 0.02*float64(i)
		data, err := truth.LaidPhoto(truth.Photos[len(truth.Photos)-1], print, sheetmark.A4, lamp(dim, dim, dim))
		require.NoError(t, err)
		files = append(files, photoFile(fmt.Sprintf("a_%dh.jpg", 48+i), data))
	}
	res, err := jar.Analyse(context.Background(), files, record.Record{}, jar.Options{})
	require.NoError(t, err)
	require.NotNil(t, res.Film)
	r := res.Reading
	require.NotNil(t, r.Sheet)
	assert.Equal(t, "plot 7", r.Sheet.Name)
	assert.Equal(t, "sheet", r.WaterDepthFrom)
	require.NotNil(t, r.WaterDepthMM)
	assert.InEpsilon(t, truth.WaterHeightMM, *r.WaterDepthMM, 0.02)
	assert.InEpsilon(t, 2*truth.Jar.OuterRadiusMM, r.Sheet.JarDiameterMM.Value, 0.02)
	assert.NotContains(t, codes(r), "no_water_depth")
	assert.Equal(t, "sheet", r.Colours.From)
	for _, photo := range r.Photos {
		require.NotNil(t, photo.HeightsMM, photo.File)
		assert.NotNil(t, photo.HeightsMM.DepositTop, photo.File)
	}
	again, err := res.Preview(record.Record{}, imaging.PureGo{})
	require.NoError(t, err)
	assert.InDelta(t, *r.WaterDepthMM, *again.Reading.WaterDepthMM, 1e-9)
	wrong, err := res.Preview(record.Record{WaterDepthMM: 1.1 * truth.WaterHeightMM}, imaging.PureGo{})
	require.NoError(t, err)
	assert.Equal(t, "stated", wrong.Reading.WaterDepthFrom)
	assert.Contains(t, codes(wrong.Reading), "depth_disagrees")
}
