package appearance

import (
	"image"
	"slices"

	"mudline/imaging"
	"mudline/imaging/colour"
)

// Spans of the front, in half widths of the glass, over which colours are taken.
const (
	nearSpan, wideSpan = 0.5, 0.8
	frontEnd           = 0.9
	mostTurn           = 0.3
)

// Middle is the median of each channel over the middle of the glass, between two heights
// in shares of the depth, as linear light; ok is false where that is off the picture.
func Middle(pic *image.RGBA, frame imaging.Frame, from, to float64) (light [3]float64, ok bool) {
	v := levels(pic, frame, from, to, -nearSpan, nearSpan)
	if len(v[0]) == 0 {
		return light, false
	}
	for k := range v {
		light[k] = colour.LightOf(middleOf(v[k]))
	}
	return light, true
}

// Front is the mean light of nearly the whole front of the glass between two heights in
// shares of the depth, about where it faces as the light was measured: facing, in half
// widths to the right of the middle. From wherever a photo was taken the light there is
// the same. blown says that the photo is blown out; ok is false where that is off the
// picture.
func Front(pic *image.RGBA, frame imaging.Frame, from, to, facing float64) (light [3]float64, blown, ok bool) {
	mid := max(-mostTurn, min(facing, mostTurn))
	v := levels(pic, frame, from, to, max(mid-wideSpan, -frontEnd), min(mid+wideSpan, frontEnd))
	if len(v[0]) == 0 {
		return light, false, false
	}
	const mostLevel = 252
	for k := range v {
		blown = blown || middleOf(v[k]) > mostLevel
		for _, level := range v[k] {
			light[k] += colour.LightOf(level) / float64(len(v[k]))
		}
	}
	return light, blown, true
}

// levels are those of each channel between two heights and two places across.
func levels(pic *image.RGBA, frame imaging.Frame, from, to, left, right float64) (v [3][]uint8) {
	for h := range 9 {
		for u := left; u <= right+0.001; u += 0.05 {
			p := frame.At(u, from+(to-from)*float64(h)/8)
			at := image.Pt(int(p.X), int(p.Y))
			if !at.In(pic.Rect) {
				continue
			}
			c := pic.RGBAAt(at.X, at.Y)
			v[0], v[1], v[2] = append(v[0], c.R), append(v[1], c.G), append(v[2], c.B)
		}
	}
	return v
}

func middleOf(v []uint8) uint8 {
	slices.Sort(v)
	return v[len(v)/2]
}
