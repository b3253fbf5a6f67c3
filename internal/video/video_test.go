package video

import (
	"context"
	"os"
	"os/exec"
	"path/filepath"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// TestMoments: 900 pictures of two days stand for 192 s each; none is taken twice, the
// first and the last are taken, and each has the time that it stands for.
func TestMoments(t *testing.T) {
	s := Span{Began: 30 * time.Second, Lasts: 48 * time.Hour}
	list := Moments(s, 30*time.Second, 900, 40)
	require.Greater(t, len(list), 20)
	require.LessOrEqual(t, len(list), 40)
	step := 48 * 3600 / 899.0
	for i, p := range list {
		if i > 0 {
			assert.Greater(t, p.InFilm, list[i-1].InFilm)
			assert.GreaterOrEqual(t, p.Elapsed-list[i-1].Elapsed, 192*time.Second)
		}
		k := (p.Elapsed - s.Began).Seconds() / step
		assert.InDelta(t, k, float64(int(k+0.5)), 1e-6, "a picture's own time")
		assert.InDelta(t, (k+0.25)/900*30, p.InFilm.Seconds(), 1e-6)
		assert.InDelta(t, step/3.4641, p.SD.Seconds(), 0.01, "even over the span of a picture: its width over the root of 12")
	}
	assert.Equal(t, 30*time.Second, list[0].Elapsed)
	assert.InDelta(t, (48*time.Hour + 30*time.Second).Seconds(), list[len(list)-1].Elapsed.Seconds(), 1e-3)
	assert.Empty(t, Moments(s, 0, 900, 40))
	assert.Empty(t, Moments(Span{}, time.Second, 10, 40))
}

func TestIs(t *testing.T) {
	assert.True(t, Is("a/FILM.MP4"))
	assert.False(t, Is("a.jpg"))
}

func TestNoProgram(t *testing.T) {
	t.Setenv("PATH", t.TempDir())
	_, _, err := Measure(context.Background(), "a.mp4")
	assert.ErrorIs(t, err, ErrNoProgram)
}

// TestFFmpeg makes a film of five grey pictures and takes the third out again.
func TestFFmpeg(t *testing.T) {
	program, err := exec.LookPath("ffmpeg")
	if err != nil {
		t.Skip("ffmpeg is not installed")
	}
	path := filepath.Join(t.TempDir(), "film.mp4")
	require.NoError(t, exec.Command(program, "-v", "error", "-f", "lavfi", "-i", "testsrc=size=64x64:rate=5", "-frames:v", "5", "-pix_fmt", "yuv420p", path).Run())
	length, pictures, err := Measure(context.Background(), path)
	require.NoError(t, err)
	assert.Equal(t, 5, pictures)
	assert.InDelta(t, 1, length.Seconds(), 0.01)
	to := filepath.Join(t.TempDir(), "a.jpg")
	require.NoError(t, Take(context.Background(), path, Picture{InFilm: 450 * time.Millisecond}, to))
	data, err := os.ReadFile(to)
	require.NoError(t, err)
	assert.Equal(t, []byte{0xff, 0xd8, 0xff}, data[:3])
	require.NoError(t, os.WriteFile(path, []byte("no film"), 0o644))
	_, _, err = Measure(context.Background(), path)
	assert.ErrorContains(t, err, "film.mp4 cannot be read")
}
