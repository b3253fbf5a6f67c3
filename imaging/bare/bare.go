// Package bare takes out of an encoded photo what the reading does not need:
// where it was taken, whose camera it was, its serial number, small copies of the
// picture, notes and films behind it. The picture itself is not coded anew. Of the
// metadata only what the program reads stays: when it was taken, which way is up and
// the focal length. What stays is listed; all else goes, known or not.
package bare

import (
	"mudline/imaging"
	"mudline/internal/words"
)

// Photo gives a photo without what it need not tell. JPEG, PNG and WebP lose the
// segments and chunks that are no part of the picture; TIFF is put together anew from its
// strips; in HEIC all bytes that are no part of the picture become zero. The error is a
// *imaging.Refusal for what is no photo, and for one built so that nothing sure can
// be said of what is in it.
func Photo(data []byte) ([]byte, error) {
	info, err := imaging.Inspect(data)
	if err != nil {
		return nil, err
	}
	switch info.Format {
	case "jpeg":
		return bareJPEG(data, info)
	case "png":
		return barePNG(data, info)
	case "webp":
		return bareWebP(data, info)
	case "tiff":
		return bareTIFF(data, info)
	}
	return bareHEIC(data, info)
}

// unclear refuses a photo whose build leaves open what of it is the picture.
func unclear(format string) error {
	return &imaging.Refusal{Code: imaging.CodeDamaged,
		Text: words.Say("photo.unclear", words.Name("format", format)), Remedy: words.Say("do.add-as-jpeg")}
}
