package jar

import (
	"mudline/imaging/appearance"
	"mudline/imaging/colour"
	"mudline/imaging/colourname"
	"mudline/imaging/sheetmark"
	"mudline/internal/reading"
	"mudline/internal/words"
	"mudline/layers"
)

// coloursOf are the colours of the layers as the last photo shows them. Where
// two layers are not told apart, each has the colour of the end it would hold.
func coloursOf(last *shot, depthMM float64) *reading.Colours {
	top := last.layers.DepositTop
	if top == nil || top.HeightMM <= 0 || last.photo.Picture == nil {
		return nil
	}
	at := func(from, to float64) *soilColour {
		return last.frontColour((from+0.15*(to-from))/depthMM, (to-0.15*(to-from))/depthMM)
	}
	sand, silt := layerEnds(last.layers, top.HeightMM)
	low, mid, high := at(0, sand[1]), at(sand[1], silt[0]), at(silt[1], top.HeightMM)
	water := at(top.HeightMM+0.25*(depthMM-top.HeightMM), top.HeightMM+0.75*(depthMM-top.HeightMM))
	return &reading.Colours{From: last.lightFrom(), Sand: low.hex(), Silt: mid.hex(), Clay: high.hex(), Water: water.hex(), Wet: last.wet(low, mid, high)}
}

// wet names the colours of the layers, where the sheet tells the light; nil else.
func (s *shot) wet(sand, silt, clay *soilColour) *reading.WetColours {
	if s.lightFrom() == "" || s.back.white.Guessed || sand == nil || silt == nil || clay == nil || sand.blown || silt.blown || clay.blown {
		return nil
	}
	named := func(c *soilColour) (reading.WetColour, words.Message) {
		lab := c.lab()
		name := colourname.Of(lab)
		return reading.WetColour{Lab: lab, Name: name.String()},
			words.Say("colour.with-lab", words.Told("name", name), words.Whole("l", lab[0]), words.Whole("a", lab[1]), words.Whole("b", lab[2]))
	}
	w := &reading.WetColours{}
	var low, mid, high words.Message
	w.Sand, low = named(sand)
	w.Silt, mid = named(silt)
	w.Clay, high = named(clay)
	said := words.Say("colour.wet", words.Told("low", low), words.Told("mid", mid), words.Told("high", high))
	w.Text, w.Said = said.String(), said.Ptr()
	return w
}

// lightFrom is "sheet" where the colours are those under white light, by the sheet.
func (s *framed) lightFrom() string {
	if s.back != nil && s.back.white != nil {
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

// soilColour is the linear light of a part of the jar's front, under a white lamp where
// the sheet tells the light; blown says that the photo is blown out there.
type soilColour struct {
	light [3]float64
	blown bool
}

func (c *soilColour) hex() string {
	if c == nil {
		return ""
	}
	return colour.Hex(c.light)
}

func (c *soilColour) lab() [3]float64 {
	l, a, b := colour.LabOfLight(float32(c.light[0]), float32(c.light[1]), float32(c.light[2]))
	return [3]float64{float64(l), float64(a), float64(b)}
}

// frontColour is the colour of the front of the glass between two heights in shares of
// the depth, nil where that is off the photo.
func (s *framed) frontColour(from, to float64) *soilColour {
	if s.lightFrom() == "" {
		if light, ok := appearance.Middle(s.photo.Picture, s.frame, from, to); ok {
			return &soilColour{light: light}
		}
		return nil
	}
	facing := s.back.Stand.Facing(sheetmark.Point(s.frame.At(0, 0)))
	light, blown, ok := appearance.Front(s.photo.Picture, s.frame, from, to, facing)
	if !ok {
		return nil
	}
	return &soilColour{s.back.white.Of(light), blown}
}

// Where the lowest soil is seen, above the floor in outer radii of the glass: lower than
// the thinnest deposit, which a minute leaves.
const lowestFrom, lowestTo = 0.04, 0.09

// soilLab is the colour, as CIELAB, of the lowest soil, which lies there from the first
// minute on; nil where it or the light is not seen.
func (s *framed) soilLab() *[3]float64 {
	if s.lightFrom() == "" || s.photo.Picture == nil || s.place.Ratio == 0 {
		return nil
	}
	c := s.frontColour(lowestFrom/s.place.Ratio, lowestTo/s.place.Ratio)
	if c == nil || c.blown {
		return nil
	}
	l := c.lab()
	return &l
}
