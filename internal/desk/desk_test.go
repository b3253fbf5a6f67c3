package desk_test

import (
	"archive/zip"
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mudline/imaging"
	"mudline/imaging/bare"
	"mudline/internal/desk"
	"mudline/internal/jar"
	"mudline/internal/reading"
	"mudline/internal/record"
	"mudline/internal/testkit"
	"mudline/layers"
)

// sample is one of the sample jars, with its record as a page holds it.
func sample(t *testing.T) (p desk.Pack, names []string) {
	folder := filepath.Join("..", "..", "samples", "plot-07-by-the-brook")
	text, err := os.ReadFile(filepath.Join(folder, record.FileName))
	require.NoError(t, err)
	p.Record, err = record.ParseTree(record.FileName, text)
	require.NoError(t, err)
	paths, err := filepath.Glob(filepath.Join(folder, "*.jpg"))
	require.NoError(t, err)
	require.NotEmpty(t, paths)
	for _, path := range paths {
		data, err := os.ReadFile(path)
		require.NoError(t, err)
		p.Photos = append(p.Photos, desk.NamedFile{Name: filepath.Base(path), Data: data})
		names = append(names, filepath.Base(path))
	}
	return p, names
}

func asJSON(t *testing.T, v any) []byte {
	text, err := json.Marshal(v)
	require.NoError(t, err)
	return text
}

// What a page reads is, byte for byte, what the command line reads.
func TestDeskReadsAsTheCommandLineDoes(t *testing.T) {
	p, names := sample(t)
	d, rec := desk.New(imaging.PureGo{}), asJSON(t, p.Record)
	for _, f := range p.Photos {
		o, err := d.Open(f.Name, f.Data, nil, rec)
		require.NoError(t, err)
		assert.NotNil(t, o.ElapsedS, "the sample's names state the time")
		assert.True(t, d.Holds(f.Name))
	}
	got, err := d.Read(context.Background(), rec, names)
	require.NoError(t, err)
	require.Nil(t, got.Refused, "%+v", got)
	require.Empty(t, got.Mistake)

	var files []jar.File
	for _, f := range p.Photos {
		files = append(files, jar.File{Name: f.Name, Data: func() ([]byte, error) { return f.Data, nil }})
	}
	r, err := p.Record.Record(record.FileName)
	require.NoError(t, err)
	want, err := jar.Analyse(context.Background(), files, *r, jar.Options{})
	require.NoError(t, err)
	var b bytes.Buffer
	require.NoError(t, want.Reading.Encode(&b))
	assert.Equal(t, b.String(), string(got.Reading))

	require.Len(t, got.Photos, len(names))
	for i, photo := range got.Photos {
		rows := want.Reading.Photos[i].RowsPx
		assert.Equal(t, layers.Floor, photo.Lines[0].Name)
		assert.InDelta(t, *rows.Floor, photo.Lines[0].Row, 0.06)
		last := photo.Lines[len(photo.Lines)-1]
		assert.Equal(t, layers.Water, last.Name)
		assert.InDelta(t, *rows.Meniscus, last.Row, 0.06)
		for k := 1; k < len(photo.Lines); k++ {
			assert.Less(t, photo.Lines[k].Row, photo.Lines[k-1].Row, "from the floor up")
		}
		edges := want.Reading.Photos[i].EdgesPx
		assert.InDelta(t, edges[0][0], (photo.Left[0][0]+photo.Left[1][0])/2, 0.02*edges[1][0])
	}
}

func TestMistakesAndRefusalsAreAnswers(t *testing.T) {
	p, names := sample(t)
	d := desk.New(imaging.PureGo{})
	_, err := d.Read(context.Background(), []byte(`{}`), names)
	assert.ErrorContains(t, err, "is not open")
	_, err = d.Preview([]byte(`{}`))
	assert.ErrorContains(t, err, "no reading")

	got, err := d.Read(context.Background(), []byte(`{"water-depth":"900 mm"}`), names)
	require.NoError(t, err)
	assert.Contains(t, got.Mistake, "900")

	_, err = d.Open("a.jpg", []byte("no picture at all"), nil, []byte(`{}`))
	var refusal *reading.Refusal
	require.ErrorAs(t, err, &refusal)
	assert.Equal(t, reading.NotAnImage, refusal.Code)
	assert.False(t, d.Holds("a.jpg"))

	_, err = d.Open("IMG_1.jpg", p.Photos[0].Data, nil, []byte(`{}`))
	require.NoError(t, err)
	got, err = d.Read(context.Background(), []byte(`{}`), []string{"IMG_1.jpg"})
	require.NoError(t, err)
	require.NotNil(t, got.Refused)
	assert.Equal(t, reading.NoTime, got.Refused.Code)
	d.Forget("IMG_1.jpg")
	assert.False(t, d.Holds("IMG_1.jpg"))
}

func TestPreviewTakes(t *testing.T) {
	p, names := sample(t)
	d, rec := desk.New(imaging.PureGo{}), asJSON(t, p.Record)
	for _, f := range p.Photos {
		_, err := d.Open(f.Name, f.Data, nil, rec)
		require.NoError(t, err)
	}
	began := time.Now()
	whole, err := d.Read(context.Background(), rec, names)
	require.NoError(t, err)
	took := time.Since(began)
	last := whole.Photos[len(whole.Photos)-1]
	top := last.Lines[len(last.Lines)-2]
	moved := map[string]any{}
	for k, v := range p.Record {
		moved[k] = v
	}
	moved["photos"] = map[string]any{last.File: map[string]any{"lines": map[string]any{"deposit-top": fmt.Sprintf("%.1f px", top.Row-12)}}}
	var got desk.Answer
	assert.Less(t, testkit.Quickest(func() { got, err = d.Preview(asJSON(t, moved)) }), took/2, "a preview does not read anew")
	require.NoError(t, err)
	require.Empty(t, got.Mistake)
	for _, l := range got.Photos[len(got.Photos)-1].Lines {
		if l.Name == "deposit-top" {
			assert.InDelta(t, top.Row-12, l.Row, 0.1)
			assert.True(t, l.Stated)
		}
	}
}

func TestAJarGoesIntoAFileAndBack(t *testing.T) {
	p, _ := sample(t)
	p.Reading = []byte(`{"version":1}`)
	data, err := p.Write()
	require.NoError(t, err)
	again, err := p.Write()
	require.NoError(t, err)
	assert.Equal(t, data, again)
	back, err := desk.ReadPack(data)
	require.NoError(t, err)
	for i, f := range p.Photos {
		p.Photos[i].Data, err = bare.Photo(f.Data)
		require.NoError(t, err)
	}
	assert.Equal(t, p, back)
}

// A photo on its way into a jar file loses what it tells of its owner; one that is
// none, and a name that is no photo's, keep the file from being made.
func TestAJarFileTellsOfTheJarAlone(t *testing.T) {
	for _, ending := range []string{"jpg", "png", "webp", "tif", "heic"} {
		data, err := os.ReadFile(filepath.Join("..", "..", "imaging", "bare", "testdata", "told."+ending))
		require.NoError(t, err)
		require.Contains(t, string(data), "SECRET")
		packed, err := desk.PackJSON([]byte(`{"name":"a"}`), nil, []desk.NamedFile{{Name: "a_2h." + ending, Data: data}})
		require.NoError(t, err, ending)
		assert.NotContains(t, string(packed), "SECRET", ending)
		back, err := desk.ReadPack(packed)
		require.NoError(t, err)
		require.Len(t, back.Photos, 1)
		assert.NotContains(t, string(back.Photos[0].Data), "SECRET", ending)
	}
	_, err := desk.PackJSON([]byte(`{}`), nil, []desk.NamedFile{{Name: "a_2h.jpg", Data: []byte("no photo")}})
	var refusal *reading.Refusal
	require.ErrorAs(t, err, &refusal)
	assert.Contains(t, refusal.Text, "a_2h.jpg: ")
	assert.Equal(t, reading.NotAnImage, refusal.Code)
}

// zipped makes a zip of names and contents.
func zipped(t *testing.T, files ...[2]string) []byte {
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	for _, f := range files {
		w, err := z.Create(f[0])
		require.NoError(t, err)
		_, err = w.Write([]byte(f[1]))
		require.NoError(t, err)
	}
	require.NoError(t, z.Close())
	return b.Bytes()
}

func TestAFolderZippedByHandOpens(t *testing.T) {
	p, err := desk.ReadPack(zipped(t, [2]string{"plot/jar.yaml", "name: Plot\n"}, [2]string{"plot/a_1min.jpg", "x"},
		[2]string{"__MACOSX/plot/._a_1min.jpg", "y"}, [2]string{"plot/.DS_Store", "z"}, [2]string{"plot/notes.txt", "n"}, [2]string{"plot/a_1min.read.png", "r"}))
	require.NoError(t, err)
	assert.Equal(t, record.Tree{"name": "Plot"}, p.Record)
	assert.Equal(t, []desk.NamedFile{{Name: "a_1min.jpg", Data: []byte("x")}}, p.Photos)
}

func TestPacksThatAreNoneAreRefused(t *testing.T) {
	for name, data := range map[string][]byte{
		"not a zip":     []byte("hello"),
		"empty":         zipped(t),
		"two folders":   zipped(t, [2]string{"a/x.jpg", "x"}, [2]string{"b/y.jpg", "y"}),
		"climbs out":    zipped(t, [2]string{"../x.jpg", "x"}),
		"broken record": zipped(t, [2]string{"jar.yaml", "water-depth: 9 km"}),
	} {
		_, err := desk.ReadPack(data)
		assert.Error(t, err, name)
	}
	_, err := desk.Pack{Record: record.Tree{}, Photos: []desk.NamedFile{{Name: "../x.jpg"}}}.Write()
	assert.Error(t, err)
}

// small is a photo of a few kilobytes.
func small(t testing.TB) []byte {
	data, err := os.ReadFile(filepath.Join("..", "..", "imaging", "bare", "testdata", "told.jpg"))
	require.NoError(t, err)
	return data
}

func FuzzReadPack(f *testing.F) {
	f.Add([]byte("PK"))
	p := desk.Pack{Record: record.Tree{"name": "a"}, Photos: []desk.NamedFile{{Name: "b.jpg", Data: small(f)}}}
	data, err := p.Write()
	if err != nil {
		f.Fatal(err)
	}
	f.Add(data)
	f.Fuzz(func(t *testing.T, data []byte) {
		p, err := desk.ReadPack(data)
		if err != nil {
			return
		}
		if _, err := p.Write(); err == nil {
			for _, file := range p.Photos {
				if filepath.Base(file.Name) != file.Name {
					t.Fatalf("a name with a folder: %q", file.Name)
				}
			}
		}
	})
}
