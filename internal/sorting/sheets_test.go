package sorting

import (
	"fmt"
	"image"
	"image/draw"
	"path/filepath"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mudline/imaging"
	"mudline/imaging/sheetmark"
	"mudline/internal/backdrop"
	"mudline/internal/backdrop/press"
	"mudline/internal/jartest"
)

// Five jars, named as a camera does, mixed: two rendered jars stand for all of them, so
// that only their sheets tell them apart, in other light, cropped and printed otherwise.
func TestSheetsSortLoosePhotos(t *testing.T) {
	if testing.Short() {
		t.Skip("long, and nothing runs side by side in it that others do not; the plain run has it")
	}
	truths, err := jartest.ReadTruths(filepath.Join("..", "..", "testdata", "sheets"))
	require.NoError(t, err)
	var shots []Shot
	want := map[string]string{}
	for n := range 5 {
		name := fmt.Sprintf("plot %d", n+1)
		p, err := backdrop.Draw(backdrop.Sheet{Identity: sheetmark.Identity(4000 + 7*n), Name: name})
		require.NoError(t, err)
		print := press.Picture(p, 75)
		tr := truths[n%2]
		for k, photo := range tr.Photos {
			if n > 1 && k > 0 { // the code is read anew in each, but laying takes its time
				continue
			}
			var as jartest.Printing
			if n%3 == 1 { // a grey laser printer's, a little bent
				as = jartest.Printing{Black: 0.12, DotGain: 0.18, CurlMM: 2}
			}
			other := func(pic *image.RGBA) *image.RGBA { // light, and a corner of the room cut off
				cut := image.NewRGBA(image.Rect(0, 0, pic.Rect.Dx()-20*n, pic.Rect.Dy()-30*n))
				draw.Draw(cut, cut.Rect, jartest.Lit(pic, 1-0.1*float64(n), 0.9, 0.6+0.1*float64(k)), image.Pt(10*n, 0), draw.Src)
				return cut
			}
			data, err := tr.LaidPhotoAs(photo, print, sheetmark.A4, as, other)
			require.NoError(t, err)
			file := fmt.Sprintf("IMG_%04d.jpg", 1000+(n*37+k*501)%997)
			one := seen(t, file, data)
			one.Taken = shaken.Add(time.Duration(n)*20*time.Second + time.Duration(k)*2*time.Hour)
			shots = append(shots, one)
			want[file] = name
		}
	}
	groups, rest, notes := sheetGroups(shots)
	assert.Empty(t, rest)
	assert.Empty(t, notes)
	assert.Len(t, groups, 5)
	for _, g := range groups {
		for _, file := range g.Photos {
			assert.Equal(t, want[file], g.Name, file)
		}
	}

	// One sheet behind two jars at one time is said, and sorts nothing.
	shots[0].sheet.id = shots[3].sheet.id
	shots[3].Taken = shots[0].Taken.Add(time.Minute)
	groups, rest, notes = sheetGroups(shots)
	assert.Len(t, notes, 1)
	assert.GreaterOrEqual(t, len(rest), 2)
	for _, g := range groups {
		assert.NotContains(t, g.Photos, shots[0].Path)
	}
}

// seen is a photo with its sheet.
func seen(t *testing.T, file string, data []byte) Shot {
	t.Helper()
	p, err := imaging.Open(imaging.PureGo{}, file, data)
	require.NoError(t, err)
	one := ShotOf(file, p)
	require.NotNil(t, one.sheet, file)
	return one
}
