package page_test

import (
	"bytes"
	"encoding/base64"
	"encoding/binary"
	"encoding/json"
	"fmt"
	"image"
	"image/jpeg"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mudline/internal/browsertest"
	"mudline/internal/reading"
	"mudline/internal/record"
)

// filmFolder holds reduced photos of a rendered film.
var filmFolder = filepath.Join("..", "..", "testdata", "film")

// vp8 makes a key frame of a photo, by the browser.
func (s *story) vp8(file string) []byte {
	s.t.Helper()
	data, err := os.ReadFile(file)
	require.NoError(s.t, err)
	text := browsertest.Eval[string](s.Page, fmt.Sprintf(`(async () => {
		const bytes = Uint8Array.from(atob(%q), (c) => c.charCodeAt(0));
		const picture = await createImageBitmap(new Blob([bytes], { type: "image/jpeg" }));
		const canvas = new OffscreenCanvas(picture.width, picture.height);
		canvas.getContext("2d", { alpha: false }).drawImage(picture, 0, 0);
		const out = new Uint8Array(await (await canvas.convertToBlob({ type: "image/webp", quality: 0.95 })).arrayBuffer());
		let text = "";
		for (const b of out) text += String.fromCharCode(b);
		return btoa(text);
	})()`, base64.StdEncoding.EncodeToString(data)))
	webp, err := base64.StdEncoding.DecodeString(text)
	require.NoError(s.t, err)
	at := bytes.Index(webp, []byte("VP8 ")) // the chunk of a lossy WebP, RFC 9649, is a key frame
	require.Positive(s.t, at)
	size := binary.LittleEndian.Uint32(webp[at+4:])
	return webp[at+8 : at+8+int(size)]
}

// A film made of photos is read as the photos are, and times that cannot be are
// answered with what to do.
func TestAFilmIsReadLikeItsPhotos(t *testing.T) {
	long(t)
	s := open(t, desktop)
	names := photosOf(t, filmFolder)
	const plays, begin, end = 600., 44., 172800. // seconds
	var shots []shot
	var photos []string
	for _, n := range names {
		after, _, ok := record.ElapsedFromName(n)
		require.True(t, ok)
		shots = append(shots, shot{ms: uint64((after.Seconds() - begin) / (end - begin) * plays * 1000), vp8: s.vp8(n)})
		photos = append(photos, filepath.Base(n))
	}
	file := filepath.Join(t.TempDir(), "settling.webm")
	require.NoError(t, os.WriteFile(file, webm(shots, plays*1000, 600, 800), 0o644))
	notFilm := filepath.Join(t.TempDir(), "text.mp4")
	require.NoError(t, os.WriteFile(notFilm, []byte("no film"), 0o644))

	id := browsertest.Eval[string](s.Page, `import("/js/store.js").then(async (store) => (await store.create({ name: "Film", "water-depth": "95.6 mm", temp: "14.8 C" })).id)`)
	s.visit("/jar/" + id + "/film")
	s.Choose("input[type=file]", notFilm)
	s.Wait("it cannot be played", fmt.Sprintf("document.querySelector('.messages').innerText.includes(%q)", s.word("film-not-played", "file", "text.mp4")))
	s.Choose("input[type=file]", file)
	s.Wait("the film", "document.querySelector('form video, .watch-stage video')")
	state := func(begin, took, wrong string) {
		s.Type(".field:nth-of-type(1) input", begin)
		s.Type(".field:nth-of-type(2) input", took)
		s.press("film-take")
		if wrong != "" {
			s.Wait(wrong, fmt.Sprintf("document.querySelector('.wrong:not(:empty)')?.innerText === %q", s.word(wrong, "plays", "10 min")))
		}
	}
	s.Set(".field:nth-of-type(1) select", "s")
	s.Set(".field:nth-of-type(2) select", "s")
	state("", "172756", "film-wrong-begin")
	state("-60", "172756", "film-wrong-begin")
	state("44", "", "film-wrong-took")
	state("44", "30", "film-wrong-fast")
	state("44", "9000000", "film-wrong-long")
	s.openToAll("desktop", "film")
	state("44", "172756", "")
	s.at("/jar/[^/]+")
	s.looked(len(names))
	s.read()

	j := s.jar()
	require.Len(t, j.Photos, len(names), "each frame once")
	for i, n := range j.Photos {
		got, _, ok := record.ElapsedFromName(n)
		require.True(t, ok, n)
		want, _, _ := record.ElapsedFromName(photos[i])
		assert.InDelta(t, want.Seconds(), got.Seconds(), 2, "%s of %s", n, photos[i])
		assert.True(t, strings.HasPrefix(n, "settling_t"), n)
	}
	var film reading.Reading
	require.NoError(t, json.Unmarshal(j.Answer.Reading, &film))
	still := readingOf(t, j.Record, filmFolder, photos)
	for i, p := range still.Photos {
		want, got := p.HeightsMM.DepositTop, film.Photos[i].HeightsMM.DepositTop
		assert.InDelta(t, want.Value, got.Value, 2*max(want.SD, got.SD), "the top of the soil in %s", p.File)
	}
	// A reading hangs on faint lines, which packing a picture once more may hide or
	// show: saving the photos anew as JPEG moves it by points. So the frames are
	// held to the photos' pixels, and the fractions to what the photos leave open.
	for name, e := range map[string][2]reading.Estimate{"sand": {still.Fractions.Sand, film.Fractions.Sand},
		"silt": {still.Fractions.Silt, film.Fractions.Silt}, "clay": {still.Fractions.Clay, film.Fractions.Clay}} {
		t.Logf("%s: photos %.1f, film %.1f", name, e[0].Percent, e[1].Percent)
		assert.GreaterOrEqual(t, e[1].Percent, e[0].Low, name)
		assert.LessOrEqual(t, e[1].Percent, e[0].High, name)
	}
	for i, n := range j.Photos {
		shift, off := apart(t, names[i], s.blob(n))
		assert.InDelta(t, 0, shift, 1, "%s: lighter or darker, in levels of 256", n)
		assert.Less(t, off, 3., n)
	}
	s.clean()
}

func readingOf(t *testing.T, tree record.Tree, folder string, names []string) (r reading.Reading) {
	t.Helper()
	require.NoError(t, json.Unmarshal([]byte(native(t, tree, folder, names)), &r))
	require.NotNil(t, r.Fractions)
	return r
}

// blob is a stored photo of the one jar there is.
func (s *story) blob(name string) []byte {
	s.t.Helper()
	text := browsertest.Eval[string](s.Page, fmt.Sprintf(`import("/js/store.js").then(async (store) => {
		const [jar] = await store.jars(), { blob } = (await store.photos(jar.id)).find((p) => p.name === %q);
		return new Promise((done) => { const r = new FileReader(); r.onload = () => done(r.result.split(",")[1]); r.readAsDataURL(blob); });
	})`, name))
	data, err := base64.StdEncoding.DecodeString(text)
	require.NoError(s.t, err)
	return data
}

// apart is by how much a picture is lighter than a photo in the mean, and how far
// its pixels are off, in levels of luma.
func apart(t *testing.T, file string, data []byte) (shift, off float64) {
	t.Helper()
	original, err := os.ReadFile(file)
	require.NoError(t, err)
	want, err := jpeg.Decode(bytes.NewReader(original))
	require.NoError(t, err)
	got, err := jpeg.Decode(bytes.NewReader(data))
	require.NoError(t, err)
	require.Equal(t, want.Bounds(), got.Bounds(), "a frame of the film's full size")
	w, g := want.(*image.YCbCr), got.(*image.YCbCr)
	n := 0.
	for y := range want.Bounds().Dy() {
		for x := range want.Bounds().Dx() {
			d := float64(g.Y[g.YOffset(x, y)]) - float64(w.Y[w.YOffset(x, y)])
			shift, off, n = shift+d, off+math.Abs(d), n+1
		}
	}
	return shift / n, off / n
}
