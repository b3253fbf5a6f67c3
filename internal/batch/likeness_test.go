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
	"mudline/internal/sorting"
)

var shaken = time.Date(2026, 6, 5, 11, 0, 0, 0, time.UTC)

// rounds is a club that passes all jars at 1 min, 2 h and 2 d, the jars shaken
// one after another.
func rounds(jar, photo int) time.Duration {
	return time.Duration(jar)*100*time.Second + []time.Duration{time.Minute, 2 * time.Hour, 48 * time.Hour}[photo]
}

// TestCameraNames sorts files as a camera names them, from disk.
func TestCameraNames(t *testing.T) {
	list := map[string]string{"jar.yaml": "shaken: 2026-06-05 11:00:00\n", "IMG_9999.jpg": string(jartest.SmallPhotos()["open-08"][0])}
	number := 100
	for q := range 3 {
		for k, jar := range []string{"open-11", "open-02", "open-13"} {
			photos := jartest.SmallPhotos()[jar]
			number++
			list[fmt.Sprintf("IMG_%04d.jpg", number)] = string(jartest.WithEXIF(photos[min(q, len(photos)-1)],
				jartest.EXIF{Taken: shaken.Add(rounds(k, q)).Format("2006:01:02 15:04:05")}))
		}
	}
	whyRounds := sorting.ByRounds.String()
	root := tree(t, list)
	p := find(t, root)
	assert.Equal(t, []string{"jar 1 | " + whyRounds + " | IMG_0101.jpg IMG_0104.jpg IMG_0107.jpg", "jar 2 | " + whyRounds + " | IMG_0102.jpg IMG_0105.jpg IMG_0108.jpg",
		"jar 3 | " + whyRounds + " | IMG_0103.jpg IMG_0106.jpg IMG_0109.jpg"}, sorted(p))
	require.Len(t, p.Left, 1)
	assert.Equal(t, "IMG_9999.jpg", p.Left[0].Path)
	assert.Contains(t, p.Left[0].Said.String(), "nor the file when it was taken")
	assert.Contains(t, p.Left[0].Todo.String(), "plot-7_2h.jpg")
	o := p.Outline(&p.Jars[1])
	assert.Equal(t, Timed{"IMG_0105.jpg", "2 h 2 min", "exif", "2026-06-05 13:01:40"}, o.Photos[1])
	assert.Empty(t, o.Problems)

	opt := options(filepath.Join(t.TempDir(), "out"))
	run(t, root, opt)
	again, err := Find(root, blind{}, opt.Out)
	require.NoError(t, err, "no photo is opened again")
	assert.Equal(t, sorted(p), sorted(again))
	assert.Equal(t, p.Left, again.Left)
	require.NoError(t, os.WriteFile(filepath.Join(root, "IMG_0103.jpg"), jartest.SmallPhotos()["open-05"][0], 0o644))
	again = find(t, root, opt.Out)
	assert.Equal(t, "IMG_0103.jpg", again.Left[0].Path, "another photo, and all is looked at anew")
}

// blind is an engine that must not be asked for anything.
type blind struct{ imaging.PureGo }

func (blind) Decode([]byte, imaging.Info, int) (*image.RGBA, image.Point, error) {
	panic("a photo was opened")
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
