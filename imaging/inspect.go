package imaging

import (
	"bytes"
	"fmt"
	"image"
	"time"

	"golang.org/x/image/tiff"
	"golang.org/x/image/webp"
)

// The limits on a picture, in pixels as stored. They are checked on the head of
// the file, before memory for the pixels is asked for.
const (
	// MinSide is the shortest side from which layers could be told apart.
	MinSide = 240
	// MaxPixels holds any phone's largest picture (108 megapixels) and bounds
	// the memory one file can claim.
	MaxPixels = 120_000_000
	// MaxAspect is the longest a picture may be for its width.
	MaxAspect = 6
)

// Info is what Inspect learned from a file's head, without decoding pixels.
type Info struct {
	// Format is "jpeg", "png", "webp", "tiff" or "heic".
	Format string
	// W, H are the stored size in pixels, before Orientation.
	W, H int
	// Orientation is the EXIF orientation 1..8; 1 when absent. It is always 1
	// for HEIC, whose decoder applies the container's own rotation (ISO/IEC
	// 23008-12 irot and imir; EXIF orientation does not count there).
	Orientation int
	// Oriented says whether the file tells which way is up.
	Oriented bool
	// Taken, HasOffset and Focal35MM as in Photo.
	Taken     time.Time
	HasOffset bool
	Focal35MM float64
}

// Upright is the size of the picture once Orientation is applied.
func (i Info) Upright() (w, h int) {
	if i.Orientation >= 5 {
		return i.H, i.W
	}
	return i.W, i.H
}

const (
	remedyCopyAgain = "copy the photo from the phone again, as the original file"
	remedyUseJPEG   = "save it as JPEG, PNG, WebP, TIFF or HEIC and read that"
)

// Inspect looks at the head of an encoded picture, and at its frame of segments
// or chunks to the end, and decodes no pixel. The error is a *Refusal: nothing
// there, not a picture, a format that is not read, cut short, or a size outside
// the limits.
func Inspect(data []byte) (Info, error) {
	if len(data) == 0 {
		return Info{}, refuse(CodeEmpty, remedyCopyAgain, "the file is empty (0 bytes)")
	}
	format, err := sniff(data)
	if err != nil {
		return Info{}, err
	}
	info := Info{Format: format, Orientation: 1, Oriented: format == "heic"}
	if err := frameOf(format)(data, &info); err != nil {
		return Info{}, err
	}
	if err := checkSize(info.W, info.H); err != nil {
		return Info{}, err
	}
	readEXIF(data, &info)
	return info, nil
}

// checkSize refuses a picture outside the limits.
func checkSize(w, h int) error {
	short, long := min(w, h), max(w, h)
	switch {
	case short < MinSide:
		return refuse(CodeTooSmall, "use the photo as the camera took it, not a thumbnail or a cut-out",
			"the picture is %d x %d pixels; both sides must be at least %d", w, h, MinSide)
	case int64(w)*int64(h) > MaxPixels:
		return refuse(CodeTooLarge, "reduce the picture to about 12 megapixels (4000 x 3000) and read that",
			"the picture claims %d x %d pixels; at most %d megapixels are read", w, h, MaxPixels/1_000_000)
	case long > MaxAspect*short:
		return refuse(CodeTooSmall, "use an ordinary photo of the whole jar, not a panorama or a narrow cut-out",
			"the picture is %d x %d pixels; the long side may be at most %d times the short one", w, h, MaxAspect)
	}
	return nil
}

// frameOf gives the function that finds a format's size and checks that the
// file goes on to its end.
func frameOf(format string) func([]byte, *Info) error {
	switch format {
	case "jpeg":
		return frameJPEG
	case "png":
		return framePNG
	case "webp":
		return frameWebP
	case "tiff":
		return frameTIFF
	default:
		return frameHEIC
	}
}

// sniff tells the format by the file's first bytes.
func sniff(data []byte) (string, error) {
	has := func(at int, s string) bool {
		return len(data) >= at+len(s) && string(data[at:at+len(s)]) == s
	}
	switch {
	case has(0, "\xff\xd8\xff"):
		return "jpeg", nil
	case has(0, "\x89PNG\r\n\x1a\n"):
		return "png", nil
	case has(0, "RIFF") && has(8, "WEBP"):
		return "webp", nil
	case has(0, "II*\x00"), has(0, "MM\x00*"):
		return "tiff", nil
	case has(4, "ftyp"):
		return sniffISO(data)
	}
	for _, other := range []struct{ magic, name string }{
		{"GIF8", "GIF"}, {"BM", "BMP"}, {"%PDF", "PDF"}, {"II+\x00", "BigTIFF"}, {"MM\x00+", "BigTIFF"},
		{"\x00\x00\x00\x0cJXL ", "JPEG XL"}, {"\xff\x0a", "JPEG XL"}, {"\x00\x00\x00\x0cjP  ", "JPEG 2000"},
		{"FUJIFILMCCD-RAW", "camera raw"}, {"8BPS", "layered picture"},
	} {
		if has(0, other.magic) {
			return "", refuse(CodeUnsupported, remedyUseJPEG, "the file is in %s format, which is not read", other.name)
		}
	}
	for _, magic := range []string{"\xff\xd8\xff", "\x89PNG\r\n\x1a\n", "RIFF", "II*\x00", "MM\x00*"} {
		if len(data) < len(magic) && magic[:len(data)] == string(data) {
			return "", truncated(len(data), "inside its first bytes")
		}
	}
	return "", refuse(CodeNotImage, "give the photos themselves: JPEG, PNG, WebP, TIFF or HEIC files",
		"the file is not a picture (it begins with %s)", firstBytes(data))
}

// sniffISO tells a HEIC picture from the other files built of ISO boxes.
func sniffISO(data []byte) (string, error) {
	if len(data) < 12 {
		return "", truncated(len(data), "inside its first box")
	}
	size := min(int(be32(data)), len(data))
	brands := []string{string(data[8:12])}
	for at := 16; at+4 <= size; at += 4 {
		brands = append(brands, string(data[at:at+4]))
	}
	seen := map[string]bool{}
	for _, b := range brands {
		seen[b] = true
	}
	switch {
	case seen["heic"] || seen["heix"] || seen["heim"] || seen["heis"]:
		return "heic", nil
	case seen["avif"] || seen["avis"]:
		return "", refuse(CodeUnsupported, remedyUseJPEG, "the file is in AVIF format, which is not read")
	case seen["crx "]:
		return "", refuse(CodeUnsupported, remedyUseJPEG, "the file is a camera raw file, which is not read")
	case seen["mif1"]:
		return "heic", nil
	}
	return "", refuse(CodeUnsupported, "take a still photo, or save one frame of the film as JPEG",
		"the file is a film or another ISO media file (brand %q), not a still picture", brands[0])
}

func truncated(n int, where string) *Refusal {
	return refuse(CodeTruncated, remedyCopyAgain, "the picture is cut short: its %d bytes end %s", n, where)
}

func firstBytes(data []byte) string {
	head := data[:min(8, len(data))]
	for _, b := range head {
		if b < ' ' || b > '~' {
			return fmt.Sprintf("bytes % x", head)
		}
	}
	return fmt.Sprintf("%q", head)
}

// readConfig reads a size with one of x/image's decoders.
func readConfig(data []byte, info *Info, decode func(*bytes.Reader) (image.Config, error)) error {
	cfg, err := decode(bytes.NewReader(data))
	if err != nil {
		return decodeRefusal(info.Format, len(data), err)
	}
	info.W, info.H = cfg.Width, cfg.Height
	return nil
}

func frameWebP(data []byte, info *Info) error {
	if len(data) < 12 {
		return truncated(len(data), "in its header")
	}
	if claimed := int64(le32(data[4:])) + 8; claimed > int64(len(data)) {
		return truncated(len(data), fmt.Sprintf("before the %d its header states", claimed))
	}
	if len(data) > 20 && string(data[12:16]) == "VP8X" && data[20]&0x02 != 0 {
		return refuse(CodeUnsupported, "use a still photo", "the file is an animation, which is not read")
	}
	return readConfig(data, info, func(r *bytes.Reader) (image.Config, error) { return webp.DecodeConfig(r) })
}

func frameTIFF(data []byte, info *Info) error {
	if isRawTIFF(data) {
		return refuse(CodeUnsupported, remedyUseJPEG, "the file is a camera raw file, which is not read")
	}
	return readConfig(data, info, func(r *bytes.Reader) (image.Config, error) { return tiff.DecodeConfig(r) })
}
