package main

import (
	"os"
	"path/filepath"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mudline/texture"
)

// TestEveryAndFirst: photos are counted as people count, and a stated time stays.
func TestEveryAndFirst(t *testing.T) {
	folder := t.TempDir()
	for _, f := range []string{"img9.jpg", "img10.jpg", "img100.jpg"} {
		require.NoError(t, os.WriteFile(filepath.Join(folder, f), nil, 0o644))
	}
	r := command(t, nil, "read", folder, "--every", "10min", "--first", "30s", "--elapsed", "img100.jpg=2d")
	require.Equal(t, statusOK, r.status, r.err)
	assert.Equal(t, 30*time.Second, r.stated.Photos["img9.jpg"].Elapsed)
	assert.Equal(t, 10*time.Minute+30*time.Second, r.stated.Photos["img10.jpg"].Elapsed)
	assert.Equal(t, 48*time.Hour, r.stated.Photos["img100.jpg"].Elapsed)
	for _, wrong := range [][]string{{"--first", "30s"}, {"--every", "often"}, {"--every", "10min", "--first", "x"}, {"--every", "50d"}} {
		r := command(t, nil, append([]string{"read", folder}, wrong...)...)
		assert.Equal(t, statusInput, r.status, wrong)
	}
}

// TestFilmNeedsRealTimes: a video is refused without them, and with other files.
func TestFilmNeedsRealTimes(t *testing.T) {
	for _, c := range []struct {
		args []string
		want string
	}{
		{[]string{"film.mp4"}, "does not say when after shaking it begins"},
		{[]string{"film.mp4", "--began", "30s"}, "does not say when after shaking it begins"},
		{[]string{"film.mp4", "a.jpg", "--began", "30s", "--lasts", "2d"}, "given together"},
		{[]string{"a.jpg", "--lasts", "2d"}, "none is given"},
		{[]string{"film.mp4", "--began", "30s", "--lasts", "2"}, "--lasts"},
		{[]string{"film.mp4", "--began", "30s", "--lasts", "60d"}, "more than 60 days"},
		{[]string{"film.mp4", "--began", "30s", "--lasts", "2d"}, "film.mp4 is not there"},
	} {
		r := command(t, nil, append([]string{"read"}, c.args...)...)
		assert.Equal(t, statusInput, r.status, c.args)
		assert.Contains(t, r.err, c.want)
	}
	path := filepath.Join(t.TempDir(), "film.mp4")
	require.NoError(t, os.WriteFile(path, []byte("x"), 0o644))
	t.Setenv("PATH", t.TempDir())
	r := command(t, nil, "read", path, "--began", "30s", "--lasts", "2d")
	assert.Equal(t, statusInput, r.status)
	assert.Contains(t, r.err, "ffmpeg")
	assert.Contains(t, r.err, "install")
}

// TestFilmIsPlanned: the moments rise from half a minute to two days, and are spread
// evenly in the logarithm of time up to their rounding.
func TestFilmIsPlanned(t *testing.T) {
	moments := texture.FilmMoments(40)
	require.Len(t, moments, 40)
	assert.Equal(t, 30.0, moments[0])
	assert.Equal(t, 172800.0, moments[39])
	for i := 1; i < 40; i++ {
		assert.InDelta(t, 1.249, moments[i]/moments[i-1], 0.06) // 5760^(1/39)
	}
	r := command(t, nil, "times", "--film")
	require.Equal(t, statusOK, r.status, r.err)
	assert.Contains(t, r.out, "40 photos in 2 d")
	assert.Equal(t, statusInput, command(t, nil, "times", "--film", "--photos", "3").status)
	assert.Equal(t, statusInput, command(t, nil, "times", "--film", "--calendar", "a.ics").status)
	r = command(t, nil, "new", filepath.Join(t.TempDir(), "plot"), "--film")
	require.Equal(t, statusOK, r.status, r.err)
	assert.Contains(t, r.out, "A film of the settling")
}

// TestPartsAreKeptUntilTheEnd: what a stopped reading made is there for the next, and
// nothing of it stays behind one that ended.
func TestPartsAreKeptUntilTheEnd(t *testing.T) {
	out := filepath.Join(t.TempDir(), "out")
	var said testWriter
	s, err := openParts(out, &said, nil)
	require.NoError(t, err)
	require.NoError(t, s.Save("abc", []byte("x")))
	assert.Empty(t, said)
	again, err := openParts(out, &said, nil)
	require.NoError(t, err)
	assert.Contains(t, string(said), "1 photos")
	data, ok := again.Load("abc")
	assert.True(t, ok)
	assert.Equal(t, "x", string(data))
	_, ok = again.Load("other")
	assert.False(t, ok)
	again.finish()
	assert.NoDirExists(t, filepath.Join(out, partFolder))
	assert.DirExists(t, out, "it was there before")
}

type testWriter []byte

func (w *testWriter) Write(p []byte) (int, error) { *w = append(*w, p...); return len(p), nil }
