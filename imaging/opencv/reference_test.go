//go:build opencv

package opencv_test

import (
	"image"
	"math"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gocv.io/x/gocv"

	"mudline/imaging"
	"mudline/imaging/colour"
	"mudline/imaging/enginetest"
	"mudline/imaging/opencv"
	"mudline/internal/jartest"
	"mudline/internal/testkit"
)

// OpenCV as the outside reference for our own CIELAB: cv::cvtColor in floating
// point, COLOR_RGB2Lab, which takes sRGB.
func TestLabAgainstOpenCV(t *testing.T) {
	var colours [][3]float32
	for r := float32(0); r <= 255; r += 15 {
		for g := float32(0); g <= 255; g += 15 {
			for b := float32(0); b <= 255; b += 15 {
				colours = append(colours, [3]float32{r, g, b})
			}
		}
	}
	rgb := gocv.NewMatWithSize(1, len(colours), gocv.MatTypeCV32FC3)
	defer rgb.Close()
	lab := gocv.NewMat()
	defer lab.Close()
	in, err := rgb.DataPtrFloat32()
	require.NoError(t, err)
	for i, c := range colours {
		for k, v := range c {
			in[3*i+k] = v / 255
		}
	}
	gocv.CvtColor(rgb, &lab, gocv.ColorRGBToLab)
	out, err := lab.DataPtrFloat32()
	require.NoError(t, err)
	require.Len(t, out, 3*len(colours))
	worst := 0.0
	for i, c := range colours {
		l, a, b := colour.Lab(c[0], c[1], c[2])
		for k, v := range []float32{l, a, b} {
			worst = math.Max(worst, math.Abs(float64(v-out[3*i+k])))
		}
	}
	t.Logf("worst difference in L*, a* or b* over %d colours: %.3f", len(colours), worst)
	// cv::cvtColor interpolates in a coarse table of colours on this path;
	// TestLabDefinition holds ours to 0.06 of the standards' definition.
	assert.LessOrEqual(t, worst, 0.5)
}

// The warp against cv::remap, on rendered jars at their true frames: both
// engines cut the same strip from the same picture.
func TestCutStripAgainstOpenCV(t *testing.T) {
	eachJar(t, func(name string, data []byte, f imaging.Frame) {
		p, err := imaging.Open(imaging.PureGo{}, name, data)
		require.NoError(t, err)
		f = f.Scaled(1 / p.Scale)
		ours := imaging.CutStrip(p.Picture, f, 1.1, -0.1)
		theirs := opencv.Remapped(p.Picture, f, 1.1, -0.1)
		require.NotNil(t, theirs, name)
		rms := stripDifference(t, ours, theirs)
		t.Logf("%s: %.3f", name, rms)
		// 1/32 pixel in the place and half a level in the colour.
		assert.LessOrEqual(t, rms, 0.3, name)
	})
}

// Decoding at a fraction of the size and averaging against cv::imdecode at the
// same fraction and cv::resize with INTER_AREA. Where the last column or row of
// the reduced picture stands for a part of one only, which cv::resize does not
// know of, against pure Go.
func TestDecodeAgainstOpenCV(t *testing.T) {
	for _, c := range []struct {
		w, h, side int
		flag       gocv.IMReadFlag
	}{
		{480, 640, 500, gocv.IMReadColor},
		{480, 640, 256, gocv.IMReadReducedColor2},
		{641, 503, 300, pureGo},
		{640, 480, 100, gocv.IMReadReducedColor4},
		{800, 600, 75, gocv.IMReadReducedColor8},
	} {
		data, info := testkit.Coded(t, coloured(c.w, c.h, c.flag != pureGo), 90)
		got, _, err := opencv.Engine{}.Decode(data, info, c.side)
		require.NoError(t, err)
		want, _, err := imaging.PureGo{}.Decode(data, info, c.side)
		require.NoError(t, err)
		if c.flag != pureGo {
			want = resized(t, data, c.flag, got.Rect.Size())
		}
		sum, worst := 0.0, 0.0
		for i := range want.Pix {
			d := float64(got.Pix[i]) - float64(want.Pix[i])
			sum, worst = sum+d*d, math.Max(worst, math.Abs(d))
		}
		rms := math.Sqrt(sum / float64(len(want.Pix)))
		t.Logf("%d x %d to %d: rms %.3f, worst %.0f", c.w, c.h, c.side, rms, worst)
		assert.LessOrEqual(t, rms, 0.3, "%d x %d to %d", c.w, c.h, c.side)
		assert.LessOrEqual(t, worst, 1.0, "%d x %d to %d", c.w, c.h, c.side)
	}
}

const pureGo gocv.IMReadFlag = -2

// coloured is a picture whose red, green and blue vary each in its own way, or
// a grey one: pure Go averages before it turns Y, Cb and Cr to colours, which
// differs where they are strong.
func coloured(w, h int, strong bool) *image.RGBA {
	pic := image.NewRGBA(image.Rect(0, 0, w, h))
	for k := range 3 {
		seed := uint64(1)
		if strong {
			seed += uint64(k)
		}
		for i, v := range enginetest.Texture(w, h, seed).Pix {
			pic.Pix[4*i+k], pic.Pix[4*i+3] = v, 255
		}
	}
	return pic
}

func resized(t *testing.T, data []byte, flag gocv.IMReadFlag, size image.Point) *image.RGBA {
	coded, err := gocv.IMDecode(data, flag)
	require.NoError(t, err)
	defer coded.Close()
	small, rgba := gocv.NewMat(), gocv.NewMat()
	defer small.Close()
	defer rgba.Close()
	gocv.Resize(coded, &small, size, 0, 0, gocv.InterpolationArea)
	gocv.CvtColor(small, &rgba, gocv.ColorBGRToRGBA)
	pix, err := rgba.DataPtrUint8()
	require.NoError(t, err)
	out := image.NewRGBA(image.Rectangle{Max: size})
	require.Equal(t, len(out.Pix), copy(out.Pix, pix))
	return out
}

// From file to strip each engine goes its own way: decoding included, the
// strips stay within one CIELAB unit, root mean square.
func TestEnginesAgree(t *testing.T) {
	eachJar(t, func(name string, data []byte, f imaging.Frame) {
		for _, large := range []bool{false, true} {
			k := 1.0
			if large {
				data, k = testkit.LargePhoto(t, data), 2.5
			}
			var strips []*imaging.Strip
			for _, eng := range []imaging.Engine{imaging.PureGo{}, opencv.Engine{}} {
				p, err := imaging.Open(eng, name, data)
				require.NoError(t, err)
				strips = append(strips, eng.CutStrip(p.Picture, f.Scaled(k/p.Scale), 1.1, -0.1))
			}
			rms := stripDifference(t, strips[0], strips[1])
			t.Logf("%s, 12 MP %t: %.3f", name, large, rms)
			assert.LessOrEqual(t, rms, 1.0, "%s, 12 MP %t", name, large)
		}
	})
}

// stripDifference is the root mean square of the CIELAB distance.
func stripDifference(t *testing.T, a, b *imaging.Strip) float64 {
	t.Helper()
	require.Equal(t, [2]int{a.W, a.H}, [2]int{b.W, b.H})
	sum := 0.0
	for i := range a.Lab {
		d := float64(a.Lab[i] - b.Lab[i])
		sum += d * d
	}
	return math.Sqrt(sum / float64(a.W*a.H))
}

// eachJar gives every third photo of the rendered jars with its true frame in
// full pixels.
func eachJar(t *testing.T, visit func(name string, data []byte, f imaging.Frame)) {
	t.Helper()
	truths, err := jartest.ReadTruths(filepath.Join("..", "..", "testdata", "jars"))
	require.NoError(t, err)
	require.NotEmpty(t, truths)
	for _, truth := range truths {
		photo := truth.Photos[len(truth.Photos)-1]
		data, err := os.ReadFile(filepath.Join(truth.Dir, photo.File))
		require.NoError(t, err)
		visit(photo.File, data, photo.Frame(truth.WaterHeightMM))
	}
}
