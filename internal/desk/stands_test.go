package desk_test

import (
	"bytes"
	"encoding/json"
	"image"
	"image/color"
	"image/jpeg"
	"math/rand/v2"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mudline/imaging"
	"mudline/internal/desk"
	"mudline/internal/jartest"
)

// stand is what a front end is told of where the jar stands in one photo.
type stand struct {
	Found                     bool
	Left, Right, Water, Floor float64
}

func standsIn(t *testing.T, data []byte) (s stand) {
	t.Helper()
	d := desk.New(imaging.PureGo{})
	_, err := d.Open("frame.jpg", data, nil, []byte("{}"))
	require.NoError(t, err)
	got, err := d.Ask("stands", []byte(`{"file":"frame.jpg"}`))
	require.NoError(t, err)
	require.NoError(t, json.Unmarshal(asJSON(t, got), &s))
	return s
}

// Where the jar stands in one photo is where the truth of the rendered jar has it.
func TestWhereTheJarStands(t *testing.T) {
	folder := filepath.Join("..", "..", "testdata", "jars", "open-02")
	truth, err := jartest.ReadTruth(folder)
	require.NoError(t, err)
	p := truth.Photos[0]
	data, err := os.ReadFile(filepath.Join(folder, p.File))
	require.NoError(t, err)
	size, err := jpeg.DecodeConfig(bytes.NewReader(data))
	require.NoError(t, err)

	s, want := standsIn(t, data), p.Frame(truth.WaterHeightMM)
	require.True(t, s.Found)
	assert.InDelta(t, want.Floor.Y/float64(size.Height), s.Floor, 0.015)
	assert.InDelta(t, want.Water.Y/float64(size.Height), s.Water, 0.015)
	assert.InDelta(t, (want.Floor.X-want.HalfWidthFloor)/float64(size.Width), s.Left, 0.03)
	assert.InDelta(t, (want.Floor.X+want.HalfWidthFloor)/float64(size.Width), s.Right, 0.03)

	_, err = desk.New(imaging.PureGo{}).Ask("stands", []byte(`{"file":"none.jpg"}`))
	assert.ErrorContains(t, err, "not open")
}

// A picture of specks has no jar.
func TestNoJarStandsThere(t *testing.T) {
	pic, rng := image.NewRGBA(image.Rect(0, 0, 600, 800)), rand.New(rand.NewPCG(1, 2))
	for y := range 800 {
		for x := range 600 {
			v := uint8(90 + rng.IntN(90))
			pic.Set(x, y, color.RGBA{v, v, v, 255})
		}
	}
	var b bytes.Buffer
	require.NoError(t, jpeg.Encode(&b, pic, nil))
	assert.False(t, standsIn(t, b.Bytes()).Found)
}
