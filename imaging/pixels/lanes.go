package pixels

import "encoding/binary"

// AddRow adds a weighted row to sums of four 16-bit lanes to a word, even pixels in one
// word and odd ones in the next. weight times 255 and what is there must fit 16 bits.
func AddRow(sums []uint64, row []uint8, weight uint64) {
	const lanes = 0x00ff00ff00ff00ff
	for len(row) >= 8 && len(sums) >= 2 {
		eight := binary.LittleEndian.Uint64(row)
		sums[0] += (eight & lanes) * weight
		sums[1] += (eight >> 8 & lanes) * weight
		row, sums = row[8:], sums[2:]
	}
	if len(row) > 0 {
		var rest [8]uint8
		copy(rest[:], row)
		AddRow(sums, rest[:], weight)
	}
}

// Lane is the sum that AddRow made for pixel i.
func Lane(sums []uint64, i int) uint64 { return sums[i/8*2+i%2] >> (i % 8 / 2 * 16) & 0xffff }

// SumOfFour adds up two pixels of one row and two of the next: red in the lower
// 16 bits of redBlue and blue in the next, green in the lower 16 bits of green.
// What is above these is of no use.
func SumOfFour(upper, lower []uint8) (redBlue, green uint64) {
	const lanes = 0x00ff00ff00ff00ff
	u, l := binary.LittleEndian.Uint64(upper), binary.LittleEndian.Uint64(lower)
	redBlue, green = u&lanes+l&lanes, u>>8&lanes+l>>8&lanes
	return redBlue + redBlue>>32, green + green>>32
}
