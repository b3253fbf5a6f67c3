package desk_test

import (
	"bytes"
	"encoding/json"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mudline/imaging"
	"mudline/imaging/bare"
	"mudline/internal/desk"
	"mudline/internal/jartest"
	"mudline/internal/record"
)

// unfolded opens a file of jars and gives them by their folders.
func unfolded(t *testing.T, data []byte) map[string]desk.Pack {
	b, err := desk.OpenBundle(bytes.NewReader(data), int64(len(data)))
	require.NoError(t, err)
	out := map[string]desk.Pack{}
	for _, f := range b.Folders {
		out[f], err = b.Jar(f)
		require.NoError(t, err)
	}
	return out
}

// A backup holds every jar in a folder of its own, and of the photos nothing that tells
// where or by whom they were taken; a photo that is none costs itself alone.
func TestABackupHoldsAllJarsAndNoOwner(t *testing.T) {
	d := desk.New(imaging.PureGo{})
	var file []byte
	add := func(rec string, photos ...desk.NamedFile) []string {
		piece, left, err := d.BackUp([]byte(rec), nil, photos)
		require.NoError(t, err)
		file = append(file, piece...)
		return left
	}
	var told []desk.NamedFile
	for _, ending := range []string{"jpg", "png", "webp", "tif", "heic"} {
		data, err := os.ReadFile(filepath.Join("..", "..", "imaging", "bare", "testdata", "told."+ending))
		require.NoError(t, err)
		require.Contains(t, string(data), "SECRET")
		told = append(told, desk.NamedFile{Name: "a_2h." + ending, Data: data})
	}
	assert.Empty(t, add(`{"name":"Plot 1"}`, told...))
	assert.Equal(t, []string{"b.jpg"}, add(`{"name":"plot 1","temp":"19 C"}`, told[0], desk.NamedFile{Name: "b.jpg", Data: []byte("none")}))
	assert.Empty(t, add(`{"name":"../a:b"}`))
	last, err := d.EndBackUp()
	require.NoError(t, err)
	file = append(file, last...)
	assert.NotContains(t, string(file), "SECRET")

	jars := unfolded(t, file)
	require.Len(t, jars, 3)
	assert.Equal(t, record.Tree{"name": "Plot 1"}, jars["Plot 1"].Record)
	assert.Len(t, jars["Plot 1"].Photos, 5)
	for i, p := range jars["Plot 1"].Photos {
		want, err := bare.Photo(told[i].Data)
		require.NoError(t, err)
		assert.Equal(t, desk.NamedFile{Name: told[i].Name, Data: want}, p)
	}
	assert.Equal(t, record.Tree{"name": "plot 1", "temp": "19 C"}, jars["plot 1-2"].Record)
	assert.Len(t, jars["plot 1-2"].Photos, 1)
	assert.Equal(t, "../a:b", jars["a-b"].Record["name"])

	again, err := d.EndBackUp()
	require.NoError(t, err)
	assert.Less(t, len(again), 100, "the next one is a new one")
}

// What lies above folders of jars is of all of them, where they say nothing else.
func TestARecordAboveJarsIsOfAll(t *testing.T) {
	jars := unfolded(t, zipped(t, [2]string{"class/jar.yaml", "name: class\nwater-depth: 130 mm\ntemp: 20 C\n"},
		[2]string{"class/a/jar.yaml", "temp: 18 C\n"}, [2]string{"class/a/x_2h.jpg", "x"}, [2]string{"class/b/x_2h.jpg", "y"}, [2]string{"class/c/notes.txt", "n"}))
	require.Len(t, jars, 2)
	assert.Equal(t, record.Tree{"water-depth": "130 mm", "temp": "18 C"}, jars["class/a"].Record)
	assert.Equal(t, record.Tree{"water-depth": "130 mm", "temp": "20 C"}, jars["class/b"].Record)
}

// The page sorts as a batch does: folders, names, then time and looks.
func TestPhotosOfManyJarsAreSorted(t *testing.T) {
	if testing.Short() {
		t.Skip("opens pictures")
	}
	d := desk.New(imaging.PureGo{})
	var files []string
	add := func(file string, data []byte, taken string) {
		_, err := d.Regard(file, jartest.WithEXIF(data, jartest.EXIF{Taken: taken}), nil)
		require.NoError(t, err)
		files = append(files, file)
	}
	jars := jartest.SmallPhotos()
	for q, hour := range []string{"11", "13", "23"} {
		for k, name := range []string{"open-11", "open-02"} {
			add([]string{"IMG_01", "IMG_02"}[k]+[]string{"01", "02", "03"}[q]+".jpg", jars[name][q], "2026:06:05 "+hour+[]string{":01:00", ":02:40"}[k])
		}
	}
	add("pond/IMG_7.jpg", jars["open-05"][0], "")
	add("Plot-7_1min.jpg", jars["open-08"][0], "")
	add("plot 7 2h.jpg", jars["open-08"][1], "")
	add("IMG_9.jpg", jars["open-13"][0], "")
	_, err := d.Regard("IMG_8.jpg", []byte("none"), nil)
	require.ErrorContains(t, err, "IMG_8.jpg")
	request, err := json.Marshal(map[string]any{"files": files})
	require.NoError(t, err)
	answer, err := d.Ask("sort", request)
	require.NoError(t, err)
	text, err := json.Marshal(answer)
	require.NoError(t, err)
	var got struct {
		Jars []struct {
			Name   string
			Photos []string
		}
		Left []struct{ File, Said string }
	}
	require.NoError(t, json.Unmarshal(text, &got))
	by := map[string][]string{}
	unnamed := 0
	for _, j := range got.Jars {
		if j.Name == "" {
			unnamed++
			require.Len(t, j.Photos, 3)
			for _, p := range j.Photos {
				assert.Equal(t, j.Photos[0][:6], p[:6], "photos of one jar alone")
			}
			continue
		}
		by[j.Name] = j.Photos
	}
	assert.Equal(t, map[string][]string{"pond": {"pond/IMG_7.jpg"}, "Plot-7": {"Plot-7_1min.jpg", "plot 7 2h.jpg"}}, by)
	assert.Equal(t, 2, unnamed)
	require.Len(t, got.Left, 1)
	assert.Equal(t, "IMG_9.jpg", got.Left[0].File)
	assert.Contains(t, got.Left[0].Said, "nor the file when it was taken")
	_, err = d.Ask("sort", request)
	assert.Error(t, err, "what was sorted is forgotten")
}
