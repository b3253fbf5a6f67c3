package jar

import (
	"fmt"
	"image"
	"slices"

	"mudline/internal/reading"
	"mudline/layers"
)

// coloursOf are the colours of the layers as the last photo shows them. Where
// two layers are not told apart, each has the colour of the end it would hold.
func coloursOf(last *shot, depthMM float64) *reading.Colours {
	top := last.layers.DepositTop
	if top == nil || top.HeightMM <= 0 || last.photo.Picture == nil {
		return nil
	}
	at := func(from, to float64) string {
		return last.medianColour((from+0.15*(to-from))/depthMM, (to-0.15*(to-from))/depthMM)
	}
	sand, silt := layerEnds(last.layers, top.HeightMM)
	return &reading.Colours{From: last.lightFrom(),
		Sand: at(0, sand[1]), Silt: at(sand[1], silt[0]), Clay: at(silt[1], top.HeightMM),
		Water: at(top.HeightMM+0.25*(depthMM-top.HeightMM), top.HeightMM+0.75*(depthMM-top.HeightMM)),
	}
}

// lightFrom is "sheet" where the colours are those under white light, by the sheet.
func (s *shot) lightFrom() string {
	if s.back != nil && s.back.gain != nil {
		return "sheet"
	}
	return ""
}

// layerEnds are heights for colours alone: sand lies up to sand[1], silt from
// there to silt[0], clay from silt[1] to the top.
func layerEnds(l layers.Reading, top float64) (sand, silt [2]float64) {
	const end = 0.3 // of a layer that holds two
	low, high := end*top, (1-end)*top
	switch {
	case l.SandTop != nil && l.SiltTop != nil:
		low, high = l.SandTop.HeightMM, l.SiltTop.HeightMM
		return [2]float64{0, low}, [2]float64{high, high}
	case l.SandTop != nil:
		low = l.SandTop.HeightMM
		return [2]float64{0, low}, [2]float64{low + end*(top-low), top - end*(top-low)}
	case l.SiltTop != nil:
		high = l.SiltTop.HeightMM
		return [2]float64{0, end * high}, [2]float64{high, high}
	}
	return [2]float64{0, low}, [2]float64{high, high}
}

// medianColour is the median of each channel over the middle of the glass,
// between two heights in shares of the depth; empty where that is off the photo.
func (s *shot) medianColour(from, to float64) string {
	var v [3][]uint8
	for h := range 9 {
		for u := -0.5; u <= 0.501; u += 0.05 {
			p := s.frame.At(u, from+(to-from)*float64(h)/8)
			at := image.Pt(int(p.X), int(p.Y))
			if !at.In(s.photo.Picture.Rect) {
				continue
			}
			c := s.photo.Picture.RGBAAt(at.X, at.Y)
			v[0], v[1], v[2] = append(v[0], c.R), append(v[1], c.G), append(v[2], c.B)
		}
	}
	if len(v[0]) == 0 {
		return ""
	}
	for k := range v {
		slices.Sort(v[k])
	}
	mid := len(v[0]) / 2
	c := [3]float64{linear(v[0][mid]), linear(v[1][mid]), linear(v[2][mid])}
	if s.back != nil && s.back.gain != nil {
		for k := range c {
			c[k] *= s.back.gain[k]
		}
	}
	return hex(c)
}

// hex is linear light as "#rrggbb".
func hex(c [3]float64) string {
	var b [3]uint8
	for k, v := range c {
		b[k] = uint8(min(encoded(v), 255) + 0.5)
	}
	return fmt.Sprintf("#%02x%02x%02x", b[0], b[1], b[2])
}
