package imaging

import (
	"bytes"

	"mudline/internal/words"
)

// Decoders of HEIC and WebP fill what a file lacks with green or a flat colour
// and report no error. A copy that was broken off often has the right length and
// zeros at its end, so the coded pictures are searched for runs of zero bytes
// that no encoder writes. PNG needs none of this, its chunks carry check sums,
// nor does JPEG, whose end mark such zeros take away (frameJPEG).

const (
	// hevcZeros is the shortest run of zero bytes that HEVC data cannot hold.
	// Within a NAL unit no three zero bytes follow each other (ITU-T H.265
	// section 7.4.2.1), a unit does not end in a zero byte (7.3.1.1), and the
	// length before it begins with at most three.
	hevcZeros = 8
	// webpZeros is such a run of WebP data. A VP8 coder emits zero bits only
	// while all its decisions go the likelier way; libwebp flags blocks without
	// detail as skipped, and where too few of them are for that, a run lasts for
	// at most some rows of blocks: 64 bytes would be about 700 even blocks in
	// a row. VP8L copies what repeats instead of coding it. Among some 60 sound
	// files the longest run was of 20 bytes, and of 10 at the end.
	webpZeros = 64
	// webpLastZeros is such a run at the very end, where the last rows may be
	// even and coders add up to 4.
	webpLastZeros = 32
)

// holds says whether data has a run of n zero bytes.
func holds(data []byte, n int) bool { return bytes.Contains(data, make([]byte, n)) }

func filledUp(format string) *Refusal {
	return damaged(words.Say("photo.filled-up", words.Name("format", format)))
}

// wholeWebP refuses a WebP file whose chunks (RIFF) do not follow each other to
// its end, or whose picture is partly zeros.
func wholeWebP(data []byte) error {
	end := min(int(le32(data[4:]))+8, len(data))
	for at := 12; at+8 <= end; {
		kind, length := string(data[at:at+4]), int64(le32(data[at+4:]))
		if length > int64(end-at-8) {
			return truncated(len(data), words.Say("photo.end-in-chunk"))
		}
		body := data[at+8 : at+8+int(length)]
		switch kind {
		case "\x00\x00\x00\x00":
			return filledUp("WebP")
		case "VP8 ", "VP8L", "ALPH":
			last := len(body) - len(bytes.TrimRight(body, "\x00"))
			if last >= webpLastZeros || holds(body, webpZeros) {
				return filledUp("WebP")
			}
		}
		at += 8 + int(length+length&1)
	}
	return nil
}

// wholeHEIC refuses a HEIC file whose coded pictures are partly zeros or lie
// beyond its end. meta is the content of its meta box.
func wholeHEIC(data, meta []byte) error {
	for _, e := range codedExtents(meta) {
		if e.from > uint64(len(data)) || e.length > uint64(len(data))-e.from {
			return truncated(len(data), words.Say("photo.end-before-picture"))
		}
		if holds(data[e.from:e.from+e.length], hevcZeros) {
			return filledUp("HEIC")
		}
	}
	return nil
}
