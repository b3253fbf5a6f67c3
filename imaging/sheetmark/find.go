package sheetmark

import (
	"image"
	"math"
	"slices"
)

// Sheet is a sheet found in a picture.
type Sheet struct {
	Identity Identity
	Paper    Paper
	// Seen are the numbers of the marks that were read, in order.
	Seen []int
	// Stand is how it stands, in pixels of the picture.
	Stand Stand
	// RMS is how far the edges of the marks lie from where the stand has them, in
	// pixels.
	RMS float64

	grey *grey
}

// What makes a sheet: so many marks of one identity, whose corners lie within mostOff
// pixels, or a share of a field, of a stand. A chance pattern passes the check of one
// mark in two hundred quadrilaterals; two more of the same identity, at the right
// places, do not come by chance.
const (
	leastMarks = 3
	mostOff    = 1.5
	offShare   = 0.2 // of a field
)

// Find looks for sheets, the one with the most marks first. marks is how many marks
// were read in all, those of no sheet among them.
func Find(pic *image.RGBA, lens Lens) (sheets []*Sheet, marks int) {
	g := newGrey(pic)
	found := marksIn(g)
	var ids []Identity
	count := map[Identity]int{}
	for _, r := range found {
		if count[r.code.Identity]++; count[r.code.Identity] == 1 {
			ids = append(ids, r.code.Identity)
		}
	}
	slices.SortStableFunc(ids, func(a, b Identity) int { return count[b] - count[a] })
	for _, id := range ids {
		if s := sheetOf(g, found, id, lens); s != nil {
			sheets = append(sheets, s)
		}
	}
	return sheets, len(found)
}

// marksIn reads all marks of a picture.
func marksIn(g *grey) (found []read) {
	c := g.coarse()
	for _, area := range areas(c.dark(), c.w, c.h) {
		q, ok := quad(area)
		if !ok {
			continue
		}
		for i := range q {
			q[i].X, q[i].Y = q[i].X*float64(c.step), q[i].Y*float64(c.step)
		}
		if fine, ok := refined(g, q); ok {
			if r, ok := decode(g, fine); ok {
				found = append(found, r)
			}
		}
	}
	return found
}

// sheetOf fits a stand to the marks of one identity, without those that do not go
// with the rest; nil where too few do.
func sheetOf(g *grey, found []read, id Identity, lens Lens) *Sheet {
	var marks []read
	for _, r := range found {
		if r.code.Identity == id {
			marks = append(marks, r)
		}
	}
	for len(marks) >= leastMarks {
		f, ok := stood(marks, lens)
		if !ok && !lens.Cropped {
			free := lens
			free.Cropped = true
			if f, ok = stood(marks, free); ok {
				lens = free
			}
		}
		if ok {
			return newSheet(g, marks, f, lens)
		}
		marks = withoutWorst(marks, f)
	}
	return nil
}

// stood fits a stand to the corners of marks; ok is false where they do not lie as it
// has them.
func stood(marks []read, lens Lens) (f fit, ok bool) {
	var edges []edge
	mirrors, field := 0, 0.0
	for _, r := range marks {
		edges = append(edges, r.cornerEdges()...)
		if r.mirror {
			mirrors++
		}
		field += math.Sqrt(math.Abs(areaOf(r.corners[:]))) / Modules / float64(len(marks))
	}
	if f, ok = firstFit(marks, lens, 2*mirrors > len(marks)); !ok {
		return f, false
	}
	if f, ok = f.improved(edges, lens); !ok {
		return f, false
	}
	return f, math.Sqrt2*f.rms(edges) <= math.Max(mostOff, offShare*field)
}

// newSheet is the sheet of marks that go together, its stand fitted anew to all edges
// between their fields.
func newSheet(g *grey, marks []read, f fit, lens Lens) *Sheet {
	s := &Sheet{Identity: marks[0].code.Identity, grey: g}
	papers := 0
	for _, r := range marks {
		s.Seen = append(s.Seen, r.code.Mark)
		papers += int(r.code.Paper)
	}
	if 2*papers > len(marks) {
		s.Paper = Letter
	}
	slices.Sort(s.Seen)
	for range 2 {
		edges := fieldEdges(g, marks, &f)
		if len(edges) < 20*len(marks) {
			break
		}
		better, ok := f.improved(edges, lens)
		if !ok {
			break
		}
		f, s.RMS = better, better.rms(edges)
		f.FocalSD = f.focalSD(edges, lens)
	}
	s.Stand = f.Stand
	return s
}

// withoutWorst leaves out the mark that lies farthest from a fit.
func withoutWorst(marks []read, f fit) []read {
	worst, most := len(marks)-1, 0.0
	for k, r := range marks {
		if off := f.rms(r.cornerEdges()); off > most {
			worst, most = k, off
		}
	}
	return slices.Delete(slices.Clone(marks), worst, worst+1)
}

// Corners are where the paper's corners are, in pixels: top left, top right, bottom
// right, bottom left, as they are on the sheet.
func (s *Sheet) Corners() (c [4]Point) {
	for i, p := range s.Paper.Corners() {
		c[i] = s.Stand.Picture(p)
	}
	return c
}
