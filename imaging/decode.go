package imaging

import (
	"bytes"
	"errors"
	"fmt"
	"image"
	"image/draw"
	"image/jpeg"
	"image/png"
	"io"
	"strings"

	"golang.org/x/image/tiff"
	"golang.org/x/image/webp"

	"mudline/imaging/pixels"
	"mudline/imaging/scaledjpeg"
	"mudline/internal/words"
)

// decodeFull decodes a picture that has passed Inspect, at its full size. The
// error is a *Refusal. A decoder that panics on damaged bytes is a refusal too.
func decodeFull(data []byte, info Info) (img image.Image, err error) {
	defer func() {
		if p := recover(); p != nil {
			img, err = nil, decodeRefusal(info.Format, len(data), fmt.Errorf("%v", p))
		}
	}()
	r := bytes.NewReader(data)
	switch info.Format {
	case "jpeg":
		img, err = jpeg.Decode(r)
	case "png":
		img, err = png.Decode(r)
	case "webp":
		if img, err = webp.Decode(r); err == nil {
			img = fullRange(img)
		}
	case "tiff":
		img, err = tiff.Decode(r)
	case "heic":
		if info.W*info.H > MaxHEICPixels {
			return nil, refuse(CodeTooLarge, words.Say("photo.heic-too-large", words.Whole("w", info.W), words.Whole("h", info.H), words.Whole("most", MaxHEICPixels/1_000_000)), words.Say("do.heic-smaller"))
		}
		img, err = decodeHEIC(r)
	default:
		return nil, refuse(CodeUnsupported, words.Say("photo.format-not-read", words.Quoted("format", info.Format)), useJPEG)
	}
	if err != nil {
		return nil, decodeRefusal(info.Format, len(data), err)
	}
	if b := img.Bounds(); b.Dx() < 1 || b.Dy() < 1 {
		return nil, damaged(words.Say("photo.decodes-to-nothing"))
	}
	return img, nil
}

// decodeRefusal turns a decoder's error into a refusal.
func decodeRefusal(format string, n int, err error) *Refusal {
	var known *Refusal
	if errors.As(err, &known) {
		return known
	}
	if errors.Is(err, io.ErrUnexpectedEOF) || errors.Is(err, io.EOF) {
		return truncated(n, words.Say("photo.end-before-complete"))
	}
	var jpegUnsupported jpeg.UnsupportedError
	var pngUnsupported png.UnsupportedError
	var tiffUnsupported tiff.UnsupportedError
	if errors.As(err, &jpegUnsupported) || errors.As(err, &pngUnsupported) || errors.As(err, &tiffUnsupported) {
		return refuse(CodeUnsupported, words.Say("photo.feature-not-read", words.Name("format", strings.ToUpper(format)), words.Because("why", err)), useJPEG)
	}
	return damaged(words.Say("photo.damaged", words.Name("format", strings.ToUpper(format)), words.Because("why", err)))
}

// reduceImage brings a decoded picture to the size that fits side. A YCbCr
// picture is reduced plane by plane, without a full-size RGB copy.
func reduceImage(img image.Image, side int) *image.RGBA {
	b := img.Bounds()
	w, h := Fit(b.Dx(), b.Dy(), side)
	if src, ok := img.(*image.YCbCr); ok {
		return reduceRGBA(w, h, func() [3]plane { return yCbCrPlanes(src) }, mixYCbCr)
	}
	return reduceRGBA(w, h, func() [3]plane { return rgbPlanes(img) }, mixRGB)
}

// decodeReduced decodes a JPEG picture that is to become several times smaller
// at a half, a quarter or an eighth of its size. ok is false for what must be
// decoded at full size, damaged pictures among them.
func decodeReduced(data []byte, info Info, side int) (pic *image.RGBA, ok bool) {
	by := 8
	for by > 1 && max(info.W, info.H) < by*side {
		by /= 2
	}
	if info.Format != "jpeg" || by == 1 {
		return nil, false
	}
	parts, ok := scaledjpeg.Decode(data, by)
	if !ok {
		return nil, false
	}
	channels := func() (planes [3]plane) {
		for i := range planes {
			p := parts[min(i, len(parts)-1)]
			planes[i] = storedPlane(p.Pix, p.Stride, p.W, p.H)
			planes[i].wide, planes[i].high = p.Wide, p.High
		}
		return planes
	}
	mix := mixYCbCr
	if len(parts) == 1 {
		mix = mixRGB // grey is all three
	}
	w, h := Fit(info.W, info.H, side)
	return reduceRGBA(w, h, channels, mix), true
}

// yCbCrPlanes gives the stored planes; chroma keeps its own smaller size.
func yCbCrPlanes(src *image.YCbCr) [3]plane {
	b := src.Rect
	yAt, cAt := src.YOffset(b.Min.X, b.Min.Y), src.COffset(b.Min.X, b.Min.Y)
	right, below := b.Max.X-1, b.Max.Y-1
	cw := src.COffset(right, b.Min.Y) - cAt + 1
	ch := (src.COffset(b.Min.X, below)-cAt)/src.CStride + 1
	return [3]plane{
		storedPlane(src.Y[yAt:], src.YStride, b.Dx(), b.Dy()),
		storedPlane(src.Cb[cAt:], src.CStride, cw, ch),
		storedPlane(src.Cr[cAt:], src.CStride, cw, ch),
	}
}

// mixYCbCr converts one row as JFIF defines it.
func mixYCbCr(dst *image.RGBA, y, cb, cr []uint8) {
	src := &image.YCbCr{
		Y: y, Cb: cb, Cr: cr, YStride: len(y), CStride: len(y),
		SubsampleRatio: image.YCbCrSubsampleRatio444, Rect: dst.Rect,
	}
	draw.Draw(dst, dst.Rect, src, image.Point{}, draw.Src)
}

// fullRange stretches the samples of a lossy WebP picture, which VP8 holds in
// the studio range of ITU-R BT.601 (16..235, 16..240; RFC 6386 section 9.2), to
// the full range that image.YCbCr stands for. Transparency is left out.
func fullRange(img image.Image) image.Image {
	var pic *image.YCbCr
	switch src := img.(type) {
	case *image.YCbCr:
		pic = src
	case *image.NYCbCrA:
		pic = &src.YCbCr
	default:
		return img
	}
	var luma, chroma [256]uint8
	for v := range 256 {
		luma[v] = uint8(pixels.Clamp(float64(v-16)*255/219+0.5, 255))
		chroma[v] = uint8(pixels.Clamp(float64(v-128)*255/224+128.5, 255))
	}
	for i, v := range pic.Y {
		pic.Y[i] = luma[v]
	}
	for i := range pic.Cb {
		pic.Cb[i], pic.Cr[i] = chroma[pic.Cb[i]], chroma[pic.Cr[i]]
	}
	return pic
}

// rgbPlanes converts any picture row by row as its rows are asked for; what is
// transparent is laid on white.
func rgbPlanes(img image.Image) [3]plane {
	b := img.Bounds()
	line := image.NewRGBA(image.Rect(0, 0, b.Dx(), 1))
	var channel [3][]uint8
	for k := range channel {
		channel[k] = make([]uint8, b.Dx())
	}
	have := -1
	load := func(y int) {
		if y == have {
			return
		}
		draw.Draw(line, line.Rect, image.White, image.Point{}, draw.Src)
		draw.Draw(line, line.Rect, img, image.Pt(b.Min.X, b.Min.Y+y), draw.Over)
		for i := range b.Dx() {
			channel[0][i], channel[1][i], channel[2][i] = line.Pix[4*i], line.Pix[4*i+1], line.Pix[4*i+2]
		}
		have = y
	}
	var planes [3]plane
	for k := range planes {
		planes[k] = newPlane(b.Dx(), b.Dy(), func(y int) []uint8 {
			load(y)
			return channel[k]
		})
	}
	return planes
}

func mixRGB(dst *image.RGBA, r, g, b []uint8) {
	for i := range r {
		d := dst.Pix[4*i : 4*i+4 : 4*i+4]
		d[0], d[1], d[2], d[3] = r[i], g[i], b[i], 255
	}
}
