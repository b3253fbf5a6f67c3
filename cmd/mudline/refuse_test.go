package main

import (
	"bytes"
	"encoding/binary"
	"encoding/json"
	"hash/crc32"
	"image"
	"image/color"
	"image/draw"
	"image/jpeg"
	"image/png"
	"math/rand/v2"
	"os"
	"path/filepath"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mudline/internal/jartest"
	"mudline/internal/reading"
	"mudline/internal/testkit"
)

// refused reads a folder of photos that give no reading and checks all that a
// refusal promises: exit status 3, one of the codes, a text that names a photo,
// a remedy, JSON that keeps to the schema, and no file left behind.
func refused(t *testing.T, photos map[string][]byte, options []string, codes ...reading.RefusalCode) {
	t.Helper()
	dir := t.TempDir()
	for name, data := range photos {
		require.NoError(t, os.WriteFile(filepath.Join(dir, name), data, 0o644))
	}
	out := filepath.Join(t.TempDir(), "out")
	status, text, errText := whole(t, append([]string{"read", dir, "--json", "--out", out}, options...)...)
	require.Equal(t, statusRefused, status, "%s%s", text, errText)
	v, err := jsonschema.UnmarshalJSON(bytes.NewReader([]byte(text)))
	require.NoError(t, err)
	require.NoError(t, schema(t).Validate(v))
	var d reading.RefusalDocument
	require.NoError(t, json.Unmarshal([]byte(text), &d))
	assert.Contains(t, codes, d.Refused.Code, d.Refused.Text)
	named := false
	for name := range photos {
		named = named || bytes.Contains([]byte(d.Refused.Text), []byte(name))
	}
	assert.True(t, named, d.Refused.Text)
	assert.Contains(t, errText, "what to do: "+d.Refused.Remedy)
	assert.NoDirExists(t, out)
	assert.Len(t, names(t, dir), len(photos))
}

// photoOfJar opens photo i of a rendered jar; -1 is the last.
func photoOfJar(t *testing.T, jar string, i int) testkit.Rendered {
	t.Helper()
	return testkit.RenderedPhoto(t, filepath.Join("..", "..", "testdata", "jars", jar), i)
}

// photographed encodes a picture as a phone does.
func photographed(t *testing.T, pic image.Image) []byte {
	t.Helper()
	var b bytes.Buffer
	require.NoError(t, jpeg.Encode(&b, pic, &jpeg.Options{Quality: 92}))
	return jartest.WithEXIF(b.Bytes(), jartest.EXIF{Orientation: 1, Focal35MM: 26})
}

func pngOf(t *testing.T, pic image.Image) []byte {
	t.Helper()
	var b bytes.Buffer
	require.NoError(t, png.Encode(&b, pic))
	return b.Bytes()
}

func one(data []byte) map[string][]byte { return map[string][]byte{"a_2h.jpg": data} }

func TestRefusesFilesThatAreNoPhotos(t *testing.T) {
	whole := photoOfJar(t, "open-05", 1).Data
	refused(t, one(nil), nil, reading.EmptyFile)
	refused(t, one([]byte("this is no picture, only words\n")), nil, reading.NotAnImage)
	for _, share := range []int{2, 3, 10} {
		refused(t, one(whole[:len(whole)/share]), nil, reading.Truncated, reading.Damaged)
	}
	dot := image.NewRGBA(image.Rect(0, 0, 1, 1))
	dot.Set(0, 0, color.White)
	refused(t, one(pngOf(t, dot)), nil, reading.TooSmall)
	refused(t, one(headerOnly(60_000, 60_000)), nil, reading.TooLarge)
}

// headerOnly is a PNG that says it is so large and then ends.
func headerOnly(w, h uint32) []byte {
	head := append([]byte("IHDR"), 0, 0, 0, 0, 0, 0, 0, 0, 8, 2, 0, 0, 0)
	binary.BigEndian.PutUint32(head[4:], w)
	binary.BigEndian.PutUint32(head[8:], h)
	out := append([]byte("\x89PNG\r\n\x1a\n"), 0, 0, 0, 13)
	out = append(out, head...)
	return binary.BigEndian.AppendUint32(out, crc32.ChecksumIEEE(head))
}

// manyPictures leaves a test out of the short run: it reads many pictures, which
// is slow under the race detector, and the plain run has it.
func manyPictures(t *testing.T) {
	if testing.Short() {
		t.Skip("reads many pictures; the plain run has it")
	}
}

func TestRefusesDarkAndBlurredPhotos(t *testing.T) {
	p := photoOfJar(t, "open-08", -1)
	refused(t, one(photographed(t, image.NewGray(image.Rect(0, 0, 600, 800)))), nil, reading.TooDark)
	refused(t, one(photographed(t, jartest.Exposed(p.Picture, 0.15, 2))), nil, reading.TooDark)
	refused(t, one(photographed(t, jartest.Blurred(p.Picture, 12))), nil, reading.OutOfFocus)
}

// A bright sharp room does not make up for a jar that is neither.
func TestRefusesWhereOnlyTheJarIsDark(t *testing.T) {
	p := photoOfJar(t, "open-08", -1)
	dark := jartest.Exposed(p.Picture, 0.06, 1)
	inJar := image.Rect(int(p.Frame.Floor.X-p.Frame.HalfWidthFloor), int(p.Frame.At(0, 1.2).Y), int(p.Frame.Floor.X+p.Frame.HalfWidthFloor), int(p.Frame.Floor.Y+0.1*p.Frame.HalfWidthFloor))
	draw.Draw(p.Picture, inJar, dark, inJar.Min, draw.Src)
	refused(t, one(photographed(t, p.Picture)), nil, reading.TooDark, reading.NoJar)
}

func TestRefusesPicturesWithoutAJar(t *testing.T) {
	manyPictures(t)
	rng := rand.New(rand.NewPCG(3, 7))
	noise := func(sd float64) *image.RGBA {
		pic := image.NewRGBA(image.Rect(0, 0, 900, 1200))
		for i := range pic.Pix {
			pic.Pix[i] = uint8(min(max(128+sd*rng.NormFloat64(), 0), 255)) | uint8(255*(i%4/3))
		}
		return pic
	}
	without := func(jar string) []byte {
		p := photoOfJar(t, jar, 0)
		return photographed(t, jartest.WithoutJar(p.Picture, p.Frame))
	}
	beside := func(jar string) []byte {
		p := photoOfJar(t, jar, 0)
		left := image.Rect(0, 0, int(p.Frame.Floor.X-1.3*p.Frame.HalfWidthFloor), p.Picture.Rect.Dy())
		return photographed(t, p.Picture.SubImage(left))
	}
	for name, data := range map[string][]byte{
		"even wall":      photographed(t, noise(2)),
		"noise":          photographed(t, noise(60)),
		"a garden wall":  without("open-02"),
		"paper":          without("open-08"),
		"a shed":         without("open-11"),
		"a potted plant": beside("open-02"),
		"boards":         beside("open-11"),
	} {
		t.Run(name, func(t *testing.T) { refused(t, one(data), nil, reading.NoJar, reading.OutOfFocus) })
	}
}

// Not among them is open-02, which stands before bricks: their joints, bent by
// the clear water, are still taken for layers (see DEVELOPERS.md, weak spots).
func TestRefusesClearWaterWithoutSoil(t *testing.T) {
	manyPictures(t)
	for _, jar := range []string{"open-08", "open-11"} {
		t.Run(jar, func(t *testing.T) {
			p := photoOfJar(t, jar, -1)
			refused(t, map[string][]byte{"a_2d.jpg": photographed(t, jartest.ClearWater(p.Picture, p.Frame, p.Top))}, []string{"--water-depth", "130mm"}, reading.NoDeposit)
		})
	}
}

func TestRefusesWhatIsStillMixed(t *testing.T) {
	manyPictures(t)
	for _, jar := range []string{"open-02", "open-05", "open-08", "open-11", "open-13"} {
		t.Run(jar, func(t *testing.T) {
			p := photoOfJar(t, jar, 0)
			refused(t, map[string][]byte{"a_1min.jpg": photographed(t, jartest.StillMixed(p.Picture, p.Frame, p.Top))}, []string{"--water-depth", "130mm"}, reading.StillMixed)
		})
	}
}

func TestRefusesTwoJars(t *testing.T) {
	manyPictures(t)
	for _, pair := range [][2]string{{"open-02", "open-13"}, {"open-11", "open-05"}, {"open-08", "open-11"}, {"open-13", "open-11"}} {
		t.Run(pair[0]+" and "+pair[1], func(t *testing.T) {
			refused(t, map[string][]byte{"a_1min.jpg": photographed(t, photoOfJar(t, pair[0], 0).Picture), "b_2h.jpg": photographed(t, photoOfJar(t, pair[1], 1).Picture),
				"c_2d.jpg": photographed(t, photoOfJar(t, pair[1], -1).Picture)}, nil, reading.DifferentJars)
		})
	}
}

func TestRefusesTimesThatRunBackwards(t *testing.T) {
	early, late := photoOfJar(t, "open-05", 0).Data, photoOfJar(t, "open-05", -1).Data
	refused(t, map[string][]byte{"a_1min.jpg": late, "b_2d.jpg": early}, nil, reading.TimesBackwards)
	refused(t, map[string][]byte{"IMG_1.jpg": early}, []string{"--shaken", "2030-01-01 10:00"}, reading.TimesBackwards)
	refused(t, map[string][]byte{"IMG_1.jpg": photographed(t, photoOfJar(t, "open-05", 0).Picture)}, nil, reading.NoTime)
}
