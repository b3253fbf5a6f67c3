package imaging

import (
	"image"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestOpenDecodedIsOpenButForTheDecoding(t *testing.T) {
	files, err := filepath.Glob(filepath.Join("..", "testdata", "jars", "open-05", "*.jpg"))
	require.NoError(t, err)
	require.NotEmpty(t, files)
	data, err := os.ReadFile(files[0])
	require.NoError(t, err)
	want, err := Open(PureGo{}, "a.jpg", data)
	require.NoError(t, err)
	got, err := OpenDecoded("a.jpg", data, want.Picture, image.Pt(want.FullW, want.FullH))
	require.NoError(t, err)
	assert.Equal(t, want, got)

	_, err = OpenDecoded("a.jpg", data, image.NewRGBA(image.Rect(0, 0, 10, 10)), image.Pt(want.FullW, want.FullH))
	var r *Refusal
	require.ErrorAs(t, err, &r)
	assert.Equal(t, CodeDamaged, r.Code)
	_, err = OpenDecoded("a.jpg", data[:2000], want.Picture, image.Pt(want.FullW, want.FullH))
	require.ErrorAs(t, err, &r)
	assert.Equal(t, CodeTruncated, r.Code)
}
