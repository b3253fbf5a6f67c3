package imaging

import (
	"image"
	"image/color"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
)

// letters draws one pixel per letter, its red the letter, so that pictures can
// be written and read as text.
func letters(text string) *image.RGBA {
	rows := strings.Fields(text)
	pic := image.NewRGBA(image.Rect(0, 0, len(rows[0]), len(rows)))
	for y, row := range rows {
		for x, r := range row {
			pic.SetRGBA(x, y, color.RGBA{uint8(r), 1, 2, 255})
		}
	}
	return pic
}

func lettersOf(pic *image.RGBA) string {
	var rows []string
	for y := pic.Rect.Min.Y; y < pic.Rect.Max.Y; y++ {
		row := ""
		for x := pic.Rect.Min.X; x < pic.Rect.Max.X; x++ {
			row += string(rune(pic.RGBAAt(x, y).R))
		}
		rows = append(rows, row)
	}
	return strings.Join(rows, " ")
}

// The eight orientations as CIPA DC-008 (Exif 2.32, tag 0x0112) words them: the
// stored first row and first column are, in the picture, at 1 top left, 2 top
// right, 3 bottom right, 4 bottom left, 5 left top, 6 right top, 7 right
// bottom, 8 left bottom. Here the stored first row is abc, the first column ad.
func TestUpright(t *testing.T) {
	for orientation, want := range map[int]string{
		1: "abc def",
		2: "cba fed",
		3: "fed cba",
		4: "def abc",
		5: "ad be cf",
		6: "da eb fc",
		7: "fc eb da",
		8: "cf be ad",
		0: "abc def", 9: "abc def", -1: "abc def", // not an orientation: as stored
	} {
		assert.Equal(t, want, lettersOf(upright(letters("abc def"), orientation)), "orientation %d", orientation)

		// A part of a larger picture, whose origin is not 0,0 and whose rows
		// have pixels of others between them.
		large := letters("zzzzz zabcz zdefz zzzzz")
		part := large.SubImage(image.Rect(1, 1, 4, 3)).(*image.RGBA)
		got := upright(part, orientation)
		assert.Equal(t, want, lettersOf(got), "orientation %d of a part", orientation)
		assert.Equal(t, image.Point{}, got.Rect.Min, "orientation %d of a part", orientation)
	}
}
