package apng

import (
	"bytes"
	"encoding/base64"
	"encoding/binary"
	"hash/crc32"
	"image"
	"image/color"
	"image/draw"
	"image/png"
	"os"
	"path/filepath"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mudline/internal/browsertest"
)

func TestMain(m *testing.M) { os.Exit(browsertest.Run(m)) }

func film(n int) (out []Frame) {
	p := color.Palette{color.RGBA{10, 20, 30, 255}, color.RGBA{200, 100, 50, 255}}
	for i := range n {
		pic := image.NewPaletted(image.Rect(0, 0, 40, 30), p)
		for k := range 30 * (i + 1) {
			pic.Pix[k] = 1
		}
		out = append(out, Frame{pic, 250 * time.Millisecond})
	}
	return out
}

// TestAnimation takes a file apart as the PNG specification says: lengths, CRCs
// (section 5.3), one count over fcTL and fdAT (11.3.6), and, put back together, the
// pictures.
func TestAnimation(t *testing.T) {
	var b bytes.Buffer
	frames := film(4)
	require.NoError(t, Encode(&b, frames))
	first, err := png.Decode(bytes.NewReader(b.Bytes()))
	require.NoError(t, err, "a reader without animation shows the first picture")
	assert.Equal(t, frames[0].Picture.Pix, first.(*image.Paletted).Pix)

	var head []chunk // of every picture
	var data [][]byte
	next, plays := uint32(0), 0
	for at := 8; at < b.Len(); {
		n := int(binary.BigEndian.Uint32(b.Bytes()[at:]))
		body := b.Bytes()[at+4 : at+8+n]
		assert.Equal(t, crc32.ChecksumIEEE(body), binary.BigEndian.Uint32(b.Bytes()[at+8+n:]))
		switch c := (chunk{string(body[:4]), body[4:]}); c.kind {
		case "IHDR", "PLTE":
			head = append(head, c)
		case "acTL":
			plays = int(binary.BigEndian.Uint32(c.data))
		case "fcTL":
			assert.Equal(t, next, binary.BigEndian.Uint32(c.data))
			assert.Len(t, c.data, 26)
			assert.Equal(t, []byte{0, 250, 0x03, 0xe8}, c.data[20:24], "250 of 1000 parts of a second")
			next++
			data = append(data, nil)
		case "IDAT":
			data[len(data)-1] = append(data[len(data)-1], c.data...)
		case "fdAT":
			assert.Equal(t, next, binary.BigEndian.Uint32(c.data))
			next++
			data[len(data)-1] = append(data[len(data)-1], c.data[4:]...)
		}
		at += 12 + n
	}
	require.Equal(t, 4, plays)
	require.Len(t, data, 4)
	for i, d := range data {
		var one bytes.Buffer
		one.WriteString("\x89PNG\r\n\x1a\n")
		for _, c := range append(head[:len(head):len(head)], chunk{"IDAT", d}, chunk{"IEND", nil}) {
			write(&one, c.kind, c.data)
		}
		pic, err := png.Decode(&one)
		require.NoError(t, err)
		assert.Equal(t, frames[i].Picture.Pix, pic.(*image.Paletted).Pix)
	}
}

// Another reader, Chromium's, counts the same pictures, how long each is shown, and finds
// the colours of the third.
func TestAnotherReader(t *testing.T) {
	frames := film(5)
	var b bytes.Buffer
	require.NoError(t, Encode(&b, frames))
	file := filepath.Join(t.TempDir(), "blank.html")
	require.NoError(t, os.WriteFile(file, []byte("<!doctype html><html lang=en><title>blank</title>"), 0o644))
	type picture struct {
		Frames int
		Millis float64
		Pixels []uint8
	}
	got := browsertest.Eval[picture](browsertest.OpenFile(t, file, browsertest.View{Width: 100, Height: 100}), `(async () => {
		const data = Uint8Array.from(atob("`+base64.StdEncoding.EncodeToString(b.Bytes())+`"), (c) => c.charCodeAt(0));
		const decoder = new ImageDecoder({ data, type: "image/png" });
		await decoder.completed;
		const { image } = await decoder.decode({ frameIndex: 2 });
		const context = new OffscreenCanvas(image.displayWidth, image.displayHeight).getContext("2d");
		context.drawImage(image, 0, 0);
		const { data: pixels } = context.getImageData(0, 0, image.displayWidth, image.displayHeight);
		return { Frames: decoder.tracks.selectedTrack.frameCount, Millis: image.duration / 1000, Pixels: Array.from(pixels) };
	})()`)
	assert.Equal(t, 5, got.Frames)
	assert.InDelta(t, 250, got.Millis, 1)
	want := image.NewRGBA(frames[2].Picture.Rect)
	draw.Draw(want, want.Rect, frames[2].Picture, image.Point{}, draw.Src)
	assert.Equal(t, want.Pix, got.Pixels)
}

func TestPalette(t *testing.T) {
	pic := image.NewRGBA(image.Rect(0, 0, 40, 40))
	want := []color.RGBA{{0, 0, 0, 255}, {255, 255, 255, 255}, {200, 40, 40, 255}, {40, 40, 200, 255}}
	for i := range 1600 {
		pic.SetRGBA(i%40, i/40, want[i%4])
	}
	p := Palette([]*image.RGBA{pic}, 4)
	require.Len(t, p, 4)
	for _, c := range want {
		assert.Contains(t, p, color.Color(c))
	}
	small := Reduced(pic, p)
	assert.Equal(t, color.Color(want[3]), small.At(3, 0))
}

func TestNoPictures(t *testing.T) {
	assert.Error(t, Encode(&bytes.Buffer{}, nil))
	two := film(2)
	two[1].Picture = image.NewPaletted(image.Rect(0, 0, 3, 3), two[0].Picture.Palette)
	assert.ErrorContains(t, Encode(&bytes.Buffer{}, two), "one size")
}
