package layers

import "math"

// scene is a made-up jar whose boundaries are known exactly. Heights are mm.
type scene struct {
	elapsed float64
	water   [3]float64 // colour of the water or mud above the deposit
	layers  []stratum  // from the floor up
	// bow is that of the glass at the floor; it falls to nothing at the water.
	bow float64
	// clear makes the surface of the deposit visible through the water.
	clear bool
	tape  bool // a strip of tape with marks
	// glare is a highlight down to a ragged end.
	glare bool
	// horizon is a reflected line, 0 for none; haze the top of the mud.
	horizon, haze float64
	floating      float64 // thickness of debris at the surface
	tilt          float64 // mm from edge to edge
	seed          uint32
}

type stratum struct {
	top   float64
	lab   [3]float64
	grain float64
}

const sceneWater = 120.0

// Colours of a brown soil, washed sand lightest, clay darkest and reddest.
var (
	mud      = [3]float64{36, 10, 15}
	backdrop = [3]float64{75, -4, 2}
	sandLab  = [3]float64{48, 5, 18}
	siltLab  = [3]float64{34, 8, 15}
	clayLab  = [3]float64{29, 11, 12}
)

// strip draws the scene: every pixel is the mean over its height, so that
// boundaries lie between rows wherever they are put.
func (s scene) strip() Strip {
	const w, h = 96, 860
	out := Strip{W: w, H: h, USpan: 0.9, Lab: make([]float32, 3*w*h),
		TopMM: 1.12 * sceneWater, BottomMM: -0.08 * sceneWater, Water: Depth{MM: sceneWater},
		ElapsedS: s.elapsed, FrameSDMM: 0.1, BowFloorMM: s.bow, BowWaterMM: 0}
	if s.bow != 0 {
		out.BowWaterMM = 0.01
	}
	rnd := s.seed*2654435761 + 12345
	noise := func() float64 {
		sum := 0.0
		for range 4 {
			rnd = rnd*1664525 + 1013904223
			sum += float64(rnd>>8)/(1<<24) - 0.5
		}
		return sum * 1.7 // about unit variance
	}
	mm := out.mmPerRow()
	grain := make([]float64, w)
	for r := range h {
		hi := out.TopMM - float64(r)*mm
		if r%4 == 0 {
			for c := range grain {
				grain[c] = noise()
			}
		}
		for c := range w {
			lab := s.pixel(hi, hi-mm, out.uOf(c), grain[c])
			for ch := range 3 {
				lab[ch] += noise() * [3]float64{0.8, 0.3, 0.3}[ch]
				out.Lab[3*(r*w+c)+ch] = float32(lab[ch])
			}
		}
	}
	return out
}

// pixel is the colour between two heights at u.
func (s scene) pixel(hi, lo, u, grain float64) (lab [3]float64) {
	shade := 5 * u
	add := func(top, bottom float64, colour [3]float64, extra float64) {
		if part := (min(hi, top) - max(lo, bottom)) / (hi - lo); part > 0 {
			for ch := range 3 {
				lab[ch] += part * colour[ch]
			}
			lab[0] += part * extra
		}
	}
	const up, down = 1e4, -1e4
	add(up, sceneWater, backdrop, 0)
	add(0, -4, [3]float64{12, 1, 2}, 0)
	add(-4, down, [3]float64{70, 2, 8}, 0)
	top := 0.0
	lean := s.tilt * u / 2
	for i, l := range s.layers {
		lower := top + lean
		if i == 0 {
			lower = 0
		}
		add(l.top+lean, lower, l.lab, shade+l.grain*grain)
		top = l.top
	}
	top += lean
	surface := top
	if s.clear {
		surface += arcPerBow * s.bow * (1 - top/sceneWater) * math.Sqrt(1-u*u)
		add(surface, top, [3]float64{clayLab[0] + 4, clayLab[1] - 2, clayLab[2] + 1}, shade)
	}
	if s.haze > 0 {
		add(sceneWater, s.haze, backdrop, -4)
		add(s.haze, surface, s.water, shade)
	} else {
		add(sceneWater, surface, s.water, shade)
	}
	if s.horizon > 0 {
		add(s.horizon, down, [3]float64{5, 0.5, 1}, 0)
	}
	if s.glare && u > 0.3 && u < 0.45 {
		end := 50 + 8*math.Sin(40*u)
		add(up, end, [3]float64{28, -3, -4}, 0)
	}
	if s.tape && u > -0.62 && u < -0.45 {
		lab = [3]float64{72, -3, 22}
		if math.Mod(hi+1000, 20) < 1 {
			lab = [3]float64{15, 0, 0}
		}
	}
	if s.floating > 0 && lo > sceneWater-s.floating && hi < sceneWater+1 {
		lab = [3]float64{18 + 5*grain, 6, 10}
	}
	return lab
}

// settling is three photos of one made-up jar: sand, silt and clay.
func settling(change func(*scene)) []Strip {
	photos := []scene{
		{elapsed: 60, water: mud, layers: []stratum{{14.15, sandLab, 2}}},
		{elapsed: 7200, water: mud, layers: []stratum{{14.15, sandLab, 2}, {27.3, siltLab, 0}}},
		{elapsed: 172800, water: mud, layers: []stratum{{14.15, sandLab, 2}, {26.7, siltLab, 0}, {38.3, clayLab, 0}}},
	}
	var out []Strip
	for i := range photos {
		photos[i].seed = uint32(i + 1)
		if change != nil {
			change(&photos[i])
		}
		out = append(out, photos[i].strip())
	}
	return out
}
