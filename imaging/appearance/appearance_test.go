package appearance

import (
	"image"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mudline/imaging"
	"mudline/imaging/jarfind"
	"mudline/internal/jartest"
)

// seen is how one photo of a rendered jar looks in different lights.
type seen struct {
	jar, file string
	inLight   [6]Appearance
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
		var photos []*imaging.Photo
		var sightings []*jarfind.Sighting
		for _, p := range truth.Photos {
			data, err := os.ReadFile(filepath.Join(truth.Dir, p.File))
			require.NoError(t, err)
			photo, err := imaging.Open(imaging.PureGo{}, p.File, data)
			require.NoError(t, err)
			photos = append(photos, photo)
			sightings = append(sightings, jarfind.Look(photo.Picture, photo.Focal35MM, image.Rectangle{}))
		}
		for i, place := range jarfind.Settle(sightings) {
			p := truth.Photos[i]
			require.NotNil(t, place, p.File)
			one := seen{jar: truth.Name, file: p.File}
			for k, g := range lights {
				lit := jartest.Lit(photos[i].Picture, g[0], g[1], g[2])
				one.inLight[k] = Of(lit, place.Frame, place.Ratio, nil, p.ElapsedS < 3*3600)
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
		t.Skip("long, and nothing runs side by side in it that others do not; the plain run has it")
	}
	all := looksOfJars(t)
	jars, apart, plainly := map[string]bool{}, map[[2]string]bool{}, map[[2]string]bool{}
	for _, a := range all {
		for _, b := range all {
			jars[a.jar] = true
			for _, light := range [][2]int{{0, 0}, {0, 1}, {1, 0}, {2, 3}, {0, 4}, {0, 5}, {4, 4}} {
				what, plain := a.inLight[light[0]].Unlike(b.inLight[light[1]])
				if a.jar == b.jar {
					assert.Equal(t, NoSign, what, "%s %s in lights %v", a.file, b.file, light)
				} else if what != NoSign && light == [2]int{} {
					apart[[2]string{a.jar, b.jar}] = true
					if plain {
						plainly[[2]string{a.jar, b.jar}] = true
					}
				}
			}
		}
	}
	pairs := len(jars) * (len(jars) - 1)
	t.Logf("%d of %d ordered pairs of jars told apart, %d plainly", len(apart), pairs, len(plainly))
	assert.GreaterOrEqual(t, 2*len(apart), pairs)
	assert.GreaterOrEqual(t, 3*len(plainly), pairs)
}

// TestOneSignIsNotEnough: the soil alone, as hard sun may change it, is warned
// of; with the mud or the lid beside it, or by far, two jars are plain.
func TestOneSignIsNotEnough(t *testing.T) {
	lid := func(purple float64) (l []band) {
		for range lidBands {
			l = append(l, band{colour: tint{purple: purple}, solid: true})
		}
		return l
	}
	red, grey := &tint{purple: 4 * purpleSD}, &tint{}
	for name, c := range map[string]struct {
		a, b     Appearance
		say, not bool
	}{
		"the same":          {Appearance{mud: grey, lid: lid(0)}, Appearance{mud: grey, lid: lid(0)}, false, false},
		"soil a little":     {Appearance{}, Appearance{soil: tint{purple: 2 * purpleSD}}, false, false},
		"soil":              {Appearance{}, Appearance{soil: tint{purple: 4 * purpleSD}}, true, false},
		"soil by far":       {Appearance{}, Appearance{soil: tint{purple: 7 * purpleSD}}, true, true},
		"soil and mud":      {Appearance{mud: grey}, Appearance{soil: tint{purple: 4 * purpleSD}, mud: &tint{purple: 3.5 * purpleSD}}, true, true},
		"mud alone, nearly": {Appearance{mud: grey}, Appearance{mud: &tint{purple: 3.5 * purpleSD}}, true, false},
		"mud alone":         {Appearance{mud: grey}, Appearance{mud: &tint{purple: 4.5 * purpleSD}}, true, true},
		"mud in one only":   {Appearance{mud: red}, Appearance{}, false, false},
		"lid":               {Appearance{lid: lid(0)}, Appearance{lid: lid(4 * purpleSD)}, true, true},
	} {
		what, plain := c.a.Unlike(c.b)
		assert.Equal(t, c.say, what != NoSign, name)
		assert.Equal(t, c.not, plain, name)
	}
}
