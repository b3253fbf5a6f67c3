package imaging_test

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"

	"mudline/imaging"
	"mudline/internal/jartest"
)

// addSeeds gives the fuzz targets one small file of every format, and heads.
func addSeeds(f *testing.F) {
	files, err := filepath.Glob(filepath.Join("testdata", "quadrants*"))
	require.NoError(f, err)
	require.NotEmpty(f, files)
	for _, name := range files {
		data, err := os.ReadFile(name)
		require.NoError(f, err)
		f.Add(data)
	}
	f.Add(jartest.WithEXIF(plainJPEG(f, 260, 250), jartest.EXIF{
		Orientation: 5, Taken: "2026:05:03 14:03:22", Offset: "+02:00", Focal35MM: 26,
	}))
	f.Add(plainPNG(f, 250, 260))
	f.Add([]byte("GIF89a"))
	f.Add([]byte{})
}

// Whatever the bytes, Inspect either refuses with all three parts of a refusal
// or reports a picture within the limits.
func FuzzInspect(f *testing.F) {
	addSeeds(f)
	f.Fuzz(func(t *testing.T, data []byte) {
		info, err := imaging.Inspect(data)
		if err != nil {
			refusalOf(t, err)
			return
		}
		require.Contains(t, []string{"jpeg", "png", "webp", "tiff", "heic"}, info.Format)
		short, long := min(info.W, info.H), max(info.W, info.H)
		require.GreaterOrEqual(t, short, imaging.MinSide)
		require.LessOrEqual(t, info.W*info.H, imaging.MaxPixels)
		require.LessOrEqual(t, long, short*imaging.MaxAspect)
		require.GreaterOrEqual(t, info.Orientation, 1)
		require.LessOrEqual(t, info.Orientation, 8)
		require.GreaterOrEqual(t, info.Focal35MM, 0.0)
		require.False(t, info.HasOffset && info.Taken.IsZero())
	})
}

// Whatever the bytes, Open either refuses or gives a picture whose size, scale
// and measures hold together.
func FuzzOpen(f *testing.F) {
	addSeeds(f)
	f.Fuzz(func(t *testing.T, data []byte) {
		info, err := imaging.Inspect(data)
		if err != nil || info.W*info.H > 1_000_000 || info.Format == "heic" {
			return // FuzzInspect; and time: HEIC is decoded in a sandbox that takes a second to build
		}
		p, err := imaging.Open(imaging.PureGo{}, "fuzz", data)
		if err != nil {
			require.Contains(t, refusalOf(t, err).Text.String(), "fuzz")
			return
		}
		w, h := p.Picture.Rect.Dx(), p.Picture.Rect.Dy()
		require.LessOrEqual(t, max(w, h), imaging.WorkingSide)
		require.Len(t, p.Picture.Pix, 4*w*h)
		require.InEpsilon(t, float64(p.FullW)/float64(w), p.Scale, 1e-9)
		require.InEpsilon(t, p.Scale, float64(p.FullH)/float64(h), 0.01)
		require.GreaterOrEqual(t, p.Scale, 1.0)
		q := p.Quality
		for _, share := range []float64{q.BlownOut, q.Black, q.Brightness / 100.01, q.Lights / 100.01, q.Sharpness} {
			require.GreaterOrEqual(t, share, 0.0)
			require.LessOrEqual(t, share, 1.0)
		}
	})
}
