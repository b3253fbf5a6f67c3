package desk

import (
	"math"

	"mudline/imaging"
	"mudline/internal/jar"
	"mudline/internal/reading"
	"mudline/layers"
)

// PhotoLines are the lines of one photo, in pixels of the upright full-size
// photo.
type PhotoLines struct {
	File string `json:"file"`
	// Lines from the floor up.
	Lines []Line `json:"lines"`
	// Left and Right are the edges of the glass, from below the floor to above
	// the water.
	Left  [2]reading.PointPx `json:"left"`
	Right [2]reading.PointPx `json:"right"`
	// ElapsedS is the time since shaking; absent where none is known.
	ElapsedS float64 `json:"elapsed_s,omitempty"`
	// Guessed says that no jar was seen in the photo: the lines are a place to begin
	// from.
	Guessed bool `json:"guessed,omitempty"`
}

// Line is a circle round the glass as the photo shows it: Points are its front, which
// counts, Back is its far side, both from left to right.
type Line struct {
	Name   layers.Line       `json:"name"`
	Points []reading.PointPx `json:"points"`
	Back   []reading.PointPx `json:"back"`
	// Row is where it crosses the middle of the front, LowPx and HighPx the rows
	// two standard deviations below and above.
	Row    float64 `json:"row"`
	LowPx  float64 `json:"low"`
	HighPx float64 `json:"high"`
	// Percent is its height above the floor in percent of the water depth.
	Percent float64 `json:"percent"`
	Stated  bool    `json:"stated,omitempty"`
	// Unsure says that the line is worth a look.
	Unsure bool `json:"unsure,omitempty"`
}

// unsureShare is the standard deviation, in shares of the water depth, from
// which a line is worth a look.
const unsureShare = 0.012

func lines(res *jar.Result) []PhotoLines {
	out := make([]PhotoLines, 0, len(res.Scenes))
	for i, s := range res.Scenes {
		f, p := s.Frame.Scaled(s.Scale), res.Reading.Photos[i]
		one := within(s.File, f, p.ElapsedS)
		one.add(f, layers.Floor, 0, 0, p.States(layers.Floor))
		for _, top := range layers.Tops {
			if h := p.HeightsPercent.Of(top); h != nil {
				one.add(f, top, h.Value/100, h.SD/100, p.States(top))
			}
		}
		one.add(f, layers.Water, f.HeightOfRow(*p.RowsPx.Meniscus), 0, p.States(layers.Water))
		out = append(out, one)
	}
	return out
}

// within is a photo with the edges of its jar, and no line yet.
func within(file string, f imaging.Frame, elapsedS float64) PhotoLines {
	return PhotoLines{File: file, Left: edge(f, -1), Right: edge(f, 1), ElapsedS: elapsedS}
}

// add adds a line at a height with its standard deviation, in shares of the depth.
func (p *PhotoLines) add(f imaging.Frame, name layers.Line, share, sd float64, stated bool) {
	behind := f
	behind.BowFloor, behind.BowWater = -f.BowFloor, -f.BowWater
	end, behindEnd := f.At(1, share), behind.At(1, share)
	meet := imaging.Point{X: end.X - behindEnd.X, Y: end.Y - behindEnd.Y}
	l := Line{Name: name, Points: circle(f, share, imaging.Point{}), Back: circle(behind, share, meet), Row: tenth(f.At(0, share).Y),
		LowPx: tenth(f.At(0, share-2*sd).Y), HighPx: tenth(f.At(0, share+2*sd).Y), Percent: tenth(100 * share), Stated: stated}
	l.Unsure = !l.Stated && sd > unsureShare
	p.Lines = append(p.Lines, l)
}

func tenth(v float64) float64 { return math.Round(v*10) / 10 }

func at(f imaging.Frame, u, share float64, shift imaging.Point) reading.PointPx {
	p := f.At(u, share)
	return reading.PointPx{tenth(p.X + shift.X), tenth(p.Y + shift.Y)}
}

func edge(f imaging.Frame, u float64) [2]reading.PointPx {
	return [2]reading.PointPx{at(f, u, -0.02, imaging.Point{}), at(f, u, 1.06, imaging.Point{})}
}

// circle is drawn by even steps of the angle round the jar, which follow the
// steep ends of its arc, and shifted.
func circle(f imaging.Frame, share float64, shift imaging.Point) []reading.PointPx {
	const steps = 24
	out := make([]reading.PointPx, 0, steps+1)
	for i := range steps + 1 {
		out = append(out, at(f, -math.Cos(math.Pi*float64(i)/steps), share, shift))
	}
	return out
}
