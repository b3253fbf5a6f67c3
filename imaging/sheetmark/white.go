package sheetmark

import (
	"image"
	"math"
	"slices"
)

// White turns the light of a photo into that under an even white lamp, as far as the
// sheet tells: exposure and white balance by the paper, and the tone, how the camera
// drew dark against light, by the greys.
type White struct {
	// Paper is the light of the paper, red, green and blue; 1 and more where a channel
	// is blown out.
	Paper [3]float64
	// Tone is the power of the paper's light by which this photo is darker than the
	// mean of those of one sheet; 1 where that is not known.
	Tone float64
	// Guessed says that the paper is blown out, and its light that of a grey by what a
	// usual printer makes of it.
	Guessed bool
}

// Of is the linear light that stands for c under a white lamp.
func (w *White) Of(c [3]float64) (lit [3]float64) {
	for k, v := range c {
		share := math.Max(v, 0) / w.Paper[k]
		if w.Tone != 1 {
			share = math.Pow(share, 1/w.Tone)
		}
		lit[k] = paperReflects * share
	}
	return lit
}

// Gain is what each channel's light is multiplied by, the tone apart.
func (w *White) Gain() (gain [3]float64) {
	for k, v := range w.Paper {
		gain[k] = paperReflects / v
	}
	return gain
}

// Whites are the ways to white light for photos of one print, nil for those that are nil
// or whose paper is blown out and greys are not seen. What a printer makes of a grey is
// not known, but it is the same in all photos: so a grey that is darker in one is that
// camera's tone, and tells the light of a paper that is blown out.
func Whites(lights []*Light) []*White {
	greys := greysOf(lights)
	out := make([]*White, len(lights))
	for i, l := range lights {
		if l == nil {
			continue
		}
		w := &White{Paper: l.Paper, Tone: l.tone(greys)}
		if l.unblown(w, greys) {
			out[i] = w
		}
	}
	return out
}

// White is the way to white light of one photo by itself, nil where it is not told.
func (s *Sheet) White(pic *image.RGBA) *White {
	l, ok := s.Light(pic)
	if !ok {
		return nil
	}
	return Whites([]*Light{&l})[0]
}

// printedGrey is what a print's grey throws back of the paper's light.
type printedGrey struct {
	share float64
	seen  int // in how many photos; with 0 it is a usual printer's
}

func greysOf(lights []*Light) (greys [Greys]printedGrey) {
	for i := range greys {
		sum := 0.0
		for _, l := range lights {
			if l != nil && l.Greys[i].Share > 0 {
				sum += math.Log(l.Greys[i].Share)
				greys[i].seen++
			}
		}
		if n := greys[i].seen; n > 0 {
			greys[i].share = math.Exp(sum / float64(n))
		} else {
			greys[i].share = inkShare(inks[i])
		}
	}
	return greys
}

// Bounds of a tone that is believed: how far the greys may lie off one power, as natural
// logarithms, and the power itself.
const (
	toneOff             = 0.15
	leastTone, mostTone = 0.6, 1.6
	leastGreys          = 2
)

// lowShare is the light, or share of it, below which nothing can be told.
const lowShare = 0.01

// tone is the power that leads from the print's greys to those of this photo.
func (l *Light) tone(greys [Greys]printedGrey) float64 {
	var x, y []float64
	xx, xy := 0.0, 0.0
	before := 1.0
	for i, g := range l.Greys {
		if g.Share == 0 || greys[i].seen < 2 {
			continue
		}
		if g.Share >= before || g.Share < lowShare { // darker ink is lighter: no print
			return 1
		}
		before = g.Share
		a, b := math.Log(greys[i].share), math.Log(g.Share)
		x, y = append(x, a), append(y, b)
		xx, xy = xx+a*a, xy+a*b
	}
	if len(x) < leastGreys {
		return 1
	}
	power := xy / xx
	for i := range x {
		if math.Abs(y[i]-power*x[i]) > toneOff {
			return 1
		}
	}
	if power < leastTone || power > mostTone {
		return 1
	}
	return power
}

// unblown takes the light of a paper that is blown out in a channel from the lightest grey
// that is not, in all channels: ink is grey, so their balance is right whatever the
// printer made of it. It is false where there is no such grey.
func (l *Light) unblown(w *White, greys [Greys]printedGrey) bool {
	if slices.Max(l.Paper[:]) < blownFrom {
		return true
	}
	for i, g := range l.Greys {
		if slices.Min(g.Light[:]) < lowShare || slices.Max(g.Light[:]) >= blownFrom {
			continue
		}
		for k, v := range g.Light {
			w.Paper[k] = v / greys[i].share
		}
		w.Guessed = greys[i].seen == 0
		return true
	}
	return false
}
