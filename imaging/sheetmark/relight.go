package sheetmark

import (
	"image"
	"slices"

	"mudline/imaging/colour"
)

// The light of paper in a usual photo: between these, with no channel more than so many
// times another, and most often usualPaper.
const (
	leastPaper, mostPaper = 0.2, 0.8
	mostCast              = 1.6
	usualPaper            = 0.4
)

// Usual says whether a photo's light is what phones make of most: not dark, and the
// paper about white.
func (w *White) Usual() bool {
	low, high := slices.Min(w.Paper[:]), slices.Max(w.Paper[:])
	return low > leastPaper && high < mostPaper && high < mostCast*low
}

// Relit is a picture in the light of usual photos: a jar is known by how it looks there.
func (w *White) Relit(pic *image.RGBA) *image.RGBA {
	var to [3][256]uint8
	for k := range to {
		for v := range to[k] {
			to[k][v] = levelOf(colour.LightOf(uint8(v)) * usualPaper / w.Paper[k])
		}
	}
	out := image.NewRGBA(pic.Rect)
	for i := 0; i+3 < len(pic.Pix); i += 4 {
		for k := range to {
			out.Pix[i+k] = to[k][pic.Pix[i+k]]
		}
		out.Pix[i+3] = 255
	}
	return out
}
