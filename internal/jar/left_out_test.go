package jar

import (
	"bytes"
	"context"
	"image"
	"image/jpeg"
	"io"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mudline/imaging"
	"mudline/imaging/jarfind"
	"mudline/internal/jartest"
	"mudline/internal/reading"
	"mudline/internal/record"
)

// spoilt are files of which some hold something else.
func spoilt(files []File, data map[int][]byte) []File {
	out := append([]File(nil), files...)
	for i, d := range data {
		out[i].Data = func() ([]byte, error) { return d, nil }
	}
	return out
}

// A photo that cannot be used is left out by name, and the others are read as if it had
// never been there.
func TestAPhotoThatCannotBeUsedIsLeftOut(t *testing.T) {
	files, rec := rendered(t, "open-05") // three photos
	whole, err := files[1].Data()
	require.NoError(t, err)
	var dark bytes.Buffer
	require.NoError(t, jpeg.Encode(&dark, image.NewGray(image.Rect(0, 0, 900, 1200)), nil))
	two, err := Analyse(context.Background(), []File{files[0], files[2]}, rec, Options{})
	require.NoError(t, err)
	for code, data := range map[reading.RefusalCode][]byte{
		reading.TooDark: dark.Bytes(), reading.Truncated: whole[:len(whole)/3], reading.NotAnImage: []byte("<html>not here</html>"),
	} {
		got, err := Analyse(context.Background(), spoilt(files, map[int][]byte{1: data}), rec, Options{})
		require.NoError(t, err, code)
		onlyWithout(t, got.Reading, code, files[1].Name)
		assert.Equal(t, two.Reading.Photos, got.Reading.Photos, code)
		assert.Equal(t, two.Reading.Fractions, got.Reading.Fractions, code)
		assert.Equal(t, two.Reading.Warnings, got.Reading.Warnings[1:], code)
	}
}

// onlyWithout asks for one photo that is named as left out, with what to do about it.
func onlyWithout(t *testing.T, r reading.Reading, code reading.RefusalCode, file string) {
	t.Helper()
	require.Len(t, r.LeftOut, 1)
	out := r.LeftOut[0]
	assert.Equal(t, code, out.Code)
	assert.Equal(t, file, out.File)
	assert.Contains(t, out.Text, file)
	assert.NotEmpty(t, out.Remedy)
	w := r.Warnings[0]
	assert.Equal(t, reading.PhotosLeftOut, w.Code, "the gravest first")
	assert.Contains(t, w.Text, "1 of 3 photos was left out: "+out.Text)
	assert.Equal(t, out.Remedy, w.Remedy)
}

// Nor does a photo without a jar stop the others, or one in which it is too dark.
func TestAPhotoWithoutAJarIsLeftOut(t *testing.T) {
	files, rec := rendered(t, "open-05")
	opened := openEach(t, files, rec)
	truth, err := jartest.ReadTruth("../../testdata/jars/open-05")
	require.NoError(t, err)
	blank := withoutJar(opened[1], truth, 1)
	read := func(rec record.Record, opened ...*Opened) (*Result, error) {
		return Combine(context.Background(), opened, rec, Options{})
	}
	got, err := read(rec, opened[0], blank, opened[2])
	require.NoError(t, err)
	onlyWithout(t, got.Reading, reading.NoJar, blank.file)
	two, err := read(rec, opened[0], opened[2])
	require.NoError(t, err)
	assert.Equal(t, two.Reading.Fractions, got.Reading.Fractions)

	got, err = read(rec, opened[0], dimmed(opened[1]), opened[2])
	require.NoError(t, err)
	onlyWithout(t, got.Reading, reading.TooDark, blank.file)
	require.Len(t, got.Reading.Photos, 2)
	assert.Equal(t, []string{opened[0].file, opened[2].file}, []string{got.Reading.Photos[0].File, got.Reading.Photos[1].File})
	var refusal *reading.Refusal
	_, err = read(rec, opened[0], dimmed(opened[1]))
	require.ErrorAs(t, err, &refusal)
	assert.Equal(t, reading.TooDark, refusal.Code)

	dragged, err := got.Preview(rec, imaging.PureGo{})
	require.NoError(t, err)
	assert.Equal(t, got.Reading.LeftOut, dragged.Reading.LeftOut, "while a line is dragged too")
}

// withoutJar is photo i of a rendered jar with a plain wall in its place.
func withoutJar(o *Opened, truth *jartest.Truth, i int) *Opened {
	blank, photo := *o, *o.photo
	photo.Picture = jartest.WithoutJar(photo.Picture, truth.Photos[i].Frame(truth.WaterHeightMM).Scaled(1/photo.Scale))
	blank.photo, blank.sighting = &photo, &jarfind.Sighting{}
	return &blank
}

// dimmed is a photo in which the jar was seen, with hardly any light on it.
func dimmed(o *Opened) *Opened {
	dark, photo := *o, *o.photo
	pic := image.NewRGBA(photo.Picture.Rect)
	for i, v := range photo.Picture.Pix {
		pic.Pix[i] = v / 12
	}
	photo.Picture, dark.photo = pic, &photo
	return &dark
}

// Where too few are left, what is wrong with the first that cannot be used is the answer,
// and a disk that fails is one always.
func TestTooFewPhotosAreLeft(t *testing.T) {
	files, rec := rendered(t, "open-05")
	none := []byte("<html>")
	var refusal *reading.Refusal
	_, err := Analyse(context.Background(), spoilt(files, map[int][]byte{1: none, 2: none}), rec, Options{})
	require.ErrorAs(t, err, &refusal)
	assert.Equal(t, reading.NotAnImage, refusal.Code)
	assert.Contains(t, refusal.Text, files[1].Name)
	_, err = Analyse(context.Background(), spoilt(files[:2], map[int][]byte{1: none}), rec, Options{})
	require.ErrorAs(t, err, &refusal)

	for _, c := range []struct {
		out, stay int
		may       bool
	}{{0, 1, false}, {1, 1, false}, {1, 2, true}, {2, 2, true}, {3, 2, false}, {3, 3, true}} {
		assert.Equal(t, c.may, mayGo(c.out, c.stay), c)
	}

	broken := spoilt(files, nil)
	broken[1].Data = func() ([]byte, error) { return nil, io.ErrUnexpectedEOF }
	_, err = Analyse(context.Background(), broken, rec, Options{})
	require.ErrorIs(t, err, io.ErrUnexpectedEOF)
}
