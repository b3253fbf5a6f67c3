package imaging

import (
	"bytes"
	"fmt"
	"image"
	"time"

	"golang.org/x/image/tiff"
	"golang.org/x/image/webp"

	"mudline/internal/words"
)

// The limits on a picture, in pixels as stored. They are checked on the head of
// the file, before memory for the pixels is asked for.
const (
	// MinSide is the shortest side from which layers could be told apart.
	MinSide = 240
	// MaxPixels holds any phone's largest picture (108 megapixels) and bounds
	// the memory one file can claim.
	MaxPixels = 120_000_000
	// MaxHEICPixels is the most that is decoded of HEIC, which cannot be reduced on the way:
	// 8064 x 6048 pixels took 1.0 GB and 20 s. Phones write 12 and 24 megapixels unless they
	// are told to write more. What a browser has decoded is bound by MaxPixels alone.
	MaxHEICPixels = 26_000_000
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

// Inspect looks at the head of an encoded picture, and at its frame of segments
// or chunks to the end, and decodes no pixel. The error is a *Refusal: nothing
// there, not a picture, a format that is not read, cut short, or a size outside
// the limits.
func Inspect(data []byte) (Info, error) {
	if len(data) == 0 {
		return Info{}, refuse(CodeEmpty, words.Say("photo.empty"), copyAgain)
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
	width, height := words.Whole("w", w), words.Whole("h", h)
	switch {
	case short < MinSide:
		return refuse(CodeTooSmall, words.Say("photo.too-small", width, height, words.Whole("least", MinSide)), words.Say("do.use-whole-photo"))
	case int64(w)*int64(h) > MaxPixels:
		return refuse(CodeTooLarge, words.Say("photo.too-large", width, height, words.Whole("most", MaxPixels/1_000_000)), words.Say("do.reduce-photo"))
	case long > MaxAspect*short:
		return refuse(CodeTooSmall, words.Say("photo.too-narrow", width, height, words.Whole("most", MaxAspect)), words.Say("do.no-panorama"))
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
			return "", notRead(other.name)
		}
	}
	for _, magic := range []string{"\xff\xd8\xff", "\x89PNG\r\n\x1a\n", "RIFF", "II*\x00", "MM\x00*"} {
		if len(data) < len(magic) && magic[:len(data)] == string(data) {
			return "", truncated(len(data), words.Say("photo.end-in-first-bytes"))
		}
	}
	return "", refuse(CodeNotImage, words.Say("photo.no-picture", words.Told("start", firstBytes(data))), words.Say("do.give-photos"))
}

// sniffISO tells a HEIC picture from the other files built of ISO boxes.
func sniffISO(data []byte) (string, error) {
	if len(data) < 12 {
		return "", truncated(len(data), words.Say("photo.end-in-first-box"))
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
		return "", notRead("AVIF")
	case seen["crx "]:
		return "", raw()
	case seen["mif1"]:
		return "heic", nil
	}
	return "", refuse(CodeUnsupported, words.Say("photo.film", words.Quoted("brand", brands[0])), words.Say("do.still-from-film"))
}

// notRead refuses a file of another format; the kinds that are no names of their own
// are words of the catalogue.
func notRead(format string) *Refusal {
	return refuse(CodeUnsupported, words.Say("photo.other-format", words.Word("format", "photo", format)), useJPEG)
}

func truncated(n int, where words.Message) *Refusal {
	return refuse(CodeTruncated, words.Say("photo.cut-short", words.Whole("bytes", n), words.Told("where", where)), copyAgain)
}

func firstBytes(data []byte) words.Message {
	head := data[:min(8, len(data))]
	for _, b := range head {
		if b < ' ' || b > '~' {
			return words.Say("photo.first-bytes", words.Name("bytes", fmt.Sprintf("% x", head)))
		}
	}
	return words.Quote(string(head))
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
		return truncated(len(data), words.Say("photo.end-in-header"))
	}
	if claimed := int64(le32(data[4:])) + 8; claimed > int64(len(data)) {
		return truncated(len(data), words.Say("photo.end-before-stated", words.Whole("bytes", claimed)))
	}
	if len(data) > 20 && string(data[12:16]) == "VP8X" && data[20]&0x02 != 0 {
		return refuse(CodeUnsupported, words.Say("photo.animation"), words.Say("do.use-still"))
	}
	if err := readConfig(data, info, func(r *bytes.Reader) (image.Config, error) { return webp.DecodeConfig(r) }); err != nil {
		return err
	}
	return wholeWebP(data)
}

func frameTIFF(data []byte, info *Info) error {
	if isRawTIFF(data) {
		return raw()
	}
	return readConfig(data, info, func(r *bytes.Reader) (image.Config, error) { return tiff.DecodeConfig(r) })
}
