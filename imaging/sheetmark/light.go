package sheetmark

import (
	"image"
	"math"
	"slices"

	"mudline/imaging/colour"
)

// paperReflects is the share of light that white office paper throws back (common
// practice: 0.8 to 0.9).
const paperReflects = 0.85

// Light is what paper and grey patches show of a photo's light.
type Light struct {
	// Paper is the linear light of the paper, red, green and blue, 0 to 1.
	Paper [3]float64
	// Greys are the patches by their ink, the lightest first.
	Greys [Greys]Grey
}

// Grey is a grey of the print: its linear light, and how much that is of the light of
// the paper about it. Both are 0 where it is not seen, Share also where that paper is
// blown out.
type Grey struct {
	Light [3]float64
	Share float64
}

// blownFrom is the linear light from which a channel counts as blown out.
const blownFrom = 0.97

// Light reads the light of the photo; ok is false where too little paper is seen or it
// is dark.
func (s *Sheet) Light(pic *image.RGBA) (l Light, ok bool) {
	if l.Paper, ok = s.white(pic); ok {
		l.Greys = s.greys(pic)
	}
	return l, ok
}

// white is the light of the paper beside the plain middle, on either side, of the
// lighter quarter of what is seen there: the jar throws a shadow to one side, and the
// paper is darker towards the table, which the front of the jar is not.
func (s *Sheet) white(pic *image.RGBA) (white [3]float64, ok bool) {
	var seen [3][]float64
	for y := 20.0; y <= PlainTop-2; y += 4 {
		for x := PlainX - 8; x <= PlainX; x += 2 {
			for _, side := range [...]float64{-1, 1} {
				p := s.Stand.Picture(Point{side * x, y})
				at := image.Pt(int(math.Floor(p.X)), int(math.Floor(p.Y)))
				if !at.In(pic.Rect) {
					continue
				}
				for k, v := range lightAt(pic, at) {
					seen[k] = append(seen[k], v)
				}
			}
		}
	}
	const least = 100 // places
	if len(seen[0]) < least {
		return white, false
	}
	for k := range seen {
		slices.Sort(seen[k])
		if white[k] = seen[k][len(seen[k])*3/4]; white[k] < 0.01 {
			return white, false
		}
	}
	return white, true
}

// unlikeGreys is the ratio from which two patches of one ink do not agree: something
// stands or shines on one.
const unlikeGreys = 1.25

// greys are the means of the patches of each ink that show nothing but ink.
func (s *Sheet) greys(pic *image.RGBA) (out [Greys]Grey) {
	var shares [Greys][]float64
	var lights [Greys][]rgb
	for _, p := range Patches() {
		const rim, inner = 0.6, 2.5 // of blur; from the patch's border
		h := PatchMM/2 + rim
		b := box{p.Mid.X - h, p.Mid.Y - h, p.Mid.X + h, p.Mid.Y + h}
		paper, ok := s.paperAbout(pic, b)
		if !ok || !s.shows(pic, printedBox{b, ofPatch, p.Ink}, paper) {
			continue
		}
		m, ok := s.mean(pic, p.Mid, PatchMM/2-inner)
		white := paper.at(0.5, 0.5)
		if !ok || !likeTint(m, white) {
			continue
		}
		i := slices.Index(inks[:], p.Ink)
		lights[i] = append(lights[i], m)
		if slices.Max(white[:]) < blownFrom {
			shares[i] = append(shares[i], m.light()/white.light())
		}
	}
	for i := range out {
		for _, m := range lights[i] {
			for k, v := range m {
				out[i].Light[k] += v / float64(len(lights[i]))
			}
		}
		if of := shares[i]; len(of) > 0 && slices.Max(of) < unlikeGreys*slices.Min(of) {
			for _, v := range of {
				out[i].Share += v / float64(len(of))
			}
		}
	}
	return out
}

// likeTint says whether a colour is that of grey ink on paper of another: black ink has no
// tint of its own, but haze and the light of what stands near give it some. Where the
// paper is blown out that says nothing.
func likeTint(ink, paper rgb) bool {
	const most = 1.3
	if slices.Max(paper[:]) >= blownFrom {
		return true
	}
	var share [3]float64
	for k := range share {
		share[k] = ink[k] / math.Max(paper[k], lowShare)
	}
	return slices.Max(share[:]) < most*slices.Min(share[:])
}

// inkShare is the share of the paper's light that a grey throws back, as an even
// printer has it: the print's sRGB value, over black that throws back a twentieth
// (common practice: a density of 1.3).
func inkShare(ink float64) float64 {
	const black = 0.05
	return black + (1-black)*colour.Light(1-ink)
}
