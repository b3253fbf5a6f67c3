// Package record holds what a person states about a jar: the keys of jar.yaml
// and of the command line, the units they are written in, and the time of each
// photo, whether stated, written in the file's name or recorded by the camera.
package record

import (
	"fmt"
	"maps"
	"slices"
	"time"

	"mudline/internal/words"
	"mudline/layers"
	"mudline/texture"
	"mudline/texture/feel"
)

// FileName is the name of the record that lies beside a jar's photos.
const FileName = "jar.yaml"

// Record is what a person states about one jar. The zero value states nothing.
type Record struct {
	// Name of the jar; empty when not stated.
	Name string
	// WaterDepthMM is the height of the water surface above the jar's inner
	// floor, 20..400 mm; 0 when not stated.
	WaterDepthMM float64
	// Inches says the depth was given in inches, so lengths are shown in inches.
	Inches bool
	// TempC is the water's temperature, 0..45 C; nil when not stated.
	TempC *float64
	// Fahrenheit says the temperature was given in F, so it is shown in F.
	Fahrenheit bool
	// Shaken is when the jar was set down after shaking.
	Shaken Moment
	// System is the texture class system, one of Systems;
	// empty when not stated.
	System string
	// Box is a box round the jar in every photo that has none of its own.
	Box *Box
	// Hand is what hands found; nil when nothing was stated.
	Hand *feel.Observation
	// OrganicMatter is percent by weight, 0..100; nil when not stated.
	OrganicMatter *float64
	// Dispersant says whether powder that parts clay, as for dishwashers, was put
	// in; nil when not stated.
	Dispersant *bool
	// ShakenMin is for how many minutes the jar was shaken; 0 when not stated.
	ShakenMin float64
	// SheetLineMM is how long the line of 100 mm on the sheet behind the jar came out
	// of the printer, 80..120 mm; 0 when not stated.
	SheetLineMM float64
	// DrySoilG is the weight of the dry soil in the jar, 5..5000 g; 0 when not stated.
	DrySoilG float64
	// StonesPercent is how much of that is stones, 0..90 % by weight, 0 where they
	// were picked out; nil when not stated.
	StonesPercent *float64
	// Crop is what grows there, in plain words; empty when not stated.
	Crop string
	// RootingDepthMM is how deep its roots reach, 50..3000 mm; 0 when not stated.
	RootingDepthMM float64
	// DailyUseMM is the water it uses in a day, 0.1..20 mm; 0 when not stated.
	DailyUseMM float64
	// Photos is what is stated of single photos, by file name without folder.
	Photos map[string]Photo
}

// Photo is what a person states of one photo.
type Photo struct {
	// Elapsed is the time since the jar was set down; 0 when not stated.
	Elapsed time.Duration
	// ElapsedSD is how finely Elapsed was written, see ParseElapsed.
	ElapsedSD time.Duration
	// Box is a box round the jar; nil when not stated.
	Box *Box
	// Lines are the lines placed by hand.
	Lines Lines
}

// Box is a rectangle in pixels of the upright full-size photo: X0,Y0 is its
// top left corner, X1,Y1 its bottom right one.
type Box struct{ X0, Y0, X1, Y1 float64 }

// Lines are the lines a person placed by hand; nil where they placed none. Left
// and Right are the outer edges of the glass at half the water's height.
type Lines struct{ Floor, Water, DepositTop, SandTop, SiltTop, HazeTop, Left, Right *Line }

// Line is where a line was placed: a row of the upright full-size photo on the
// jar's centre line, or a height above the inner floor; of an edge of the glass,
// a column of the photo. Of the water it is the row that is seen: the upper edge
// of its rim on the glass.
type Line struct {
	// Value is in pixels from the top of the photo, or from its left for an edge
	// of the glass, or in millimetres.
	Value float64
	// MM says the value is a height in millimetres and not a row in pixels.
	MM bool
	// None says that there is no such line in the photo; Value counts for nothing.
	None bool
}

// None is written in place of a row or a height where there is no such line.
const None = "none"

// LineNames lists the lines that can be placed by hand: from the floor up, then
// the edges of the glass.
var LineNames = append(slices.Clone(layers.Levels), layers.Left, layers.Right)

// Systems lists the texture class systems that can be stated.
var Systems = texture.SystemNames()

// Place gives the field of one line by its name, or nil for an unknown name.
func (l *Lines) Place(name layers.Line) **Line {
	switch name {
	case layers.Floor:
		return &l.Floor
	case layers.Water:
		return &l.Water
	case layers.Left:
		return &l.Left
	case layers.Right:
		return &l.Right
	}
	return layers.Pick(name, &l.SandTop, &l.SiltTop, &l.DepositTop, &l.HazeTop)
}

// BoxOf gives the box stated for a photo, or for all photos; nil if none.
func (r *Record) BoxOf(file string) *Box {
	if p, ok := r.Photos[file]; ok && p.Box != nil {
		return p.Box
	}
	return r.Box
}

// Edit changes what is stated of one photo, adding the photo if need be.
func (r *Record) Edit(file string, change func(*Photo)) {
	if r.Photos == nil {
		r.Photos = map[string]Photo{}
	}
	p := r.Photos[file]
	change(&p)
	r.Photos[file] = p
}

func statedPhotos(r *Record) (keys []string) {
	for _, file := range slices.Sorted(maps.Keys(r.Photos)) {
		p := r.Photos[file]
		add := func(stated bool, key string) {
			if stated {
				keys = append(keys, "photos."+file+"."+key)
			}
		}
		add(p.Elapsed != 0, "elapsed")
		add(p.Box != nil, "box")
		for _, name := range LineNames {
			add(*p.Lines.Place(name) != nil, "lines."+string(name))
		}
	}
	return keys
}

// Check reports the first contradiction between stated values, as a *Mistake: lines out
// of order, or a line above the stated water surface.
func (r *Record) Check() error {
	for _, file := range slices.Sorted(maps.Keys(r.Photos)) {
		lines := r.Photos[file].Lines
		if err := lines.check(r.WaterDepthMM); err != nil {
			return &Mistake{Photo: file, Key: "lines", err: words.Say("record.of-photo", words.Name("file", file), words.Because("why", err))}
		}
	}
	return nil
}

// check asks that lines of one kind follow each other upward, and the edges of
// the glass from left to right.
func (l *Lines) check(depthMM float64) error {
	if l.Left != nil && l.Right != nil && l.Right.Value <= l.Left.Value {
		return words.Say("record.edges-swapped", words.Word("right", "record-key", string(layers.Right)), words.Name("right_at", l.Right.String()), words.Word("left", "record-key", string(layers.Left)), words.Name("left_at", l.Left.String()))
	}
	for _, mm := range []bool{true, false} {
		lastName, last := layers.Line(""), 0.0
		for _, name := range layers.Levels {
			line := *l.Place(name)
			if line == nil || line.None || line.MM != mm {
				continue
			}
			up := line.Value
			if !mm {
				up = -line.Value
			}
			if lastName != "" && up < last {
				return words.Say("record.line-below", aLine(name), words.Name("at", line.String()), words.Word("lower", "record-key", string(lastName)))
			}
			if mm && depthMM > 0 && line.Value > depthMM {
				return words.Say("record.line-above-water", aLine(name), words.Name("at", line.String()), words.Figures("depth", depthMM, 6))
			}
			lastName, last = name, up
		}
	}
	return nil
}

// String writes the line's place with its unit, as ParseLine reads it.
func (l *Line) String() string {
	switch {
	case l.None:
		return None
	case l.MM:
		return fmt.Sprintf("%g mm", l.Value)
	}
	return fmt.Sprintf("%g px", l.Value)
}
