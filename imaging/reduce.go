package imaging

import (
	"image"
	"math"
	"runtime"
	"sync"

	"mudline/imaging/pixels"
)

// Fit gives the size of a w x h picture whose longer side is at most side; it
// never enlarges.
func Fit(w, h, side int) (int, int) {
	long := max(w, h)
	if long <= side {
		return w, h
	}
	scaled := func(v int) int {
		return max(int(math.Round(float64(v)*float64(side)/float64(long))), 1)
	}
	return scaled(w), scaled(h)
}

// plane is one channel of a picture with the row it is taken from: a stored
// plane, or a picture converted as its rows are asked for. Of the w x h pixels
// the picture takes up wide x high; less where a last one is covered in part.
type plane struct {
	w, h       int
	wide, high float64
	row        func(y int) []uint8
}

func newPlane(w, h int, row func(y int) []uint8) plane {
	return plane{w, h, float64(w), float64(h), row}
}

// storedPlane is a channel that lies in memory.
func storedPlane(pix []uint8, stride, w, h int) plane {
	return newPlane(w, h, func(y int) []uint8 { return pix[y*stride : y*stride+w] })
}

// areaReducer brings a channel to another size, each new pixel being the mean
// of the old ones over the area it covers, fractions of a pixel included.
//
// Old rows are weighted in 1/unit of a row and added eight pixels at a time:
// sums holds four 16-bit lanes to a word, even pixels in one word and odd ones
// in the next. Along the row a running total then gives each new pixel as the
// difference of two places on it. The totals may wrap round; their differences
// do not.
type areaReducer struct {
	src    plane
	w, h   int
	unit   int
	sums   []uint64
	total  []uint32
	ends   []place   // right end of each new pixel
	weight []float32 // 1 / width of each new pixel, in 1/columnUnit of an old one
	out    []uint8
}

// place is a place along a row: an old pixel, and how much of it lies to the
// left in 1/columnUnit.
type place struct {
	pixel int
	part  uint32
}

const columnUnit = 256

// maxShrink is how far one areaReducer can go within its number formats.
const maxShrink = 128

func newAreaReducer(src plane, w, h int) *areaReducer {
	if src.w > maxShrink*w || src.h > maxShrink*h { // in two steps
		half := newAreaReducer(src, min(src.w, maxShrink*w), min(src.h, maxShrink*h))
		src = newPlane(half.w, half.h, half.row)
	}
	words := (src.w + 7) / 8
	r := &areaReducer{
		src: src, w: w, h: h,
		// 255 times the weight of all rows in a new one must fit in 16 bits.
		unit: min(64, max(256*h/src.h-1, 1)),
		sums: make([]uint64, 2*words), total: make([]uint32, 8*words+2),
		ends: make([]place, w), weight: make([]float32, w), out: make([]uint8, w),
	}
	from, wide := 0, int(math.Round(src.wide*columnUnit))
	for x := range w {
		end := roundedShare((x+1)*wide, w)
		r.ends[x] = place{end / columnUnit, uint32(end % columnUnit)}
		r.weight[x] = 1 / float32(end-from)
		from = end
	}
	return r
}

// roundedShare is a/b to the nearest whole number.
func roundedShare(a, b int) int { return (2*a + b) / (2 * b) }

// row computes new row y; the slice holds until the next call.
func (r *areaReducer) row(y int) []uint8 {
	if r.src.wide == float64(r.w) && r.src.high == float64(r.h) {
		return r.src.row(y)
	}
	high := int(math.Round(r.src.high * float64(r.unit)))
	from, to := roundedShare(y*high, r.h), roundedShare((y+1)*high, r.h)
	clear(r.sums)
	for k := from / r.unit; k*r.unit < to; k++ {
		weight := min(to, (k+1)*r.unit) - max(from, k*r.unit)
		pixels.AddRow(r.sums, r.src.row(k), uint64(weight))
	}
	r.addUp()
	var before uint32
	perRow := 1 / float32(to-from)
	out, weight := r.out[:len(r.ends)], r.weight[:len(r.ends)]
	for x, end := range r.ends {
		left := (*[2]uint32)(r.total[end.pixel:])
		here := left[0]*columnUnit + (left[1]-left[0])*end.part
		out[x] = uint8(float32(here-before)*weight[x]*perRow + 0.5)
		before = here
	}
	return r.out
}

// addUp makes the running total of the sums: total[i] is what lies left of old
// pixel i.
func (r *areaReducer) addUp() {
	var t uint32
	total := r.total[1:]
	for k := 0; k+1 < len(r.sums); k += 2 {
		even, odd := r.sums[k], r.sums[k+1]
		eight := total[4*k : 4*k+8 : 4*k+8]
		for i := 0; i < 8; i += 2 {
			t += uint32(even & 0xffff)
			eight[i] = t
			t += uint32(odd & 0xffff)
			eight[i+1] = t
			even, odd = even>>16, odd>>16
		}
	}
}

// reduceRGBA builds the w x h picture from three channels made anew for each
// band of rows, and turned into RGB row by row by mix. Bands run side by side.
func reduceRGBA(w, h int, channels func() [3]plane, mix func(dst *image.RGBA, a, b, c []uint8)) *image.RGBA {
	pic := image.NewRGBA(image.Rect(0, 0, w, h))
	bands := max(min(runtime.GOMAXPROCS(0), h/64), 1)
	var done sync.WaitGroup
	for k := range bands {
		done.Go(func() {
			var red [3]*areaReducer
			for i, src := range channels() {
				red[i] = newAreaReducer(src, w, h)
			}
			for y := k * h / bands; y < (k+1)*h/bands; y++ {
				line := &image.RGBA{Pix: pic.Pix[y*pic.Stride : (y+1)*pic.Stride], Stride: pic.Stride, Rect: image.Rect(0, 0, w, 1)}
				mix(line, red[0].row(y), red[1].row(y), red[2].row(y))
			}
		})
	}
	done.Wait()
	return pic
}
