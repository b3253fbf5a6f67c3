package main

import (
	"encoding/json"
	"image"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"sort"

	lib "github.com/disintegration/imaging"

	"mudline/imaging"
	"mudline/imaging/jarfind"
	"mudline/internal/jartest"
)

// baseSide is the longest side of the pictures that scenes are made from.
const baseSide = 520

// base is a rendered photo of a jar: where it stands, and which pixels are its.
type base struct {
	jar   string
	pic   *image.RGBA
	place jarfind.Stance
	mask  *image.Alpha
	// top is the height of the top of the lid over the inner floor, in half widths.
	// and water that of its surface where it is seen through the front.
	top, water float64
}

// shapeOf is the part of truth.json that gives the jar's silhouette.
type shapeOf struct {
	Jar struct {
		Outer    float64 `json:"outer_radius_mm"`
		Wall     float64 `json:"wall_mm"`
		Bottom   float64 `json:"base_thickness_mm"`
		Straight float64 `json:"straight_height_mm"`
		Neck     float64 `json:"neck_inner_radius_mm"`
		Total    float64 `json:"total_height_mm"`
	} `json:"jar"`
}

// loadJars reads the rendered jars below some folders for which keep says so.
func loadJars(roots []string, keep func(name string) bool) ([]*base, error) {
	var out []*base
	for _, root := range roots {
		truths, err := jartest.ReadTruths(root)
		if err != nil {
			return nil, err
		}
		for _, t := range truths {
			if !keep(t.Name) {
				continue
			}
			b, err := os.ReadFile(filepath.Join(t.Dir, "truth.json"))
			if err != nil {
				return nil, err
			}
			var s shapeOf
			if err := json.Unmarshal(b, &s); err != nil {
				return nil, err
			}
			for _, p := range t.Photos {
				one, err := loadPhoto(t, p, &s)
				if err != nil {
					return nil, err
				}
				out = append(out, one)
			}
		}
	}
	return out, nil
}

func loadPhoto(t *jartest.Truth, p jartest.TruthPhoto, s *shapeOf) (*base, error) {
	data, err := os.ReadFile(filepath.Join(t.Dir, p.File))
	if err != nil {
		return nil, err
	}
	ph, err := imaging.Open(imaging.PureGo{}, p.File, data)
	if err != nil {
		return nil, err
	}
	pic := fitted(ph.Picture, baseSide)
	k := float64(pic.Rect.Dx()) / float64(ph.FullW)
	b := &base{jar: t.Name, pic: pic, place: truePlace(t, p, k)}
	b.top = s.Jar.Total / s.Jar.Outer
	surface := p.Rows.Points["water_surface"]
	_, b.water = placeOf(b.place, surface.X*k, surface.Row*k)
	b.mask = silhouette(b, s, p.Frame(t.WaterHeightMM).Scaled(k).BowFloor/b.place.Half)
	return b, nil
}

// truePlace is where the jar of a photo stands, in a picture k times as large.
func truePlace(t *jartest.Truth, p jartest.TruthPhoto, k float64) jarfind.Stance {
	f := p.Frame(t.WaterHeightMM)
	lean := (f.Floor.X - f.Water.X) / (f.Floor.Y - f.Water.Y)
	s := jarfind.Stance{Lean: lean}
	// The sides are known at half the water's height.
	y := (p.Rows.EdgeLeft[1] + p.Rows.EdgeRight[1]) / 2
	mid := (p.Rows.EdgeLeft[0] + p.Rows.EdgeRight[0]) / 2
	half := f.HalfWidthFloor
	ref := f.Floor.Y - 1.5*half
	grow := (f.HalfWidthWater - f.HalfWidthFloor) / (f.Floor.Y - f.Water.Y)
	s.Half = f.HalfWidthFloor + grow*(f.Floor.Y-ref)
	s.Foot = imaging.Point{X: mid + (f.Floor.Y-y)*lean, Y: f.Floor.Y}
	s.Foot.X, s.Foot.Y, s.Half = s.Foot.X*k, s.Foot.Y*k, s.Half*k
	return s
}

// silhouette marks the pixels of the jar: its body, neck and lid, with soft edges.
func silhouette(b *base, s *shapeOf, bow float64) *image.Alpha {
	m := image.NewAlpha(b.pic.Rect)
	p := b.place
	r := s.Jar.Outer
	for y := range b.pic.Rect.Dy() {
		for x := range b.pic.Rect.Dx() {
			u, v := placeOf(p, float64(x)+0.5, float64(y)+0.5)
			arc := bow * (1 - math.Sqrt(math.Max(0, 1-u*u)))
			mm := (v - arc) * r
			edge := 1.0
			switch {
			case mm > s.Jar.Total+2 || mm < -s.Jar.Bottom-1:
				continue
			case mm > s.Jar.Straight:
				neck := (s.Jar.Neck + s.Jar.Wall + 2.5) / r
				t := math.Min(1, (mm-s.Jar.Straight)/(0.25*(s.Jar.Total-s.Jar.Straight)))
				edge = math.Max(1-t*(1-neck), math.Min(neck, 1.03))
			case mm < 0.03*r:
				edge = 1 - 0.05*math.Max(0, -mm/s.Jar.Bottom)
			}
			d := (edge - math.Abs(u)) * p.Half // pixels inside
			m.Pix[y*m.Stride+x] = uint8(255 * math.Max(0, math.Min(1, d+0.5)))
		}
	}
	return m
}

// placeOf is the inverse of Stance.At.
func placeOf(s jarfind.Stance, x, y float64) (u, v float64) {
	dx, dy := (x-s.Foot.X)/s.Half, (y-s.Foot.Y)/s.Half
	n := 1 + s.Lean*s.Lean
	return (dx - s.Lean*dy) / n, -(dy + s.Lean*dx) / n
}

// fitted reduces a picture to a longest side.
func fitted(pic image.Image, side int) *image.RGBA {
	w, h := pic.Bounds().Dx(), pic.Bounds().Dy()
	k := math.Min(1, float64(side)/float64(max(w, h)))
	n := lib.Resize(pic, int(float64(w)*k+0.5), 0, lib.Box)
	out := image.NewRGBA(n.Rect)
	copy(out.Pix, n.Pix) // opaque pictures: no alpha to multiply
	for i := 3; i < len(out.Pix); i += 4 {
		out.Pix[i] = 255
	}
	return out
}

// loadPictures reads the ordinary pictures of some folders, those kept by number.
// Cut-outs, with see-through parts, are laid on plain grounds.
func loadPictures(dirs []string, side int, keep func(i int) bool) []*image.RGBA {
	var names []string
	for _, dir := range dirs {
		for _, kind := range []string{"*.jpg", "*.png"} {
			found, _ := filepath.Glob(filepath.Join(dir, kind)) // the pattern is sound
			names = append(names, found...)
		}
	}
	sort.Strings(names)
	var out []*image.RGBA
	for i, name := range names {
		if !keep(i) {
			continue
		}
		pic, err := lib.Open(name)
		if err != nil || min(pic.Bounds().Dx(), pic.Bounds().Dy()) < 100 {
			continue
		}
		if filepath.Ext(name) == ".png" {
			pic = onPlainGround(rand.New(rand.NewPCG(2, uint64(i))), pic)
		}
		out = append(out, fitted(pic, side))
	}
	return out
}

// onPlainGround lays a cut-out on a plain portrait ground, as if it stood there.
func onPlainGround(r *rand.Rand, pic image.Image) image.Image {
	w, h := 300, 400
	side := 120 + r.IntN(220)
	small := lib.Fit(pic, min(side, w-20), side, lib.Box)
	ground := lib.New(w, h, randomColour(r))
	at := image.Pt(r.IntN(w-small.Rect.Dx()), (h-small.Rect.Dy())*2/3)
	return lib.Overlay(ground, small, at, 1)
}

// pick takes a random one of a list.
func pick[T any](r *rand.Rand, v []T) T { return v[r.IntN(len(v))] }
