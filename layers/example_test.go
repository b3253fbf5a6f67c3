package layers_test

import (
	"fmt"
	"os"
	"path/filepath"

	"mudline/imaging"
	"mudline/internal/jartest"
	"mudline/layers"
)

// One photo of a rendered jar: cut the strip of its front by the frame, read the layers. The
// truth, which lies beside the photo, has the top of the deposit at 24.9 mm.
func ExampleRead() {
	jar, err := jartest.ReadTruth(filepath.Join("..", "testdata", "jars", "open-11"))
	if err != nil {
		panic(err)
	}
	last := jar.Photos[len(jar.Photos)-1]
	data, err := os.ReadFile(filepath.Join(jar.Dir, last.File))
	if err != nil {
		panic(err)
	}
	photo, err := imaging.Open(imaging.PureGo{}, last.File, data)
	if err != nil {
		panic(err)
	}
	const above, below = 1.12, -0.08 // of the water's height
	depth := jar.WaterHeightMM
	s := imaging.CutStrip(photo.Picture, last.Frame(depth), above, below)
	got, err := layers.Read([]layers.Strip{{W: s.W, H: s.H, USpan: s.USpan, Lab: s.Lab, TopMM: above * depth, BottomMM: below * depth,
		Water: layers.Depth{MM: depth}, ElapsedS: last.ElapsedS, FrameSDMM: 0.15}})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("truth %.1f mm, read %.0f mm\n", *last.FacingHeights.DepositTop, got[0].DepositTop.HeightMM)
	// Output: truth 24.9 mm, read 25 mm
}
