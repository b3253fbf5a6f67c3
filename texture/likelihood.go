package texture

import "math"

// lineKind is the kind of a measured number.
type lineKind uint8

const (
	depositTop lineKind = iota
	sandTop
	siltTop
	cloudiness
	siltUnseen // a silt top not seen where it might have been
)

// measured is one number of an observation, in straight-jar millimetres.
type measured struct {
	photo    int
	line     lineKind
	value    float64
	scale    float64 // of its own error
	time     float64
	shared   [2]loading // errors it shares with other photos
	choices  []choice   // where the line may be, instead of value and scale
	nowhere  float64    // density, per mm, of its lying where no choice is
	together int        // photos that have choices for this line
}

// predicted is what the model says of a measured number, and the standard deviation
// of that where a picture may show one of several heights as the line.
type predicted struct{ at, unsure float64 }

// logLikelihood is the log likelihood of the measured number where the model
// says pred, without constants.
func (m *measured) logLikelihood(pred predicted) float64 {
	if m.choices != nil {
		density, _, _ := m.weighChoices(pred)
		return m.temper() * math.Log(density)
	}
	scale := math.Hypot(m.scale, pred.unsure)
	r := (m.value - pred.at) / scale
	return -(tail+1)/2*math.Log1p(r*r/tail) - math.Log(scale/m.scale)
}

// misfit is how far the measured number lies from pred, and the information it
// gives per squared unit: that of a normal error near the model, less far from it.
func (m *measured) misfit(pred predicted) (miss, info float64) {
	if m.choices != nil {
		_, pull, info := m.weighChoices(pred)
		if info < 1e-9 {
			return 0, 0
		}
		return pull / info, m.temper() * info
	}
	miss = m.value - pred.at
	scale2 := m.scale*m.scale + pred.unsure*pred.unsure
	return miss, (tail + 1) / (tail + miss*miss/scale2) / scale2
}

// problem is a reading ready for the sampler.
type problem struct {
	prior     prior
	cond      conditions
	data      []measured
	times     []float64 // of the photos, s
	last      float64
	siltLimit float64
	effort    effort
	// scaleMM is how deep the jar is drawn, which its lines are measured in: as deep as
	// it is, where that is known.
	scaleMM    float64
	depthKnown bool
	missed     float64 // chance that a boundary between thick layers is not seen
	shading    *shading
	jar        jar
	heights    []heights
	asked      [][siltUnseen + 1]bool // the kinds of lines measured, by photo
	pred, base []predicted
	slope      []unknowns // derivatives of pred
}

// tail is the number of degrees of freedom of the error law: a Student law, so
// that one line set wrong bends the reading only so far.
const tail = 2.5

// model error of each line, mm and share of the height: what a one-dimensional
// column cannot know of a jar (curved floor, uneven surface, mixing).
var modelError = [...]struct{ mm, share float64 }{
	depositTop: {0.4, 0.012},
	sandTop:    {0.6, 0.012},
	siltTop:    {0.7, 0.02},
}

const cloudError = 0.15

// predict fills pr.pred with the model's value of each measured number.
func (pr *problem) predict(z *unknowns) {
	pr.prior.apply(z, &pr.cond, &pr.jar)
	pr.jar.Settle(pr.last + 4*pr.cond.timeSDS + 1)
	pr.read(z)
}

// read measures the settled jar: all that the unknowns of looking change.
func (pr *problem) read(z *unknowns) {
	pr.prior.look(z, &pr.jar)
	shift := pr.cond.timeSDS * clamp(z[uTime], -4, 4)
	for i, t := range pr.times {
		pr.heights[i] = pr.jar.lines(math.Max(t+shift, 1), pr.asked[i][sandTop], pr.asked[i][siltTop])
	}
	factor := pr.drawn()
	for i := range pr.data {
		m := &pr.data[i]
		h := &pr.heights[m.photo]
		switch m.line {
		case depositTop:
			pr.pred[i] = predicted{at: h.DepositTopMM * factor}
		case sandTop:
			pr.pred[i] = predicted{h.SandTopMM * factor, h.SandSDMM * factor}
		case siltTop:
			pr.pred[i] = predicted{h.SiltTopMM * factor, h.SiltSDMM * factor}
		case siltUnseen:
			pr.pred[i] = predicted{at: pr.unseen(h)}
		case cloudiness:
			pr.pred[i] = predicted{at: 1 - math.Exp(-pr.prior.extinction.at(z[uClarity])*h.SuspendedGL)}
		}
		for _, l := range m.shared {
			pr.pred[i].at += l.sd * z[l.unknown]
		}
	}
}

// drawn is what turns heights in the jar, at the depth that is being tried, into those
// that are measured.
func (pr *problem) drawn() float64 {
	if pr.depthKnown {
		return 1
	}
	return pr.scaleMM / pr.jar.DepthMM
}

// logPosterior is the log of prior times likelihood, without constants.
func (pr *problem) logPosterior(z *unknowns) float64 {
	pr.predict(z)
	sum := 0.0
	for i := range pr.data {
		sum += pr.data[i].logLikelihood(pr.pred[i])
	}
	for _, v := range z {
		sum -= v * v / 2
	}
	return sum
}

// unseen is the square root of twice the log odds against a boundary between
// silt and clay not being seen in a photo that shows the rest: thick layers on
// both sides are missed now and then, thin ones nearly always. Taken as a
// measured zero it keeps a soil without a silt layer from being read as one with
// a thick layer nobody saw.
func (pr *problem) unseen(h *heights) float64 {
	thin := math.Max(math.Min(h.SiltTopMM-h.SandTopMM, h.DepositTopMM-h.SiltTopMM), 0)
	return math.Sqrt(-2 * math.Log1p(-(1-pr.missed)*(1-math.Exp(-thin/readableMM))))
}

// The chance to miss a boundary between thick layers, in any photo and in a
// clear view, and the thickness at which layers begin to be seen: guesses, on
// the mild side.
const (
	missedThick = 0.35
	missedClear = 0.1
	readableMM  = 3.0
)
