package layers

import (
	"fmt"
	"math"

	"mudline/internal/words"
)

// Refusal says why the photos cannot be read, and what to do about it.
type Refusal struct {
	// Code is one of the Refused constants.
	Code string
	// Text says what was seen, Remedy what to do.
	Text, Remedy words.Message
	// Photo is the index of the photo it is about.
	Photo int
}

// Codes of a Refusal.
const (
	RefusedNoPhotos   = "no_photos"       // an empty list of strips
	RefusedStrip      = "bad_strip"       // a strip whose sizes or heights make no sense
	RefusedOrder      = "times_backwards" // photos not in order of time
	RefusedStated     = "bad_line"        // a stated line outside the water or out of order
	RefusedNoDeposit  = "no_deposit"      // clear water, nothing on the floor
	RefusedStillMixed = "still_mixed"     // mud from top to bottom in the latest photo
)

// Error gives the refusal as one sentence.
func (r *Refusal) Error() string {
	return fmt.Sprintf("photo %d: %s; %s", r.Photo+1, r.Text, r.Remedy)
}

// check refuses input that cannot be worked with.
func check(strips []Strip) error {
	if len(strips) == 0 {
		return &Refusal{Code: RefusedNoPhotos, Text: words.Say("layer.no-photo"), Remedy: words.Say("do.give-a-photo")}
	}
	for i := range strips {
		s := &strips[i]
		if wrong := s.sound(); wrong != "" {
			return &Refusal{RefusedStrip, fault(wrong), fault("give the strip as it was cut from the photo"), i}
		}
		if i > 0 && s.ElapsedS < strips[i-1].ElapsedS {
			return &Refusal{RefusedOrder, fault(fmt.Sprintf("taken %g s after the jar was set down, but the one before at %g s", s.ElapsedS, strips[i-1].ElapsedS)),
				fault("give the photos in order of time and check the times"), i}
		}
		if wrong := s.Stated.Sound(s.Water); !wrong.IsZero() {
			return &Refusal{RefusedStated, wrong, words.Say("do.state-in-order"), i}
		}
	}
	return nil
}

// fault says what only a fault of the program can bring about: it has no other language.
func fault(text string) words.Message { return words.Say("as-it-is", words.Name("text", text)) }

// smallest strip that can hold a boundary, in rows and columns.
const (
	leastRows    = 40
	leastColumns = 8
)

// sound says what is wrong with a strip, "" when nothing is.
func (s *Strip) sound() string {
	switch {
	case s.W < leastColumns || s.H < leastRows || len(s.Lab) != 3*s.W*s.H:
		return fmt.Sprintf("the strip is %d by %d with %d values; it needs at least %d by %d and three values a pixel", s.W, s.H, len(s.Lab), leastColumns, leastRows)
	case !(s.USpan > 0 && s.USpan <= 1):
		return fmt.Sprintf("the strip spans %g of the jar's half width; it must be above 0 and at most 1", s.USpan)
	case !(s.TopMM > s.BottomMM) || math.IsInf(s.TopMM-s.BottomMM, 0):
		return fmt.Sprintf("the strip runs from %g mm down to %g mm", s.TopMM, s.BottomMM)
	case !(s.Water.MM > 0) || s.Water.MM > s.TopMM+1e-9 || s.BottomMM > 0.02*s.Water.MM:
		return fmt.Sprintf("the strip from %g mm down to %g mm does not cover the water, 0 to %g mm", s.TopMM, s.BottomMM, s.Water.MM)
	case !(s.FrameSDMM >= 0) || math.IsInf(s.FrameSDMM, 0) || math.IsNaN(s.ElapsedS) || math.IsInf(s.ElapsedS, 0) || s.ElapsedS < 0:
		return fmt.Sprintf("the time (%g s) or the uncertainty of the heights (%g mm) is negative or not a number", s.ElapsedS, s.FrameSDMM)
	case math.IsNaN(s.BowFloorMM+s.BowWaterMM) || math.IsInf(s.BowFloorMM+s.BowWaterMM, 0):
		return "the bow of the frame is not a number"
	}
	for _, v := range s.Lab {
		if !(v > -1000 && v < 1000) {
			return fmt.Sprintf("the strip holds the colour value %g", v)
		}
	}
	return ""
}

// faintest is the evidence below which a line is not taken for the top of a
// deposit when nothing else speaks for it. The lines found in even mud, which
// are its mottling, stay below.
const faintest = 0.72

// refuse says when the latest photo shows no deposit to read.
func refuse(ps []*photo, c choice) error {
	last := len(ps) - 1
	p, t := ps[last], c.top[last]
	if p.s.Stated.DepositTop != nil {
		return nil
	}
	for i, q := range ps[:last] {
		if t := c.top[i]; t != unseen && q.evidence(&q.lines[t]) > 2*faintest && (!q.seenThrough(&q.lines[t]) || q.standsOut(&q.lines[t])) {
			return nil // it was there before, and deposits do not go away
		}
	}
	if grows(ps, c) {
		return nil
	}
	if t != unseen {
		top := &p.lines[t]
		arc := p.arcAbove(top.z)
		borne := arc >= 0 && p.arcFits(arc, top) > 0.5
		sand := p.lineAt(c.sand)
		sandy := c.sand > 0 && c.sand < top.z && sand >= 0 && p.lines[sand].weight > 1
		seen := p.evidenceUnder(top, arc) >= faintest
		if borne && (seen || sandy || !p.busyAbove(top)) || (seen || sandy) && (!p.seenThrough(top) || p.standsOut(top)) {
			return nil
		}
	}
	muddy := 0.6
	if p.s.ElapsedS < siltDownS {
		muddy = 0.3 // so soon, mud is what to expect
	}
	if p.cloudWithoutDeposit() > muddy {
		return &Refusal{RefusedStillMixed, words.Say("layer.still-mixed"), words.Say("do.wait-for-a-layer"), last}
	}
	return &Refusal{RefusedNoDeposit, words.Say("layer.no-deposit"), words.Say("do.check-bottom"), last}
}

// Colours between which a deposit stands out plainly, in CIELAB units, and the
// evidence its top must have.
const (
	standFromWater    = 6
	standFromBackdrop = 12
	standEvidence     = 1.2
)

// standsOut says whether what lies below a line is plainly a deposit: of another
// colour than the water above it, and further from the room than that water
// is, which its mud, if any, brings nearer to the soil.
func (p *photo) standsOut(top *line) bool {
	h, low := p.s.Water.MM, top.z
	arc := p.arcAbove(top.z)
	if arc >= 0 {
		low = p.lines[arc].z
	}
	soil, ok1 := p.colourOf(top.z-0.005*h, top.z-0.04*h)
	water, ok2 := p.colourOf(low+0.06*h, low+0.02*h)
	back, ok3 := p.roomColour()
	if !ok1 || !ok2 || !ok3 || p.evidenceUnder(top, arc) < standEvidence {
		return false
	}
	behind := distance(soil, back)
	return distance(soil, water) >= standFromWater && behind >= standFromBackdrop && behind > distance(water, back)
}

// grows says whether faint tops in several photos bear each other out by
// rising, as deposits do and the background does not.
func grows(ps []*photo, c choice) bool {
	const least = 0.5 // of the evidence that is enough for one photo
	first, n, sum, z := 0.0, 0, 0.0, 0.0
	for i, p := range ps {
		t := c.top[i]
		if t == unseen {
			continue
		}
		l := &p.lines[t]
		e := p.evidenceUnder(l, p.arcAbove(l.z))
		if e < least*faintest || p.seenThrough(l) && !p.standsOut(l) {
			continue
		}
		if n == 0 {
			first = l.z
		}
		z, sum, n = l.z, sum+e, n+1
	}
	return c.top[len(ps)-1] != unseen && n > 1 && sum >= 2*faintest && z > first+0.01*ps[0].s.Water.MM
}

// seenThrough says whether a line may be part of the background, seen through
// clear water: then the far edge of a deposit would show as well.
func (p *photo) seenThrough(top *line) bool {
	h := p.s.Water.MM
	bow, known := p.s.bowAt(top.z)
	if !known || bow < 0.03*h {
		return false // seen level, a deposit shows no far edge
	}
	return p.busyAbove(top) || p.cloud(top.z, top.z) < 0.4
}

// busyAbove says whether several clear lines stand above a line: a background
// of bricks, books or stripes.
func (p *photo) busyAbove(top *line) bool {
	strong := 0
	for i := range p.lines {
		if l := &p.lines[i]; l.z > top.z+0.02*p.s.Water.MM && l.weight > 1.2 {
			strong++
		}
	}
	return strong >= 3
}
