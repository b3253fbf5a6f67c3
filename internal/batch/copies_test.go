package batch

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mudline/internal/reading"
)

// A photo that was copied twice counts once, and its copy under another time is
// no second photo.
func TestCopies(t *testing.T) {
	root := tree(t, map[string]string{
		"a/x_1min.jpg": "one", "a/x_1min (1).jpg": "one", "a/x_1min (2).jpg": "one", "a/x_2h.jpg": "two", "a/y_2h.jpg": "owt",
		"b/IMG_7.jpg": "seven", "b/x_2h.jpg": "seven", "b/z_2d.jpg": "later",
		"c/IMG_1.jpg": "same.", "c/IMG_2.jpg": "same.", "c/jar.yaml": "photos:\n  IMG_2.jpg: {elapsed: 2h}\n",
		"d/x_1min.jpg": "wrong", "d/x_2h.jpg": "wrong",
		"e/x_1min.jpg": "one", "e/x_2h.jpg": "more",
		"f/x_1min.jpg": "", "f/x_2h.jpg": "",
	})
	p := find(t, root)
	photos := map[string][]string{}
	for _, j := range p.Jars {
		photos[j.ID] = j.Photos
		assert.Equal(t, j.ID == "d/", j.Bad != nil, j.ID)
	}
	assert.Equal(t, []string{"a/x_1min.jpg", "a/x_2h.jpg", "a/y_2h.jpg"}, photos["a/"], "of one content, not of one size")
	assert.Equal(t, []string{"b/x_2h.jpg", "b/z_2d.jpg"}, photos["b/"], "the one whose time is known")
	assert.Equal(t, []string{"c/IMG_2.jpg"}, photos["c/"], "the one that the record lists")
	assert.Len(t, photos["f/"], 2, "empty files are refused as such")
	bad := p.Jars[3].Bad
	require.NotNil(t, bad)
	assert.Equal(t, reading.SamePhoto, bad.Code)
	assert.Equal(t, "x_2h.jpg and x_1min.jpg are the same photo, but are given as of 2 h and 1 min", bad.Text)
	assert.Equal(t, []string{"a/x_1min (1).jpg, a/x_1min (2).jpg left out: the same photo as a/x_1min.jpg.", "b/IMG_7.jpg left out: the same photo as b/x_2h.jpg.",
		"c/IMG_1.jpg left out: the same photo as c/IMG_2.jpg.", "a and e hold the same photo (e/x_1min.jpg): is it of both?"}, notes(p))
}

// Two shots of one moment are found out before they are read.
func TestPhotosOfOneTime(t *testing.T) {
	p := find(t, tree(t, map[string]string{"a/x_1min.jpg": "one", "a/x_2h.jpg": "two", "a/y_2h.jpg": "owt"}))
	var codes []reading.RefusalCode
	for _, problem := range p.Outline(&p.Jars[0]).Problems {
		codes = append(codes, problem.Code)
		if problem.Code == reading.SameTime {
			assert.Equal(t, "x_2h.jpg and y_2h.jpg are both given as 2 h: do they show one jar?", problem.Text)
		}
	}
	assert.Contains(t, codes, reading.SameTime)
}

func notes(p *Plan) (texts []string) {
	for _, n := range p.Notes {
		texts = append(texts, n.String())
	}
	return texts
}
