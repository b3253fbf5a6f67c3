package batch

import (
	"bytes"
	"fmt"
	"image"
	"image/draw"
	"image/jpeg"
	"os"
	"path/filepath"
	"strings"
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
// that only their sheets tell them apart.
func TestSheetsSortLoosePhotos(t *testing.T) {
	if testing.Short() {
		t.Skip("long, and nothing runs side by side in it that others do not; the plain run has it")
	}
	truths, err := jartest.ReadTruths(filepath.Join("..", "..", "testdata", "sheets"))
	require.NoError(t, err)
	var shots []shot
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
			data, err := tr.LaidPhoto(photo, print, sheetmark.A4, nil)
			require.NoError(t, err)
			file := fmt.Sprintf("IMG_%04d.jpg", 1000+(n*37+k*501)%997)
			one := seen(t, file, data)
			one.taken = shaken.Add(time.Duration(n)*20*time.Second + time.Duration(k)*2*time.Hour)
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
	shots[3].taken = shots[0].taken.Add(time.Minute)
	groups, rest, notes = sheetGroups(shots)
	assert.Len(t, notes, 1)
	assert.GreaterOrEqual(t, len(rest), 2)
	for _, g := range groups {
		assert.NotContains(t, g.Photos, shots[0].path)
	}
}

// seen is a photo as the sorter opens it.
func seen(t *testing.T, file string, data []byte) shot {
	t.Helper()
	dir := t.TempDir()
	require.NoError(t, os.WriteFile(filepath.Join(dir, file), data, 0o600))
	s := &sorter{planner: &planner{Plan: Plan{Root: dir}, eng: imaging.PureGo{}}}
	one, bad := s.open(file)
	require.Nil(t, bad)
	require.NotNil(t, one.sheet, file)
	return one
}

// A folder with loose photos becomes jars named by their sheets; a jar without one is
// left to what else there is.
func TestPlanBySheets(t *testing.T) {
	if testing.Short() {
		t.Skip("long, and nothing runs side by side in it that others do not; the plain run has it")
	}
	truth, err := jartest.ReadTruth(filepath.Join("..", "..", "testdata", "sheets", "card-02"))
	require.NoError(t, err)
	p, err := backdrop.Draw(backdrop.Sheet{Identity: 77, Name: "Plot 7"})
	require.NoError(t, err)
	dir := t.TempDir()
	for k, photo := range truth.Photos[:2] {
		data, err := truth.LaidPhoto(photo, press.Picture(p, 75), sheetmark.A4, nil)
		require.NoError(t, err)
		require.NoError(t, os.WriteFile(filepath.Join(dir, fmt.Sprintf("IMG_%d.jpg", 4010+k)), data, 0o600))
	}
	blank := image.NewRGBA(image.Rect(0, 0, 300, 400))
	draw.Draw(blank, blank.Rect, image.White, image.Point{}, draw.Src)
	var b bytes.Buffer
	require.NoError(t, jpeg.Encode(&b, blank, nil))
	require.NoError(t, os.WriteFile(filepath.Join(dir, "IMG_4019.jpg"), b.Bytes(), 0o600))
	require.NoError(t, os.WriteFile(filepath.Join(dir, "plot-7.jar.yaml"), []byte("temp: 19 C\n"), 0o600))
	plan, err := Find(dir, imaging.PureGo{})
	require.NoError(t, err)
	require.Len(t, plan.Jars, 1)
	assert.Equal(t, []string{"IMG_4010.jpg", "IMG_4011.jpg"}, plan.Jars[0].Photos)
	require.NotNil(t, plan.Jars[0].Record.TempC, "the record that bears the sheet's name is the jar's")
	assert.True(t, strings.Contains(strings.ToLower(plan.Jars[0].Name), "plot"))
	require.Len(t, plan.Left, 1)
	assert.Equal(t, "IMG_4019.jpg", plan.Left[0].Path)
}
