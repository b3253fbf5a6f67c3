package desk

import (
	"math"
	"slices"

	"mudline/imaging"
	"mudline/internal/jar"
	"mudline/internal/reading"
	"mudline/internal/record"
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
	// Level is the row of the level water surface, where heights end, a little
	// below the water's line, which is its upper edge on the glass.
	Level float64 `json:"level"`
	// Keystone is how much wider the glass looks at the floor than at the water,
	// less one: with it a row's share of the depth is a / (1 + k - k a), a being
	// its share of the way from the floor's row to Level.
	Keystone float64 `json:"keystone"`
}

// Line is a circle round the glass as the photo shows its front, left to right.
type Line struct {
	// Name is the name a record states it by.
	Name   string            `json:"name"`
	Points []reading.PointPx `json:"points"`
	// Row is where it crosses the middle of the front, LowPx and HighPx the rows
	// two standard deviations below and above.
	Row    float64 `json:"row"`
	LowPx  float64 `json:"low"`
	HighPx float64 `json:"high"`
	Stated bool    `json:"stated,omitempty"`
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
		one := PhotoLines{File: s.File, Left: edge(f, -1), Right: edge(f, 1), Level: tenth(f.Water.Y), Keystone: math.Round(f.Keystone()*1e5) / 1e5}
		add := func(name, key string, share, sd float64) {
			l := Line{Name: name, Points: circle(f, share), Row: tenth(f.At(0, share).Y),
				LowPx: tenth(f.At(0, share-2*sd).Y), HighPx: tenth(f.At(0, share+2*sd).Y), Stated: slices.Contains(p.Stated, key)}
			l.Unsure = !l.Stated && sd > unsureShare
			one.Lines = append(one.Lines, l)
		}
		add(record.Floor, "floor", 0, 0)
		if h := p.HeightsPercent; h != nil {
			for _, x := range []struct {
				name, key string
				h         *reading.Height
			}{{record.SandTop, "sand_top", h.SandTop}, {record.SiltTop, "silt_top", h.SiltTop},
				{record.DepositTop, "deposit_top", h.DepositTop}, {record.HazeTop, "haze_top", h.HazeTop}} {
				if x.h != nil {
					add(x.name, x.key, x.h.Value/100, x.h.SD/100)
				}
			}
		}
		add(record.Water, "water", f.HeightOfRow(*p.RowsPx.Meniscus), 0)
		out = append(out, one)
	}
	return out
}

func tenth(v float64) float64 { return math.Round(v*10) / 10 }

func at(f imaging.Frame, u, share float64) reading.PointPx {
	p := f.At(u, share)
	return reading.PointPx{tenth(p.X), tenth(p.Y)}
}

func edge(f imaging.Frame, u float64) [2]reading.PointPx {
	return [2]reading.PointPx{at(f, u, -0.02), at(f, u, 1.06)}
}

// circle is drawn by even steps of the angle round the jar, which follow the
// steep ends of its arc.
func circle(f imaging.Frame, share float64) []reading.PointPx {
	const steps = 24
	out := make([]reading.PointPx, 0, steps+1)
	for i := range steps + 1 {
		out = append(out, at(f, -math.Cos(math.Pi*float64(i)/steps), share))
	}
	return out
}
