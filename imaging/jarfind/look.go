package jarfind

import (
	"image"
	"math"
	"sync"

	"mudline/imaging"
	"mudline/imaging/jarnet"
)

// Sighting is what was seen of a jar in one photo, before the photos are held
// against each other: several places where it may stand, and in each the lines
// that may be the water surface.
type Sighting struct {
	size  image.Point
	boxed bool // a person said where the jar is
	spots []spot
}

// spot is a place where the jar may stand, with the lines that may be the water.
type spot struct {
	stand
	marks []waterMark
}

// Odds is the logarithm of the odds that the likeliest place shows a jar at all.
func (s *Sighting) Odds() float64 {
	odds := math.Inf(-1)
	for _, v := range s.spots {
		odds = math.Max(odds, v.odds)
	}
	return odds
}

// viewsKept is how many different outlines are followed up.
const viewsKept = 5

// busyPicture is the share of a picture in which everything changes strongly
// from which nothing can be told; rendered jars in front of leaves, bricks and
// stripes stay below a fifth of that.
const busyPicture = 0.5

// Look searches one upright working picture for a jar. focal35MM is the focal
// length from EXIF, 0 when unknown. box, when not empty, is where a person
// said the jar is, in working pixels.
func Look(pic *image.RGBA, focal35MM float64, box image.Rectangle) *Sighting {
	s := &Sighting{size: pic.Rect.Size(), boxed: !box.Empty()}
	focal := focalPixels(pic, focal35MM)
	var rf *relief
	var wg sync.WaitGroup
	small, step := smaller(pic)
	wg.Go(func() { rf = newRelief(small, step) })
	t := newThumb(small, step, thumbSide)
	from, to := 0.0, float64(t.w)
	if s.boxed {
		slack := float64(box.Dx()) / 10
		from, to = (float64(box.Min.X)-slack)/t.scale, (float64(box.Max.X)+slack)/t.scale
	}
	edges := sideEdges(t)
	cands := rank(t, edges, coarse(t, edges, from, to))
	wg.Wait()
	var kept []outline
	if rf.busy > busyPicture {
		return s // grain or noise all over: edges mean nothing
	}
	outs := outlines(rf, t, cands, focal/rf.scale)
	outs = weighed(regards(jarnet.Fitted(), t, outs, rf.scale), rf, t, outs, focal/rf.scale)

	for _, o := range outs {
		if len(kept) < viewsKept && inBox(o, rf.scale, box) && !alike(o, kept) {
			kept = append(kept, o)
		}
	}
	s.spots = make([]spot, len(kept))
	for i, o := range kept {
		wg.Go(func() { s.spots[i] = newSpot(pic, rf, o, focal, focal35MM >= leastFocal35MM) })
	}
	wg.Wait()
	return s
}

// alike tells whether an outline differs too little from one already kept: by
// less than about a hundredth of the half width at either side.
func alike(o outline, kept []outline) bool {
	y := o.foot.Y
	for _, k := range kept {
		half := (k.right.at(y) - k.left.at(y)) / 2
		if math.Abs(o.left.at(y)-k.left.at(y)) < 0.012*half && math.Abs(o.right.at(y)-k.right.at(y)) < 0.012*half &&
			math.Abs(y-k.foot.Y) < 0.3*half {
			return true
		}
	}
	return false
}

// inBox tells whether an outline keeps to the box a person drew, give or take
// a tenth of its width.
func inBox(o outline, k float64, box image.Rectangle) bool {
	if box.Empty() {
		return true
	}
	slack := float64(box.Dx()) / 10
	y := o.foot.Y
	l, r := o.left.at(y)*k, o.right.at(y)*k
	return l > float64(box.Min.X)-slack && r < float64(box.Max.X)+slack &&
		r-l > 0.6*float64(box.Dx()) &&
		y*k < float64(box.Max.Y)+slack && y*k > float64(box.Min.Y)
}

// newSpot looks for the lines in an outline. focal is a guess where the lens is not known.
func newSpot(pic *image.RGBA, rf *relief, o outline, focal float64, known bool) spot {
	k := rf.scale
	scale := func(l sideLine) sideLine { l.X *= k; l.Y *= k; return l }
	v := spot{stand: stand{left: scale(o.left), right: scale(o.right), focal: focal, score: o.score, odds: o.odds, seen: o.seen, middle: float64(pic.Rect.Dy()) / 2}}
	v.floor = findFloor(pic, v.left, v.right, arc{Y: o.foot.Y * k, Bow: o.foot.Bow * k})
	if !known {
		v.focal = lensBySides(v.stand, float64(pic.Rect.Dy()))
	}
	v.horizon = eyeLevel(v.stand, float64(pic.Rect.Dy()))
	v.converge()
	v.marks = waterMarks(rf, v.stand)
	prof := newFrontProfile(pic, v.stand)
	for i := range v.marks {
		m := &v.marks[i]
		m.filled = prof.filled(m.Y)
		m.like = o.seen.waterLike(imaging.Point{X: v.centre(m.Y), Y: m.Y})
	}
	return v
}

// eyeLevel estimates the row of the camera's eye level from how far the floor
// bows, drawn a little towards where people hold a phone.
func eyeLevel(s stand, height float64) float64 {
	fromBow := s.floor.Y - s.focal*s.floor.Bow/flatter/s.half(s.floor.Y)
	usual := 0.45 * height
	const bowSD, usualSD = 0.05, 0.11 // of the height
	wb, wu := 1/(bowSD*bowSD), 1/(usualSD*usualSD)
	return (wb*fromBow + wu*usual) / (wb + wu)
}

// converge gives the sides the convergence that the camera's tilt implies: a
// camera that looks down sees the foot further away. The eye level tells it
// better than the slopes of two short edges do; where the edges were traced
// they stay.
func (v *spot) converge() {
	mean, d := (v.left.Slope+v.right.Slope)/2, v.convergence()
	v.left.Slope, v.right.Slope = mean-d, mean+d
}
