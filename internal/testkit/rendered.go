package testkit

import (
	"image"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"

	"mudline/imaging"
	"mudline/internal/jartest"
)

// Rendered is one photo of a rendered jar, opened, with where its jar stands.
type Rendered struct {
	Picture *image.RGBA
	Frame   imaging.Frame
	Top     float64 // the deposit's, as a share of the water depth
	Data    []byte
}

// RenderedPhoto opens photo i of a folder with truth.json; -1 is the last.
func RenderedPhoto(t testing.TB, folder string, i int) Rendered {
	t.Helper()
	truth, err := jartest.ReadTruth(folder)
	require.NoError(t, err)
	if i < 0 {
		i += len(truth.Photos)
	}
	p := truth.Photos[i]
	data, err := os.ReadFile(filepath.Join(truth.Dir, p.File))
	require.NoError(t, err)
	photo, err := imaging.Open(imaging.PureGo{}, p.File, data)
	require.NoError(t, err)
	return Rendered{photo.Picture, p.Frame(truth.WaterHeightMM).Scaled(1 / photo.Scale), *p.FacingHeights.DepositTop / truth.WaterHeightMM, data}
}
