package jartest

import (
	"bytes"
	"image"
	"image/jpeg"
	"os"
	"path/filepath"
	"sync"

	"golang.org/x/image/draw"

	"mudline/imaging"
)

// SmallPhotos are the rendered jars of testdata reduced to 600 pixels, as JPEG, by jar, in
// order of time; for tests of a package two folders below the repository's.
var SmallPhotos = sync.OnceValue(func() map[string][][]byte {
	paths, _ := filepath.Glob(filepath.Join("..", "..", "testdata", "jars", "*", "*.jpg"))
	jars := map[string][][]byte{}
	for _, p := range paths {
		data, err := os.ReadFile(p)
		if err != nil {
			panic(err)
		}
		pic, err := jpeg.Decode(bytes.NewReader(data))
		if err != nil {
			panic(err)
		}
		w, h := imaging.Fit(pic.Bounds().Dx(), pic.Bounds().Dy(), 600)
		small := image.NewRGBA(image.Rect(0, 0, w, h))
		draw.BiLinear.Scale(small, small.Rect, pic, pic.Bounds(), draw.Src, nil)
		var b bytes.Buffer
		if err := jpeg.Encode(&b, small, &jpeg.Options{Quality: 92}); err != nil {
			panic(err)
		}
		jar := filepath.Base(filepath.Dir(p))
		jars[jar] = append(jars[jar], b.Bytes())
	}
	return jars
})
