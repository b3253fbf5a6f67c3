package column

import "math"

// Effect is something real jars do that the soils of Random leave out.
type Effect string

// The effects a soil can be given. Sizes are on the strong side of what is
// usual: common practice where no source is named.
const (
	Plain      Effect = "plain"
	Aggregates Effect = "aggregates"     // 30 % of the clay and 15 % of the silt in crumbs that shaking did not part
	Gravel     Effect = "gravel"         // 8 % of what lies in the jar is coarser than 2 mm
	Organic    Effect = "organic matter" // 5 % of the soil's mass, sunken
	Dispersed  Effect = "dispersed clay" // hardly any of the clay clumps
	DenseClay  Effect = "dense clay bed" // 700 kg/m3: an older bed (Lane & Koelzer 1943, drawn down)
	LooseClay  Effect = "loose clay bed" // 250 kg/m3: a fresh bed of flocs
	Squeezed   Effect = "squeezed"       // clay gains 60 % of its weight in a day
)

// Effects lists all but Plain.
var Effects = []Effect{Aggregates, Gravel, Organic, Dispersed, DenseClay, LooseClay, Squeezed}

// flocParts are the last parts of a soil of Random.
const flocParts = 6

// Undergo gives a soil of Random the effect. Mix must be asked before: what an
// analysis of the fine earth finds does not change, only how it settles.
func (s *Soil) Undergo(e Effect) {
	mix := s.Mix()
	clay, silt := mix[2]/100, mix[1]/100
	switch e {
	case Aggregates:
		s.scale(0.7, func(p Component) bool { return p.Kind == 2 })
		s.scale(0.85, func(p Component) bool { return p.Kind == 1 })
		s.Parts = append(s.Parts, lognormal(8, 50, 20, 2, 6, 1, 0.3*clay)...)
		s.Parts = append(s.Parts, lognormal(50, 250, 90, 1.8, 6, 0, 0.15*silt)...)
	case Gravel:
		s.scale(0.92, func(Component) bool { return true })
		s.Parts = append(s.Parts, lognormal(2000, 6000, 3000, 1.5, 2, 0, 0.08)...)
	case Organic:
		// Its grains are half as heavy as quartz and lie as loosely as flocs: 300 kg/m3.
		const share = 0.05
		s.scale(1-share, func(Component) bool { return true })
		s.Parts = append(s.Parts, lognormal(4, 60, 20, 2.5, 8, 2, share*s.Weights[2]/300)...)
	case Dispersed:
		first, flocs := len(s.Parts)-flocParts, 0.0
		for _, p := range s.Parts[first:] {
			flocs += p.Share
		}
		if flocs > 0.05*clay {
			loose := clay - flocs
			for i := range s.Parts {
				switch {
				case i >= first:
					s.Parts[i].Share *= 0.05 * clay / flocs
				case s.Parts[i].Kind == 2:
					s.Parts[i].Share *= 0.95 * clay / loose
				}
			}
		}
	case DenseClay:
		s.Weights[2] = 700
	case LooseClay:
		s.Weights[2] = 250
		// less soil where its bed would not fit under the water
		bed := s.SolidsGL * (mix[0]/s.Weights[0] + silt*100/s.Weights[1] + mix[2]/250) / 100
		s.SolidsGL *= math.Min(1, 0.55/bed)
	case Squeezed:
		s.Squeeze, s.SqueezeS = 0.6, 40000
	}
}

func (s *Soil) scale(by float64, which func(Component) bool) {
	for i := range s.Parts {
		if which(s.Parts[i]) {
			s.Parts[i].Share *= by
		}
	}
}
