package batch

import (
	"mudline/imaging"
	"mudline/internal/files"
	"mudline/texture"
)

// MinMemory is the smallest memory a batch can be told to keep to: the program
// itself and one jar of ordinary photos.
const MinMemory = 256 << 20

// DefaultMemory is what a batch keeps to when nothing is said.
const DefaultMemory = 2 << 30

// What memory is reckoned for. The program stands for all that is not a jar's
// own. Of a photo its working picture stays until the jar is read, 8 bytes a
// pixel with what was seen in it; looking at one and drawing it takes 20 bytes a
// pixel more. Measured: a jar of three 12-megapixel photos took 114 MB, of three
// progressive ones 200 MB, of 48 megapixels 800 MB, garbage included.
const (
	programBytes = 96 << 20
	jarBytes     = 16 << 20
	keptBytes    = 8
	lookingBytes = 20
)

// bytesPerPixel is what decoding takes for a pixel of the file, with the garbage
// it leaves: the planes of a JPEG without chroma subsampling, and its
// coefficients where it is progressive; channels of 8 or 16 bits and their copies
// in PNG and TIFF; for HEIC the decoder's own memory (measured: 24 and 20 for
// HEIC and PNG).
func bytesPerPixel(format string, data []byte) int64 {
	switch format {
	case "jpeg":
		if progressive(data) {
			return 3 + 12
		}
		return 3
	case "heic":
		return 24
	case "webp":
		return 10
	}
	return 20
}

// progressive says whether a JPEG file is of that kind: its frame header is SOF2
// (ISO/IEC 10918-1, table B.1).
func progressive(data []byte) bool {
	for at := 2; at+4 <= len(data) && data[at] == 0xff; {
		switch marker := data[at+1]; {
		case marker == 0xff:
			at++
		case marker == 0xc2:
			return true
		case marker >= 0xc0 && marker <= 0xcf && marker != 0xc4 && marker != 0xc8 && marker != 0xcc, marker == 0xda:
			return false
		default:
			at += 2 + int(data[at+2])<<8 + int(data[at+3])
		}
	}
	return false
}

// weight is the memory the reading of a jar takes, reckoned from the heads of
// its photos before a pixel is decoded: one photo is decoded at a time. What
// cannot be opened weighs nothing: it will be refused.
func (r *runner) weight(j *Jar) int64 {
	var kept, looking, decoding int64
	for _, rel := range j.Photos {
		data, err := files.Read(r.plan.abs(rel), files.MaxPhotoBytes)
		if err != nil {
			continue
		}
		info, err := imaging.Inspect(data)
		if err != nil {
			continue
		}
		w, h := imaging.Fit(info.W, info.H, imaging.WorkingSide)
		working := int64(w) * int64(h)
		kept += working * keptBytes
		looking = max(looking, working*lookingBytes)
		decoding = max(decoding, int64(len(data))+int64(info.W)*int64(info.H)*bytesPerPixel(info.Format, data))
	}
	if n := int64(len(j.Photos)); n > texture.MaxPhotos { // a film: nothing is kept of most
		kept = kept / n * texture.MaxPhotos
	}
	return jarBytes + kept + looking + decoding
}
