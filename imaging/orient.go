package imaging

import "image"

// upright applies an EXIF orientation (CIPA DC-008 tag 0x0112: 1 as stored,
// 2 mirrored left-right, 3 turned half round, 4 mirrored top-bottom,
// 5 transposed, 6 to be turned clockwise, 7 transversed, 8 to be turned
// anticlockwise). The result begins at 0,0. Any other value counts as 1.
func upright(pic *image.RGBA, orientation int) *image.RGBA {
	w, h := pic.Rect.Dx(), pic.Rect.Dy()
	if orientation <= 1 || orientation > 8 {
		if pic.Rect.Min == (image.Point{}) {
			return pic
		}
	}
	outW, outH := w, h
	if orientation >= 5 && orientation <= 8 {
		outW, outH = h, w
	}
	out := image.NewRGBA(image.Rect(0, 0, outW, outH))
	// The pixel x,y of out is found at start + x*dx + y*dy in pic.
	row, px := pic.Stride, 4
	right, below := (w-1)*px, (h-1)*row
	start, dx, dy := 0, px, row
	switch orientation {
	case 2:
		start, dx, dy = right, -px, row
	case 3:
		start, dx, dy = right+below, -px, -row
	case 4:
		start, dx, dy = below, px, -row
	case 5:
		start, dx, dy = 0, row, px
	case 6:
		start, dx, dy = below, -row, px
	case 7:
		start, dx, dy = right+below, -row, -px
	case 8:
		start, dx, dy = right, row, -px
	}
	for y := range outH {
		from := start + y*dy
		line := out.Pix[y*out.Stride : y*out.Stride+4*outW]
		for x := 0; x < len(line); x += 4 {
			copy(line[x:x+4], pic.Pix[from:from+4])
			from += dx
		}
	}
	return out
}
