package main

import (
	"errors"
	"fmt"
	"image"
	"syscall/js"
)

// The kinds of picture that the HEIC decoder gives, by its numbers.
const (
	heicYCbCr, heicGrey = 0, 2
)

// errHEIC is what is known of a HEIC picture that the decoder gives up on.
var errHEIC = errors.New("its picture cannot be decoded")

// decodeHEIC has the decoder that the worker loaded for such a file (heif.js) decode it:
// {space, chroma, premultiplied, width, height, stride, chromaStride, pixels}, or null.
func decodeHEIC(decoder js.Value) func(data []byte) (image.Image, error) {
	return func(data []byte) (image.Image, error) {
		got := decoder.Invoke(toJS(data))
		if got.IsNull() {
			return nil, errHEIC
		}
		number := func(name string) int { return got.Get(name).Int() }
		return heicPicture(number, fromJS(got.Get("pixels")))
	}
}

// heicPicture lays a picture over the pixels as the decoder puts them: its planes one after
// the other.
func heicPicture(number func(name string) int, pix []byte) (image.Image, error) {
	w, h, stride := number("width"), number("height"), number("stride")
	rect := image.Rect(0, 0, w, h)
	switch number("space") {
	case heicYCbCr:
		ratios := map[int]image.YCbCrSubsampleRatio{1: image.YCbCrSubsampleRatio420, 2: image.YCbCrSubsampleRatio422, 3: image.YCbCrSubsampleRatio444}
		ratio, ok := ratios[number("chroma")]
		if !ok {
			return nil, errHEIC
		}
		chromaStride, chromaRows := number("chromaStride"), h
		if ratio == image.YCbCrSubsampleRatio420 {
			chromaRows = (h + 1) / 2
		}
		cb, cr := stride*h, stride*h+chromaStride*chromaRows
		end := cr + chromaStride*chromaRows
		if len(pix) < end {
			return nil, fmt.Errorf("%d bytes are no picture of %d x %d", len(pix), w, h)
		}
		return &image.YCbCr{Y: pix[:cb:cb], Cb: pix[cb:cr:cr], Cr: pix[cr:end:end], YStride: stride, CStride: chromaStride, SubsampleRatio: ratio, Rect: rect}, nil
	case heicGrey:
		return &image.Gray{Pix: pix, Stride: stride, Rect: rect}, nil
	}
	if number("premultiplied") == 1 {
		return &image.RGBA{Pix: pix, Stride: stride, Rect: rect}, nil
	}
	return &image.NRGBA{Pix: pix, Stride: stride, Rect: rect}, nil
}
