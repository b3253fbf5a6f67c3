package imaging

import (
	"bytes"
	"math"
	"strconv"
	"strings"
	"time"

	"github.com/bep/imagemeta"
)

// readEXIF fills the EXIF fields of info (CIPA DC-008, Exif 2.32). Damaged
// metadata leave the fields at "unknown": the pixels may still be sound, and a
// time that is then missing is asked for by name later.
func readEXIF(data []byte, info *Info) {
	wanted := map[string]func(v any){}
	var taken, offset string
	wanted["DateTimeOriginal"] = func(v any) { taken = asText(v) }
	wanted["OffsetTimeOriginal"] = func(v any) { offset = asText(v) }
	wanted["FocalLengthIn35mmFormat"] = func(v any) {
		if f := asNumber(v); f > 0 && f < 10000 {
			info.Focal35MM = f
		}
	}
	wanted["Orientation"] = func(v any) {
		if o := asNumber(v); o >= 1 && o <= 8 && info.Format != "heic" {
			info.Orientation, info.Oriented = int(o), true
		}
	}
	// The error is left: what was read before the damage stands.
	_ = decodeEXIF(data, info.Format, wanted)
	info.Taken, info.HasOffset = exifTime(taken, offset)
}

// decodeEXIF calls wanted[tag] for the tags of the main directory and its EXIF
// directory.
func decodeEXIF(data []byte, format string, wanted map[string]func(any)) error {
	kinds := map[string]imagemeta.ImageFormat{
		"jpeg": imagemeta.JPEG, "png": imagemeta.PNG, "webp": imagemeta.WebP,
		"tiff": imagemeta.TIFF, "heic": imagemeta.HEIF,
	}
	_, err := imagemeta.Decode(imagemeta.Options{
		R: bytes.NewReader(data), ImageFormat: kinds[format], Sources: imagemeta.EXIF,
		ShouldHandleTag: func(t imagemeta.TagInfo) bool {
			return wanted[t.Tag] != nil && strings.HasPrefix(t.Namespace, "IFD0")
		},
		HandleTag: func(t imagemeta.TagInfo) error {
			wanted[t.Tag](t.Value)
			return nil
		},
	})
	return err
}

// exifTime joins DateTimeOriginal ("2026:05:03 14:03:22") and its offset from
// UTC ("+02:00"). Without a usable offset the wall clock is held in UTC.
func exifTime(taken, offset string) (t time.Time, hasOffset bool) {
	const layout = "2006:01:02 15:04:05"
	t, err := time.Parse(layout, taken)
	if err != nil || t.Year() < 1900 {
		return time.Time{}, false
	}
	zone, err := time.Parse("-07:00", offset)
	if err != nil {
		return t, false
	}
	_, seconds := zone.Zone()
	// UTC-12:00 to UTC+14:00 are in use.
	if seconds < -12*3600 || seconds > 14*3600 {
		return t, false
	}
	place := time.UTC
	if seconds != 0 {
		place = time.FixedZone(offset, seconds)
	}
	return time.Date(t.Year(), t.Month(), t.Day(), t.Hour(), t.Minute(), t.Second(), 0, place), true
}

func asText(v any) string {
	s, _ := v.(string)
	return strings.TrimSpace(strings.TrimRight(s, "\x00"))
}

// asNumber gives a numeric EXIF value, NaN if it is none.
func asNumber(v any) float64 {
	switch n := v.(type) {
	case uint8:
		return float64(n)
	case uint16:
		return float64(n)
	case uint32:
		return float64(n)
	case int32:
		return float64(n)
	case int:
		return float64(n)
	case float64:
		return n
	case string:
		if f, err := strconv.ParseFloat(strings.TrimSpace(n), 64); err == nil {
			return f
		}
	}
	return math.NaN()
}
