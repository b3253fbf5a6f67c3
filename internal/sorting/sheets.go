package sorting

import (
	"image"
	"math"
	"slices"
	"strings"
	"time"

	"mudline/imaging"
	"mudline/imaging/sheetmark"
	"mudline/internal/words"
)

// Photos that show a printed sheet behind the jar are sorted by its identity, whatever
// their names, times and looks. Two jars photographed before one sheet are told by
// photos taken at one time that do not look alike; their sheet then says nothing.

// oneTime is how soon after another a photo must be taken to be of the same moment: no
// settling changes how a jar looks from far in it.
const oneTime = 90 * time.Second

// otherJar is how far apart what stands before a sheet looks at one time from which two
// jars are told: of four rendered jars a minute after shaking 12 and more, of one jar in
// two lights 1, and of one jar two hours later, from elsewhere, 3 to 7.
const otherJar = 8

// beforeSheet is the look of what stands before the sheet's plain middle, laid straight
// and in white light: the same jar in the same minute looks the same from everywhere.
func beforeSheet(pic *image.RGBA, s *sheetmark.Sheet) look {
	const wide, high, perMM = 120, 190, 0.6
	flat := image.NewRGBA(image.Rect(0, 0, int(wide*perMM), int(high*perMM)))
	gain := [3]float64{1, 1, 1}
	if w := s.White(pic); w != nil {
		gain = w.Gain()
	}
	for y := range flat.Rect.Dy() {
		for x := range flat.Rect.Dx() {
			p := s.Stand.Picture(sheetmark.Point{X: (float64(x)+0.5)/perMM - wide/2, Y: high - (float64(y)+0.5)/perMM})
			c := pic.RGBAAt(int(p.X), int(p.Y)) // black outside
			at := flat.PixOffset(x, y)
			for k, v := range [3]uint8{c.R, c.G, c.B} {
				flat.Pix[at+k] = uint8(min(float64(v)*math.Pow(gain[k], 1/2.2), 255))
			}
		}
	}
	return lookOf(flat)
}

// printed is what is kept of a printed sheet; the picture is not.
type printed struct {
	id     sheetmark.Identity
	name   string // of the jar, by the sheet's code; "" where it was not read
	before look   // of what stands before it
}

// sheetIn finds the sheet in a photo; nil without one.
func sheetIn(p *imaging.Photo) *printed {
	size := p.Picture.Rect.Size()
	found, _ := sheetmark.Find(p.Picture, sheetmark.LensOf(p.Focal35MM, size.X, size.Y))
	if len(found) == 0 {
		return nil
	}
	s := middlemost(found, size)
	name, _ := s.Name()
	if strings.Trim(name, " ./\\") == "" {
		name = ""
	}
	return &printed{s.Identity, name, beforeSheet(p.Picture, s)}
}

// middlemost is the sheet nearest to the middle of the picture.
func middlemost(sheets []*sheetmark.Sheet, size image.Point) *sheetmark.Sheet {
	off := func(s *sheetmark.Sheet) float64 {
		c := s.Corners()
		return math.Abs((c[0].X+c[1].X+c[2].X+c[3].X)/4 - float64(size.X)/2)
	}
	return slices.MinFunc(sheets, func(a, b *sheetmark.Sheet) int {
		if off(a) < off(b) {
			return -1
		}
		return 1
	})
}

// sheetGroups sorts the photos with a sheet. rest are those without one, or whose sheet
// stood behind two jars, which is said.
func sheetGroups(shots []Shot) (groups []Group, rest []Shot, notes []words.Message) {
	by := map[sheetmark.Identity][]Shot{}
	var order []sheetmark.Identity
	for _, s := range shots {
		if s.sheet == nil {
			rest = append(rest, s)
			continue
		}
		id := s.sheet.id
		if by[id] == nil {
			order = append(order, id)
		}
		by[id] = append(by[id], s)
	}
	taken := map[string]bool{}
	for _, id := range order {
		of := by[id]
		if a, b := twoJars(of); a != "" {
			rest = append(rest, of...)
			notes = append(notes, words.Say("sorting.two-jars-one-sheet", words.Name("one", a), words.Name("other", b), words.Name("sheet", id.String())))
			continue
		}
		g := Group{Why: words.Say("sorting.sheet", words.Name("sheet", id.String())), Name: sheetName(of)}
		if key := Key(g.Name); taken[key] {
			g.Name += " " + id.String()
		}
		taken[Key(g.Name)] = true
		for _, s := range of {
			g.Photos = append(g.Photos, s.Path)
		}
		groups = append(groups, g)
	}
	return groups, rest, notes
}

// sheetName is the jar's name as the sheet has it in any of the photos, else made of
// its identity.
func sheetName(shots []Shot) string {
	for _, s := range shots {
		if s.sheet.name != "" {
			return s.sheet.name
		}
	}
	return "sheet " + shots[0].sheet.id.String()
}

// twoJars gives two photos of one moment that do not look alike; "" if there are none.
func twoJars(shots []Shot) (a, b string) {
	for i, s := range shots {
		for _, o := range shots[:i] {
			if s.Taken.IsZero() || o.Taken.IsZero() || s.Taken.Sub(o.Taken).Abs() > oneTime {
				continue
			}
			if s.sheet.before.apart(&o.sheet.before) > otherJar {
				return o.Path, s.Path
			}
		}
	}
	return "", ""
}
