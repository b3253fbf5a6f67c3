package desk

import (
	"fmt"
	"math"
)

// standsAnswer is where the jar stands in one open photo, before anything is read
// from it: in shares of the picture's width and height, from its upper left.
type standsAnswer struct {
	// Found says that a jar is likely to stand there; the rest is absent without it.
	Found bool `json:"found"`
	// Left, Right are the outermost edges of the glass, Water and Floor the rows of
	// the water and of the inner floor at the jar's middle.
	Left  float64 `json:"left,omitempty"`
	Right float64 `json:"right,omitempty"`
	Water float64 `json:"water,omitempty"`
	Floor float64 `json:"floor,omitempty"`
}

// stands tells a person who sets up a camera whether the jar is seen.
func stands(d *Desk, in struct {
	File string `json:"file"`
}) (any, error) {
	o := d.opened[in.File]
	if o == nil {
		return nil, fmt.Errorf("photo %q is not open", in.File)
	}
	p := o.Stands()
	if p == nil {
		return standsAnswer{}, nil
	}
	f, size := p.Frame, o.Photo().Picture.Rect.Size()
	across, down := float64(size.X), float64(size.Y)
	share := func(v, whole float64) float64 { return math.Round(v/whole*1e4) / 1e4 }
	return standsAnswer{Found: true,
		Left:  share(math.Min(f.Floor.X-f.HalfWidthFloor, f.Water.X-f.HalfWidthWater), across),
		Right: share(math.Max(f.Floor.X+f.HalfWidthFloor, f.Water.X+f.HalfWidthWater), across),
		Water: share(f.Water.Y, down), Floor: share(f.Floor.Y, down)}, nil
}
