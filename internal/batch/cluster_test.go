package batch

import (
	"bytes"
	"fmt"
	"image"
	"image/jpeg"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"golang.org/x/image/draw"

	"mudline/imaging"
	"mudline/imaging/enginetest"
)

// smallPhotos are the rendered jars of testdata reduced to 600 pixels, by jar,
// in order of time.
var smallPhotos = sync.OnceValue(func() map[string][][]byte {
	paths, _ := filepath.Glob(filepath.Join("..", "..", "testdata", "jars", "*", "*.jpg"))
	jars := map[string][][]byte{}
	for _, p := range paths {
		data, err := os.ReadFile(p)
		if err != nil {
			panic(err)
		}
		pic, err := jpeg.Decode(bytes.NewReader(data))
		if err != nil {
			panic(err)
		}
		w, h := imaging.Fit(pic.Bounds().Dx(), pic.Bounds().Dy(), 600)
		small := image.NewRGBA(image.Rect(0, 0, w, h))
		draw.BiLinear.Scale(small, small.Rect, pic, pic.Bounds(), draw.Src, nil)
		var b bytes.Buffer
		if err := jpeg.Encode(&b, small, &jpeg.Options{Quality: 92}); err != nil {
			panic(err)
		}
		jar := filepath.Base(filepath.Dir(p))
		jars[jar] = append(jars[jar], b.Bytes())
	}
	return jars
})

var shaken = time.Date(2026, 6, 5, 11, 0, 0, 0, time.UTC)

// shotsOf are three photos of each jar as a camera names them, with times.
func shotsOf(t *testing.T, jars []string, at func(jar, photo int) time.Duration) (shots []shot) {
	for k, jar := range jars {
		photos := smallPhotos()[jar]
		require.GreaterOrEqual(t, len(photos), 3, jar)
		for q, data := range append(append([][]byte{}, photos[:2]...), photos[len(photos)-1]) {
			p, err := imaging.Open(imaging.PureGo{}, jar, data)
			require.NoError(t, err)
			l := lookOf(p.Picture)
			shots = append(shots, shot{path: fmt.Sprintf("%s.%d", jar, q), taken: shaken.Add(at(k, q)), look: &l})
		}
	}
	return shots
}

// grouped shows clusters by the photos' names.
func grouped(shots []shot, found []cluster) (out []string) {
	for _, c := range found {
		var names []string
		for _, m := range c.members {
			names = append(names, shots[m].path)
		}
		out = append(out, strings.Join(names, " "))
	}
	return out
}

var fiveJars = []string{"open-02", "open-05", "open-08", "open-11", "open-13"}

// rounds is a club that passes all jars at 1 min, 2 h and 2 d, the jars shaken
// one after another.
func rounds(jar, photo int) time.Duration {
	return time.Duration(jar)*100*time.Second + []time.Duration{time.Minute, 2 * time.Hour, 48 * time.Hour}[photo]
}

func TestRoundsInOneOrder(t *testing.T) {
	shots := shotsOf(t, fiveJars, rounds)
	found := clusters(shots)
	var want []string
	for _, jar := range fiveJars {
		want = append(want, fmt.Sprintf("%s.0 %s.1 %s.2", jar, jar, jar))
	}
	assert.Equal(t, want, grouped(shots, found))
	for _, c := range found {
		assert.Equal(t, whyRounds, c.why)
	}
}

// In another order in one round, likeness must not be overruled by the order:
// no photo goes to a wrong jar.
func TestRoundsInAnotherOrder(t *testing.T) {
	shots := shotsOf(t, fiveJars, func(jar, photo int) time.Duration {
		if photo == 1 {
			jar = []int{3, 0, 1, 4, 2}[jar]
		}
		return rounds(jar, photo)
	})
	onlyTrue(t, shots, clusters(shots))
}

// onlyTrue asks that no cluster mixes jars.
func onlyTrue(t *testing.T, shots []shot, found []cluster) (sorted int) {
	t.Helper()
	for _, c := range found {
		jar, _, _ := strings.Cut(shots[c.members[0]].path, ".")
		for _, m := range c.members {
			assert.True(t, strings.HasPrefix(shots[m].path, jar+"."), "%s among those of %s", shots[m].path, jar)
			sorted++
		}
	}
	return sorted
}

func TestJarsOnDifferentDays(t *testing.T) {
	for _, jars := range [][]string{fiveJars, fiveJars[:2], fiveJars[1:4], fiveJars[3:]} {
		shots := shotsOf(t, jars, func(jar, photo int) time.Duration {
			return time.Duration(jar)*31*time.Hour + []time.Duration{time.Minute, 2 * time.Hour, 48 * time.Hour}[photo]
		})
		assert.Greater(t, 2*onlyTrue(t, shots, clusters(shots)), 3*len(jars), "most photos are sorted")
	}
}

func TestOneJarAlone(t *testing.T) {
	for _, jar := range fiveJars {
		shots := shotsOf(t, []string{jar}, rounds)
		assert.Equal(t, []string{fmt.Sprintf("%s.0 %s.1 %s.2", jar, jar, jar)}, grouped(shots, clusters(shots)))
	}
}

// Jars that look the same in every round cannot be told apart, whatever the
// order says, nor are those of one round one jar: they are left to the person.
func TestJarsThatLookTheSame(t *testing.T) {
	one := shotsOf(t, fiveJars[:1], rounds)
	for _, missed := range []bool{false, true} {
		var shots []shot
		for k := range 3 {
			for q, s := range one {
				s.path, s.taken = fmt.Sprintf("%d.%d", k, q), shaken.Add(rounds(k, q))
				if !missed || k != 1 || q != 1 {
					shots = append(shots, s)
				}
			}
		}
		assert.Empty(t, clusters(shots))
	}
}

func TestNothingToCluster(t *testing.T) {
	assert.Empty(t, clusters(nil))
	assert.Empty(t, clusters(make([]shot, 3)), "no time, no look")
	assert.Empty(t, clusters(shotsOf(t, fiveJars[:1], rounds)[:1]), "one photo shows no jar")
}

// TestCameraNames sorts files as a camera names them, from disk.
func TestCameraNames(t *testing.T) {
	list := map[string]string{"jar.yaml": "shaken: 2026-06-05 11:00:00\n", "IMG_9999.jpg": string(smallPhotos()["open-08"][0])}
	number := 100
	for q := range 3 {
		for k, jar := range []string{"open-11", "open-02", "open-13"} {
			photos := smallPhotos()[jar]
			number++
			list[fmt.Sprintf("IMG_%04d.jpg", number)] = string(enginetest.WithEXIF(photos[min(q, len(photos)-1)],
				enginetest.EXIF{Taken: shaken.Add(rounds(k, q)).Format("2006:01:02 15:04:05")}))
		}
	}
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
	require.NoError(t, os.WriteFile(filepath.Join(root, "IMG_0103.jpg"), smallPhotos()["open-05"][0], 0o644))
	again = find(t, root, opt.Out)
	assert.Equal(t, "IMG_0103.jpg", again.Left[0].Path, "another photo, and all is looked at anew")
}

// blind is an engine that must not be asked for anything.
type blind struct{ imaging.PureGo }

func (blind) Decode([]byte, imaging.Info, int) (*image.RGBA, image.Point, error) {
	panic("a photo was opened")
}
