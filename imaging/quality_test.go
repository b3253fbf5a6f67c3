package imaging_test

import (
	"image"
	"image/color"
	"image/draw"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mudline/imaging"
	"mudline/internal/jartest"
	"mudline/internal/testkit"
)

var jars = []string{"open-02", "open-05", "open-11"}

// middleOf opens a rendered jar and cuts out the middle, where the jar is.
func middleOf(t *testing.T, jar string) *image.RGBA {
	t.Helper()
	p, err := imaging.Open(imaging.PureGo{}, jar, readJar(t, jar))
	require.NoError(t, err)
	middle := p.Picture.SubImage(image.Rect(250, 300, 950, 1300)).(*image.RGBA)
	out := image.NewRGBA(image.Rect(0, 0, 700, 1000))
	draw.Draw(out, out.Rect, middle, middle.Rect.Min, draw.Src)
	return out
}

// spoilt spoils a picture and takes it through JPEG again.
func spoilt(t *testing.T, pic *image.RGBA, sigma, gain, noise float64, quality int) imaging.Quality {
	t.Helper()
	if sigma > 0 {
		pic = jartest.Blurred(pic, sigma)
	}
	data, _ := testkit.Coded(t, jartest.Exposed(pic, gain, noise), quality)
	p, err := imaging.Open(imaging.PureGo{}, "", data)
	require.NoError(t, err)
	return p.Quality
}

// Rendered jars, spoilt by known amounts. The bounds in quality.go were chosen
// on other spoilt jars than these alone; what is far off must be refused and
// what is sharp or a little off must not, whatever the noise and the encoding.
func TestQualityOfSpoiltJars(t *testing.T) {
	if testing.Short() {
		t.Skip("long, and nothing runs side by side in it; the plain run has it")
	}
	for _, jar := range jars {
		pic := middleOf(t, jar)
		for _, c := range []struct {
			name               string
			sigma, gain, noise float64
			quality            int
			refused            string
			doubts             []string
		}{
			{"as rendered", 0, 1, 0, 92, "", nil},
			{"noisy", 0, 1, 15, 75, "", nil},
			{"a little blurred", 2, 1, 3, 85, "", nil},
			{"soft", 4, 1, 3, 85, "", []string{"soft"}},
			{"out of focus", 9, 1, 0, 85, imaging.CodeOutOfFocus, nil},
			{"out of focus and noisy", 12, 1, 8, 60, imaging.CodeOutOfFocus, nil},
			{"out of focus, hard compressed", 12, 1, 2, 35, imaging.CodeOutOfFocus, nil},
			{"dim", 0, 0.4, 3, 85, "", []string{"dim"}},
			{"dark", 0, 0.18, 2, 85, imaging.CodeTooDark, nil},
			{"very dark", 0, 0.04, 2, 85, imaging.CodeTooDark, nil},
		} {
			q := spoilt(t, pic, c.sigma, c.gain, c.noise, c.quality)
			r := q.Refuse()
			if c.refused != "" {
				if assert.NotNil(t, r, "%s %s: %+v", jar, c.name, q) {
					assert.Equal(t, c.refused, r.Code, "%s %s: %+v", jar, c.name, q)
					assert.NotEmpty(t, r.Remedy)
				}
				continue
			}
			assert.Nil(t, r, "%s %s: %+v", jar, c.name, q)
			for _, want := range c.doubts {
				assert.Contains(t, doubtCodes(q), want, "%s %s: %+v", jar, c.name, q)
			}
			if c.doubts == nil {
				assert.Empty(t, q.Doubts(), "%s %s: %+v", jar, c.name, q)
			}
		}
	}
}

func doubtCodes(q imaging.Quality) (codes []string) {
	for _, d := range q.Doubts() {
		codes = append(codes, d.Code)
	}
	return codes
}

// stripes is black and white bars with edges of a known Gaussian blur.
func stripes(sigma float64) *image.RGBA {
	pic := image.NewRGBA(image.Rect(0, 0, 800, 600))
	for y := range 600 {
		for x := range 800 {
			v := uint8(60)
			if x/100%2 == 0 {
				v = 180
			}
			pic.SetRGBA(x, y, color.RGBA{v, v, v, 255})
		}
	}
	return jartest.Blurred(pic, sigma)
}

// The width of a Gaussian edge, height over steepest slope, is sqrt(2 pi) times
// its standard deviation; the 2x2 means and the smoothing of the measure add
// their own variance, (2*2-1)/12 and 4 in full pixels (binomial 1 4 6 4 1 at
// half size has variance 1 there).
func TestSharpnessOfKnownBlur(t *testing.T) {
	for _, sigma := range []float64{3, 5, 8, 12} {
		want := 2.5066 * math.Sqrt(sigma*sigma+0.25+4)
		for _, gain := range []float64{1, 0.3} { // exposure changes nothing
			q := imaging.Assess(jartest.Exposed(stripes(sigma), gain, 0))
			assert.InEpsilon(t, want, 1/q.Sharpness, 0.1, "sigma %g gain %g", sigma, gain)
		}
	}
}

func TestExposure(t *testing.T) {
	pic := image.NewRGBA(image.Rect(0, 0, 400, 400))
	for y := range 400 {
		for x := range 400 {
			v := uint8(119) // L* 50.03
			switch {
			case y < 40:
				v = 255
			case y < 60:
				v = 2
			}
			pic.SetRGBA(x, y, color.RGBA{v, v, v, 255})
		}
	}
	q := imaging.Assess(pic)
	assert.InDelta(t, 50.0, q.Brightness, 0.1)
	assert.InDelta(t, 0.10, q.BlownOut, 1e-9)
	assert.InDelta(t, 0.05, q.Black, 1e-9)
	assert.InDelta(t, 100, q.Lights, 0.1)

	// A part is assessed by itself.
	q = imaging.Assess(pic.SubImage(image.Rect(0, 0, 400, 40)).(*image.RGBA))
	assert.InDelta(t, 100, q.Brightness, 0.1)
	assert.Equal(t, 1.0, q.BlownOut)
	assert.Contains(t, doubtCodes(q), "blown_out")

	// Nothing in view: no edge, no sharpness, and no division by nothing.
	q = imaging.Assess(image.NewRGBA(image.Rect(0, 0, 1, 1)))
	assert.Zero(t, q.Sharpness)
	plain := image.NewRGBA(image.Rect(0, 0, 400, 400))
	for i := range plain.Pix {
		plain.Pix[i] = 180
	}
	q = imaging.Assess(plain)
	assert.Zero(t, q.Sharpness)
	assert.Equal(t, imaging.CodeOutOfFocus, q.Refuse().Code)
}
