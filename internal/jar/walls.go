package jar

import (
	"math"

	"mudline/imaging"
	"mudline/imaging/jarfind"
	"mudline/internal/reading"
	"mudline/internal/record"
	"mudline/internal/words"
	"mudline/layers"
	"mudline/texture"
)

// leastTaper is the change of the jar's width between floor and water, as a
// share of it, from which the jar is not taken as straight. Straight rendered
// jars measure below 0.01.
const leastTaper = 0.04

// taperOf is how the width of the glass grows from floor to water in all
// photos together, as a share of its mean; 0 for a straight jar or one whose
// sides show too little.
func taperOf(shots []*shot) float64 {
	var seen [][]float64
	for _, s := range shots {
		seen = append(seen, s.outline.widths)
	}
	taper, ok := jarfind.Taper(seen)
	if !ok || math.Abs(taper) < leastTaper {
		return 0
	}
	return taper
}

// outline is the silhouette of the glass as measured in a frame. A line in the
// soil that is dragged leaves the frame as it is, and the outline with it.
type outline struct {
	frame  imaging.Frame
	widths []float64
	filmed bool // it was measured while the film was read
}

// outlineNow is the outline in the present frame: that measured before where it holds
// still, or where there is no picture to measure in any more.
func (s *seen) outlineNow() outline {
	before := s.outline
	if before.filmed || s.photo.Picture == nil || before.widths != nil && before.frame == s.frame {
		return before
	}
	return outline{frame: s.frame, widths: jarfind.Silhouette(s.photo.Picture, s.frame)}
}

// wallsOf is the inside of a jar that widens by taper up to the water surface.
func wallsOf(taper, depthMM float64) texture.Profile {
	if taper == 0 || depthMM == 0 {
		return nil
	}
	const sections = 9
	var p texture.Profile
	for i := range sections {
		h := float64(i) / (sections - 1)
		width := 1 + taper*(h-0.5)
		p = append(p, texture.Section{HeightMM: h * depthMM, Area: width * width})
	}
	return p
}

// volumes are the layers' shares of the deposit's volume in a jar that widens
// by taper: the squared width summed up to each line; nil where a line is
// missing.
func volumes(l layers.Reading, taper, depthMM float64) *reading.Shares {
	if l.SandTop == nil || l.SiltTop == nil || l.DepositTop == nil {
		return nil
	}
	below := func(b *layers.Boundary) float64 {
		cube := func(h float64) float64 { return math.Pow(1+taper*(h-0.5), 3) }
		return (cube(b.HeightMM/depthMM) - cube(0)) / (3 * taper)
	}
	sand, silt, all := below(l.SandTop), below(l.SiltTop), below(l.DepositTop)
	share := func(v float64) *float64 { return reading.Ptr(100 * v / all) }
	return &reading.Shares{Sand: share(sand), Silt: share(silt - sand), Clay: share(all - silt)}
}

// taperDoubt says that the jar is not straight, and what was done about it.
func taperDoubt(taper float64, rec *record.Record) []reading.Warning {
	if taper == 0 {
		return nil
	}
	grows := words.Say("jar.wider")
	if taper < 0 {
		grows = words.Say("jar.narrower")
	}
	how := []words.Arg{words.Whole("percent", 100*math.Abs(taper)), words.Told("grows", grows)}
	said, todo := words.Say("jar.not-straight", how...), words.Say("do.straight-jar")
	if rec.WaterDepthMM == 0 {
		said, todo = words.Say("jar.not-straight-unreckoned", how...), words.Say("do.state-depth-or-straight-jar")
	}
	return []reading.Warning{reading.Warn(reading.JarNotStraight, said, todo)}
}
