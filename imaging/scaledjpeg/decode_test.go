package scaledjpeg_test

import (
	"bytes"
	"fmt"
	"image"
	"image/jpeg"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mudline/imaging/scaledjpeg"
)

// read are the pictures that are decoded, left those that are not.
var (
	read = []string{"444.jpg", "422.jpg", "440.jpg", "420.jpg", "411.jpg", "grey.jpg", "restart.jpg", "fine.jpg"}
	left = []string{"progressive.jpg", "rgb.jpg", "cmyk.jpg"}
)

func fixture(t testing.TB, name string) []byte {
	data, err := os.ReadFile(filepath.Join("testdata", name))
	require.NoError(t, err)
	return data
}

// full is a plane as image/jpeg decodes it, up to the last whole block.
type full struct {
	pix    []uint8
	stride int
}

func decodeFull(t testing.TB, data []byte) []full {
	img, err := jpeg.Decode(bytes.NewReader(data))
	require.NoError(t, err)
	switch img := img.(type) {
	case *image.Gray:
		return []full{{img.Pix, img.Stride}}
	case *image.YCbCr:
		return []full{{img.Y, img.YStride}, {img.Cb, img.CStride}, {img.Cr, img.CStride}}
	}
	t.Fatalf("image/jpeg gave a %T", img)
	return nil
}

// mean is the mean of the by x by samples that become sample x,y; ok is false
// where they do not all lie in memory, or one was cut off at the end of the
// scale, which the mean of what was not cut off knows nothing of.
func (f full) mean(x, y, by int) (mean float64, ok bool) {
	for dy := range by {
		for dx := range by {
			at := (y*by+dy)*f.stride + x*by + dx
			if at >= len(f.pix) || f.pix[at] == 0 || f.pix[at] == 255 {
				return 0, false
			}
			mean += float64(f.pix[at])
		}
	}
	return mean / float64(by*by), true
}

// The outside reference is image/jpeg at full size: what is read at a fraction
// of the size is the mean of its samples. Both round to whole levels, image/jpeg
// once more between its two passes.
func TestMeansOfFullSize(t *testing.T) {
	for _, name := range read {
		data := fixture(t, name)
		want := decodeFull(t, data)
		for _, by := range []int{2, 4, 8} {
			planes, ok := scaledjpeg.Decode(data, by)
			require.True(t, ok, "%s 1/%d", name, by)
			require.Len(t, planes, len(want))
			assert.Equal(t, [2]float64{203 / float64(by), 150 / float64(by)}, [2]float64{planes[0].Wide, planes[0].High}, name)
			for i, p := range planes {
				shrunk := by
				if i > 0 { // chroma stored at half the size or less is reduced less
					shrunk = chromaBy(name, by)
				}
				compare(t, fmt.Sprintf("%s 1/%d plane %d", name, by, i), p, want[i], shrunk)
			}
		}
	}
}

// chromaBy is by how much chroma is reduced further.
func chromaBy(name string, by int) int {
	if name == "420.jpg" || name == "fine.jpg" || name == "restart.jpg" { // halved both ways
		return by / 2
	}
	return by
}

func compare(t *testing.T, what string, p scaledjpeg.Plane, want full, by int) {
	t.Helper()
	require.Equal(t, [2]int{int(math.Ceil(p.Wide)), int(math.Ceil(p.High))}, [2]int{p.W, p.H}, what)
	worst, sum, n := 0.0, 0.0, 0
	for y := range p.H {
		for x, got := range p.Pix[y*p.Stride:][:p.W] {
			if mean, ok := want.mean(x, y, by); ok {
				d := float64(got) - mean
				worst, sum, n = math.Max(worst, math.Abs(d)), sum+d, n+1
			}
		}
	}
	require.Greater(t, n, p.W*p.H*8/10, what)
	assert.LessOrEqual(t, worst, 1.5, what)
	assert.LessOrEqual(t, math.Abs(sum/float64(n)), 0.25, what)
}

// A second outside reference: libjpeg-turbo decoding at the same fractions.
func TestAgainstLibjpeg(t *testing.T) {
	for _, by := range []int{2, 4, 8} {
		pgm := fixture(t, fmt.Sprintf("420-%d.pgm", by))
		var w, h, top int
		_, err := fmt.Sscanf(string(pgm), "P5\n%d %d\n%d\n", &w, &h, &top)
		require.NoError(t, err)
		want := pgm[len(pgm)-w*h:]
		planes, ok := scaledjpeg.Decode(fixture(t, "420.jpg"), by)
		require.True(t, ok)
		p := planes[0]
		require.Equal(t, [2]int{w, h}, [2]int{p.W, p.H})
		worst := 0
		for i, v := range want {
			worst = max(worst, abs(int(v)-int(p.Pix[i/w*p.Stride+i%w])))
		}
		assert.LessOrEqual(t, worst, 1, "1/%d", by)
	}
}

func abs(v int) int { return max(v, -v) }

func TestLeftToACompleteDecoder(t *testing.T) {
	for _, name := range left {
		_, ok := scaledjpeg.Decode(fixture(t, name), 2)
		assert.False(t, ok, name)
	}
	for _, data := range [][]byte{nil, {0xff}, {0xff, 0xd8}, []byte("\xff\xd8\xff\xd9"), []byte("not a picture")} {
		_, ok := scaledjpeg.Decode(data, 2)
		assert.False(t, ok, "%q", data)
	}
}

// A picture cut short anywhere is left to the complete decoder, which refuses it.
func TestCutShort(t *testing.T) {
	for _, name := range read {
		data := fixture(t, name)
		for n := 0; n < len(data); n += 1 + n/100 {
			_, ok := scaledjpeg.Decode(data[:n:n], 2)
			require.False(t, ok, "%s, %d of %d bytes", name, n, len(data))
		}
		_, ok := scaledjpeg.Decode(data[:len(data)-1], 2)
		require.False(t, ok, name)
	}
}

// Segments that do not hold what the standard has there (T.81 B.2) are left to the complete
// decoder, which refuses them.
func TestHeadersOutOfOrder(t *testing.T) {
	data := fixture(t, "restart.jpg")
	segment := func(mark byte) int { return bytes.Index(data, []byte{0xff, mark}) }
	const dri, sos = 0xdd, 0xda
	for name, spoil := range map[string]func(d []byte) []byte{
		"another beginning":  func(d []byte) []byte { d[0] = 0; return d },
		"no start of image":  func(d []byte) []byte { d[1] = 0xd9; return d },
		"a long interval":    func(d []byte) []byte { return append([]byte{0xff, 0xd8, 0xff, dri, 0, 6, 0, 0, 0, 0}, d[2:]...) },
		"a short interval":   func(d []byte) []byte { return append([]byte{0xff, 0xd8, 0xff, dri, 0, 3, 0}, d[2:]...) },
		"a segment of one":   func(d []byte) []byte { return append([]byte{0xff, 0xd8, 0xff, 0xfe, 0, 1}, d[2:]...) },
		"too few parts":      func(d []byte) []byte { d[segment(sos)+4] = 2; return d },
		"too many parts":     func(d []byte) []byte { d[segment(sos)+4] = 4; return d },
		"a part of no frame": func(d []byte) []byte { d[segment(sos)+5] ^= 0x40; return d },
		"a fifth table":      func(d []byte) []byte { d[segment(sos)+6] = 0x40; return d },
		"another fifth":      func(d []byte) []byte { d[segment(sos)+6] = 0x04; return d },
		"a scan cut short": func(d []byte) []byte {
			at := segment(sos)
			d[at+3] -= 2
			return append(d[:at+11], d[at+13:]...)
		},
	} {
		spoilt := spoil(bytes.Clone(data))
		_, ok := scaledjpeg.Decode(spoilt, 2)
		assert.False(t, ok, name)
		_, err := jpeg.Decode(bytes.NewReader(spoilt))
		assert.Error(t, err, name)
	}
	half := bytes.Clone(data)
	half[segment(sos)+12] = 31 // of the spectrum, which a baseline scan has whole (B.2.3)
	_, ok := scaledjpeg.Decode(half, 2)
	assert.False(t, ok)
	_, ok = scaledjpeg.Decode(data, 2)
	assert.True(t, ok)
}

// Pure waves, one for each pair of frequencies of a block, come out as the means of the
// inverse cosine transform (T.81 A.3.3) by its formula.
func TestPureWaves(t *testing.T) {
	wave := func(u, x int) float64 { return math.Cos(float64(2*x+1) * float64(u) * math.Pi / 16) }
	for v := range 8 {
		for u := range 8 {
			pic := image.NewGray(image.Rect(0, 0, 16, 16))
			for y := range 16 {
				for x := range 16 {
					pic.Pix[y*pic.Stride+x] = uint8(math.Round(128 + 90*wave(u, x%8)*wave(v, y%8)))
				}
			}
			var file bytes.Buffer
			require.NoError(t, jpeg.Encode(&file, pic, &jpeg.Options{Quality: 100}))
			for _, by := range []int{2, 4, 8} {
				planes, ok := scaledjpeg.Decode(file.Bytes(), by)
				require.True(t, ok)
				p := planes[0]
				for y := range 16 / by {
					for x := range 16 / by {
						want := 0.0
						for k := range by * by {
							want += wave(u, (x*by+k%by)%8) * wave(v, (y*by+k/by)%8) / float64(by*by)
						}
						assert.InDelta(t, 128+90*want, float64(p.Pix[y*p.Stride+x]), 1.6, "frequencies %d, %d, 1/%d", u, v, by)
					}
				}
			}
		}
	}
}

// Damage that image/jpeg sees is never passed over here.
func TestDamage(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 9))
	passed := 0
	for range 4000 {
		data := bytes.Clone(fixture(t, read[rng.IntN(len(read))]))
		for range 1 + rng.IntN(3) {
			data[rng.IntN(len(data))] = byte(rng.IntN(256))
		}
		if checkAccepted(t, data, 2) {
			passed++
		}
	}
	assert.Greater(t, passed, 100) // some damage nobody can see
}

// checkAccepted tells whether a picture is read, and if so wants image/jpeg to
// read it as well, to the same size.
func checkAccepted(t *testing.T, data []byte, by int) bool {
	planes, ok := scaledjpeg.Decode(data, by)
	if !ok {
		return false
	}
	img, err := jpeg.Decode(bytes.NewReader(data))
	require.NoError(t, err, "image/jpeg refuses what was read here")
	for _, p := range planes {
		require.LessOrEqual(t, (p.H-1)*p.Stride+p.W, len(p.Pix))
	}
	require.Equal(t, float64(img.Bounds().Dx())/float64(by), planes[0].Wide)
	require.Equal(t, float64(img.Bounds().Dy())/float64(by), planes[0].High)
	return true
}

func FuzzDecode(f *testing.F) {
	for _, name := range append(read, left...) {
		f.Add(fixture(f, name))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		cfg, err := jpeg.DecodeConfig(bytes.NewReader(data))
		if err != nil || cfg.Width*cfg.Height > 1_000_000 {
			return // the size is the caller's to check
		}
		for _, by := range []int{2, 4, 8} {
			checkAccepted(t, data, by)
		}
	})
}
