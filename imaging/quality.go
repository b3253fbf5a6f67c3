package imaging

import (
	"image"

	"mudline/imaging/colour"
	"mudline/internal/words"
)

// Quality says how far a picture can be trusted.
type Quality struct {
	// Sharpness is the reciprocal of the picture's edge width in working
	// pixels (see Assess): 0.12 to 0.25 in focus, 0 when no edge was found.
	Sharpness float64 `json:"sharpness"`
	// Brightness is the median L* of the picture, 0..100, and Lights the L*
	// that one pixel in twenty exceeds.
	Brightness float64 `json:"brightness"`
	Lights     float64 `json:"lights"`
	// BlownOut and Black are the shares of pixels at the top and bottom of the
	// scale, 0..1.
	BlownOut float64 `json:"blown_out"`
	Black    float64 `json:"black"`
}

// The bounds of Quality. They were chosen on rendered jars blurred, darkened,
// made noisy and encoded again: as rendered the sharpness was 0.126 and more;
// behind a Gaussian blur of standard deviation 4, 6, 8 and 12 working pixels it
// was 0.08-0.11, 0.06-0.075, 0.045-0.063 and 0.03-0.06. Lights were 59 and more
// as rendered, 24-38 with all values at four tenths, 10-18 at two tenths, where
// layers are one or two steps of the 8-bit scale apart.
const (
	refuseSharpness = 0.065
	doubtSharpness  = 0.10
	refuseLights    = 20
	doubtLights     = 40
	doubtBlownOut   = 0.20
)

// Refuse says why nothing could be read from the picture at all; nil when
// something can.
func (q Quality) Refuse() *Refusal {
	switch {
	case q.Lights < refuseLights:
		return refuse(CodeTooDark, words.Say("photo.too-dark", words.Whole("lightness", q.Lights), words.Whole("least", refuseLights)), words.Say("do.more-light"))
	case q.Sharpness == 0:
		return refuse(CodeOutOfFocus, words.Say("photo.no-edge"), words.Say("do.focus"))
	case q.Sharpness < refuseSharpness:
		return refuse(CodeOutOfFocus, words.Say("photo.out-of-focus", words.Whole("width", 1/q.Sharpness), words.Whole("most", 1/refuseSharpness)), words.Say("do.focus"))
	}
	return nil
}

// Codes of a Doubt.
const (
	DoubtDim      = "dim"
	DoubtSoft     = "soft"
	DoubtBlownOut = "blown_out"
)

// Doubt is a fault of a picture that can still be read.
type Doubt struct {
	// Code is one of the Doubt constants.
	Code string
	Text words.Message
}

// Doubts lists what makes the picture less certain to read.
func (q Quality) Doubts() []Doubt {
	var d []Doubt
	if q.Lights < doubtLights {
		d = append(d, Doubt{DoubtDim, words.Say("photo.dim")})
	}
	if q.Sharpness < doubtSharpness {
		d = append(d, Doubt{DoubtSoft, words.Say("photo.soft")})
	}
	if q.BlownOut > doubtBlownOut {
		d = append(d, Doubt{DoubtBlownOut, words.Say("photo.blown-out")})
	}
	return d
}

// Assess measures a picture at working size, or a part of one (SubImage).
//
// Sharpness comes from the width of edges, which neither exposure nor contrast
// changes: an edge of height D whose steepest step is S per pixel is D/S wide,
// sqrt(2 pi) times the standard deviation of the blur when that is Gaussian.
// Edges are sought along lines across and up the picture, each line the mean of
// a band of rows or columns and then smoothed, so that noise makes no edge. The
// picture's edge width is the lower quartile of the widths, weighted by edge
// height, in the sharper of the two directions.
func Assess(pic *image.RGBA) Quality {
	m := halfLuma(pic)
	h := m.histogram()
	q := h.exposure()
	// The lowest edge worth measuring: well above noise, and a fair share of
	// the contrast there is.
	least := max(0.08*float32(h.level(0.99)-h.level(0.01)), 3)
	q.Sharpness = max(sharpness(m.across(), least), sharpness(m.down(), least))
	return q
}

// histogram counts the pixels at each luma.
type histogram [256]int

func (m lumaMap) histogram() (h histogram) {
	var odd histogram // alike neighbours would wait for each other
	for i := 0; i+1 < len(m.pix); i += 2 {
		h[m.pix[i]]++
		odd[m.pix[i+1]]++
	}
	if n := len(m.pix); n%2 == 1 {
		h[m.pix[n-1]]++
	}
	for v, n := range odd {
		h[v] += n
	}
	return h
}

func (h *histogram) total() (n int) {
	for _, c := range h {
		n += c
	}
	return n
}

// level gives the lowest luma that a share of the pixels does not exceed.
func (h *histogram) level(share float64) int {
	want, sum := share*float64(h.total()), 0
	for v, c := range h {
		sum += c
		if float64(sum) >= want {
			return v
		}
	}
	return len(h) - 1
}

func (h *histogram) exposure() (q Quality) {
	lightness := func(v int) float64 {
		l, _, _ := colour.Lab(float32(v), float32(v), float32(v))
		return float64(l)
	}
	q.Brightness, q.Lights = lightness(h.level(0.5)), lightness(h.level(0.95))
	const top, bottom = 250, 5
	n := float64(max(h.total(), 1))
	for v, c := range h {
		switch {
		case v >= top:
			q.BlownOut += float64(c) / n
		case v <= bottom:
			q.Black += float64(c) / n
		}
	}
	return q
}
