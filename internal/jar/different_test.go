package jar

import (
	"image"
	"os"
	"path/filepath"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mudline/imaging"
	"mudline/internal/jartest"
	"mudline/internal/record"
)

// seen is how one photo of a rendered jar looks in different lights.
type seen struct {
	jar, file string
	inLight   [6]look
}

// lights are gains of red, green and blue: as rendered, dim, then warmer and
// colder by 7 and by 15 %.
var lights = [6][3]float64{{1, 1, 1}, {0.6, 0.6, 0.6}, {1.07, 1, 0.93}, {0.93, 1, 1.07}, {1.15, 1, 0.85}, {0.85, 1, 1.15}}

// looksOfJars places every photo of the rendered jars as their readings would.
func looksOfJars(t *testing.T) []seen {
	truths, err := jartest.ReadTruths(filepath.Join("..", "..", "testdata", "jars"))
	require.NoError(t, err)
	require.NotEmpty(t, truths)
	var out []seen
	for _, truth := range truths {
		var shots []*shot
		var sightings []*imaging.Sighting
		for _, p := range truth.Photos {
			data, err := os.ReadFile(filepath.Join(truth.Dir, p.File))
			require.NoError(t, err)
			photo, err := imaging.Open(imaging.PureGo{}, p.File, data)
			require.NoError(t, err)
			s := &shot{file: p.File, photo: photo, elapsed: record.Elapsed{Time: time.Duration(p.ElapsedS * float64(time.Second))}}
			shots = append(shots, s)
			sightings = append(sightings, imaging.Look(photo.Picture, photo.Focal35MM, image.Rectangle{}))
		}
		for i, place := range imaging.Settle(sightings) {
			require.NotNil(t, place, shots[i].file)
			one := seen{jar: truth.Name, file: shots[i].file}
			rendered := shots[i].photo.Picture
			shots[i].place = place
			for k, g := range lights {
				shots[i].photo.Picture = jartest.Lit(rendered, g[0], g[1], g[2])
				one.inLight[k] = shots[i].look()
			}
			out = append(out, one)
		}
	}
	return out
}

// TestOneJarIsOneJarInAnyLight: no two photos of one jar are taken for two
// jars, in the same light or in another. At least half of the pairs of jars
// are told apart by some pair of their photos.
func TestOneJarIsOneJarInAnyLight(t *testing.T) {
	if testing.Short() {
		t.Skip("looks for the jar in every photo")
	}
	all := looksOfJars(t)
	jars, apart := map[string]bool{}, map[[2]string]bool{}
	for _, a := range all {
		for _, b := range all {
			jars[a.jar] = true
			for _, light := range [][2]int{{0, 0}, {0, 1}, {1, 0}, {2, 3}, {0, 4}, {0, 5}, {4, 4}} {
				what := a.inLight[light[0]].unlike(b.inLight[light[1]])
				if a.jar == b.jar {
					assert.Empty(t, what, "%s %s in lights %v", a.file, b.file, light)
				} else if what != "" && light == [2]int{} {
					apart[[2]string{a.jar, b.jar}] = true
				}
			}
		}
	}
	pairs := len(jars) * (len(jars) - 1)
	t.Logf("%d of %d ordered pairs of jars told apart", len(apart), pairs)
	assert.GreaterOrEqual(t, 2*len(apart), pairs)
}
