package imaging_test

import (
	"bytes"
	"encoding/binary"
	"image"
	"image/jpeg"
	"image/png"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mudline/imaging"
	"mudline/internal/jartest"
)

func fixture(t testing.TB, name string) []byte {
	t.Helper()
	data, err := os.ReadFile(filepath.Join("testdata", name))
	require.NoError(t, err)
	return data
}

// plainJPEG is a grey picture.
func plainJPEG(t testing.TB, w, h int) []byte {
	t.Helper()
	var b bytes.Buffer
	require.NoError(t, jpeg.Encode(&b, image.NewGray(image.Rect(0, 0, w, h)), nil))
	return b.Bytes()
}

func plainPNG(t testing.TB, w, h int) []byte {
	t.Helper()
	var b bytes.Buffer
	require.NoError(t, png.Encode(&b, image.NewGray(image.Rect(0, 0, w, h))))
	return b.Bytes()
}

// claiming rewrites the size in the head of a JPEG or PNG file and nothing else.
func claiming(data []byte, w, h int) []byte {
	out := bytes.Clone(data)
	if i := bytes.Index(out, []byte("IHDR")); i >= 0 {
		binary.BigEndian.PutUint32(out[i+4:], uint32(w))
		binary.BigEndian.PutUint32(out[i+8:], uint32(h))
		return out
	}
	i := bytes.Index(out, []byte{0xff, 0xc0})
	binary.BigEndian.PutUint16(out[i+5:], uint16(h))
	binary.BigEndian.PutUint16(out[i+7:], uint16(w))
	return out
}

func refusalOf(t testing.TB, err error) *imaging.Refusal {
	t.Helper()
	var r *imaging.Refusal
	require.ErrorAs(t, err, &r)
	assert.NotEmpty(t, r.Code)
	assert.NotEmpty(t, r.Text)
	assert.NotEmpty(t, r.Remedy)
	return r
}

func TestInspectRefuses(t *testing.T) {
	mp4 := "\x00\x00\x00\x18ftypmp42\x00\x00\x00\x00mp42isom"
	avif := "\x00\x00\x00\x1cftypavif\x00\x00\x00\x00mif1avifmiaf"
	for _, c := range []struct {
		name string
		data []byte
		code string
		says string
	}{
		{"nothing", nil, imaging.CodeEmpty, "0 bytes"},
		{"text", []byte("Dear diary, the jar is clear."), imaging.CodeNotImage, `"Dear dia"`},
		{"zeros", make([]byte, 4096), imaging.CodeNotImage, "00 00"},
		{"one byte", []byte{7}, imaging.CodeNotImage, "07"},
		{"GIF", []byte("GIF89a\x01\x00\x01\x00"), imaging.CodeUnsupported, "GIF"},
		{"BMP", []byte("BM\x00\x00\x00\x00"), imaging.CodeUnsupported, "BMP"},
		{"film", []byte(mp4), imaging.CodeUnsupported, "film"},
		{"AVIF", []byte(avif), imaging.CodeUnsupported, "AVIF"},
		{"1 x 1 JPEG", plainJPEG(t, 1, 1), imaging.CodeTooSmall, "1 x 1"},
		{"1 x 1 PNG", plainPNG(t, 1, 1), imaging.CodeTooSmall, "1 x 1"},
		{"one side short", plainJPEG(t, 1000, imaging.MinSide-1), imaging.CodeTooSmall, "239"},
		{"narrow", plainJPEG(t, 240, 240*imaging.MaxAspect+1), imaging.CodeTooSmall, "1441"},
		{"60000 JPEG", claiming(plainJPEG(t, 300, 300), 60000, 60000), imaging.CodeTooLarge, "60000 x 60000"},
		{"60000 PNG", claiming(plainPNG(t, 300, 300), 60000, 60000), imaging.CodeTooLarge, "60000 x 60000"},
		{"endless PNG", claiming(plainPNG(t, 300, 300), 1<<31-1, 1<<31-1), imaging.CodeTooLarge, "2147483647"},
		{"impossible PNG", claiming(plainPNG(t, 300, 300), 1<<31, 300), imaging.CodeDamaged, "impossible"},
		{"just over the cap", claiming(plainPNG(t, 300, 300), 12001, 10000), imaging.CodeTooLarge, "12001"},
	} {
		_, err := imaging.Inspect(c.data)
		r := refusalOf(t, err)
		assert.Equal(t, c.code, r.Code, c.name)
		assert.Contains(t, r.Text.String(), c.says, c.name)
	}
}

func TestInspectAtTheLimits(t *testing.T) {
	for _, c := range []struct{ w, h int }{
		{imaging.MinSide, imaging.MinSide}, {imaging.MinSide, imaging.MinSide * imaging.MaxAspect}, {12000, 10000},
	} {
		info, err := imaging.Inspect(claiming(plainPNG(t, 300, 300), c.w, c.h))
		require.NoError(t, err)
		assert.Equal(t, [2]int{c.w, c.h}, [2]int{info.W, info.H})
	}
}

// The claim alone must not make anyone ask for memory.
func TestInspectAllocatesNoPixels(t *testing.T) {
	huge := claiming(plainPNG(t, 300, 300), 60000, 60000)
	got := testing.Benchmark(func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			_, _ = imaging.Open(imaging.PureGo{}, "", huge)
		}
	})
	assert.Less(t, got.AllocedBytesPerOp(), int64(100_000))
}

// A file cut anywhere is refused, and never as a sound picture.
func TestInspectTruncated(t *testing.T) {
	jar := readJar(t, "open-02")
	files := map[string][]byte{"jar.jpg": jar}
	for _, name := range []string{
		"quadrants-progressive.jpg", "quadrants.png", "quadrants.tif", "quadrants.webp",
		"quadrants-lossless.webp", "quadrants.heic", "quadrants-turned.heic",
	} {
		files[name] = fixture(t, name)
	}
	for name, data := range files {
		_, err := imaging.Open(imaging.PureGo{}, name, data)
		require.NoError(t, err, name)
		lengths := []int{1, 2, 3, 4, 7, 8, 11, 12, 15, 20, 24, 30, len(data) - 1, len(data) - 2}
		for k := 1; k < 40; k++ {
			lengths = append(lengths, len(data)*k/40)
		}
		for _, n := range lengths {
			_, err := imaging.Open(imaging.PureGo{}, name, data[:n])
			if name == "quadrants.tif" && err == nil {
				// A TIFF's directory may lie anywhere; bytes behind the last
				// one in use are not missed.
				assert.Greater(t, n, len(data)*9/10, name)
				continue
			}
			r := refusalOf(t, err)
			if n < 12 { // too little to tell what it was
				assert.Contains(t, []string{imaging.CodeTruncated, imaging.CodeNotImage}, r.Code, "%s[:%d]", name, n)
				continue
			}
			if !strings.HasSuffix(name, ".tif") {
				assert.Equal(t, imaging.CodeTruncated, r.Code, "%s[:%d]: %s", name, n, r.Text)
			}
			assert.Contains(t, r.Text.String(), name)
		}
	}
}

func TestInspectEXIF(t *testing.T) {
	plain := plainJPEG(t, 300, 400)
	read := func(e jartest.EXIF) imaging.Info {
		info, err := imaging.Inspect(jartest.WithEXIF(plain, e))
		require.NoError(t, err)
		assert.Equal(t, [2]int{300, 400}, [2]int{info.W, info.H})
		return info
	}
	info := read(jartest.EXIF{Orientation: 8, Taken: "2026:05:03 14:03:22", Offset: "-03:30", Focal35MM: 26})
	assert.Equal(t, 8, info.Orientation)
	assert.True(t, info.HasOffset)
	assert.True(t, info.Taken.Equal(time.Date(2026, 5, 3, 17, 33, 22, 0, time.UTC)), "%v", info.Taken)
	assert.Equal(t, 26.0, info.Focal35MM)
	w, h := info.Upright()
	assert.Equal(t, [2]int{400, 300}, [2]int{w, h})

	info = read(jartest.EXIF{Taken: "2026:05:03 14:03:22"})
	assert.False(t, info.HasOffset)
	assert.Equal(t, time.Date(2026, 5, 3, 14, 3, 22, 0, time.UTC), info.Taken)
	assert.Equal(t, 1, info.Orientation)
	assert.Zero(t, info.Focal35MM)

	info = read(jartest.EXIF{Taken: "2026:05:03 14:03:22", Offset: "+00:00"})
	assert.True(t, info.HasOffset)
	assert.Equal(t, time.Date(2026, 5, 3, 14, 3, 22, 0, time.UTC), info.Taken)

	for _, taken := range []string{"", "0000:00:00 00:00:00", "    :  :     :  :  ", "2026:02:30 10:00:00", "yesterday"} {
		assert.True(t, read(jartest.EXIF{Taken: taken, Offset: "+02:00"}).Taken.IsZero(), "%q", taken)
	}
	for _, offset := range []string{"   :  ", "+99:00", "+15:00", "-12:30", "Z", "+2"} {
		info := read(jartest.EXIF{Taken: "2026:05:03 14:03:22", Offset: offset})
		assert.False(t, info.HasOffset, "%q", offset)
		assert.Equal(t, 14, info.Taken.Hour(), "%q", offset)
	}
	for _, wrong := range []uint16{0, 9, 65535} {
		assert.Equal(t, 1, read(jartest.EXIF{Orientation: wrong}).Orientation)
	}
	assert.True(t, read(jartest.EXIF{}).Taken.IsZero())
}

// The rendered jars say in truth.json when they were taken; their EXIF agrees.
func TestInspectJarTime(t *testing.T) {
	info, err := imaging.Inspect(readJar(t, "open-05"))
	require.NoError(t, err)
	assert.True(t, info.HasOffset)
	assert.Equal(t, "jpeg", info.Format)
	assert.Equal(t, [2]int{1200, 1600}, [2]int{info.W, info.H})
	assert.Greater(t, info.Focal35MM, 20.0)
	set := time.Date(2026, 5, 25, 6, 49, 53, 0, time.UTC) // shake_time 10:49:53+04:00
	assert.InDelta(t, 174876, info.Taken.Sub(set).Seconds(), 1)
}

// readJar reads the last photo of a rendered jar.
func readJar(t testing.TB, name string) []byte {
	t.Helper()
	files, err := filepath.Glob(filepath.Join("..", "testdata", "jars", name, "*.jpg"))
	require.NoError(t, err)
	require.NotEmpty(t, files)
	data, err := os.ReadFile(files[len(files)-1])
	require.NoError(t, err)
	return data
}

// Only what can be is taken from a photo's facts: the eight ways up of EXIF 2.32 (4.6.4), and
// focal lengths that lenses have.
func TestFactsThatCannotBe(t *testing.T) {
	plain := plainJPEG(t, 260, 250)
	for mm, want := range map[uint16]float64{26: 26, 9999: 9999, 10000: 0, 65535: 0} {
		info, err := imaging.Inspect(jartest.WithEXIF(plain, jartest.EXIF{Focal35MM: mm}))
		require.NoError(t, err)
		assert.Equal(t, want, info.Focal35MM, "%d mm", mm)
	}
	for way, oriented := range map[uint16]bool{1: true, 8: true, 9: false, 300: false} {
		info, err := imaging.Inspect(jartest.WithEXIF(plain, jartest.EXIF{Orientation: way}))
		require.NoError(t, err)
		assert.Equal(t, oriented, info.Oriented, "%d", way)
		if !oriented {
			assert.Equal(t, 1, info.Orientation)
		}
	}
}
