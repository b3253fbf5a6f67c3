package sheetmark

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// lightOf is the light of a photo of one print, whose greys throw back shares of the
// paper's light, taken by a camera that draws light to a power of the paper's.
func lightOf(paper [3]float64, shares [Greys]float64, tone float64) *Light {
	l := &Light{Paper: paper}
	for i, s := range shares {
		l.Greys[i].Share = math.Pow(s, tone)
		for k, p := range paper {
			l.Greys[i].Light[k] = p * l.Greys[i].Share
		}
	}
	return l
}

// An odd printer's greys: nobody knows them, but they are the same in all photos.
var odd = [Greys]float64{0.66, 0.38, 0.17}

func TestWhitePutsToneRight(t *testing.T) {
	lamp, shade := [3]float64{0.6, 0.4, 0.2}, [3]float64{0.3, 0.4, 0.5}
	whites := Whites([]*Light{lightOf(lamp, odd, 0.9), lightOf(shade, odd, 1/0.9), nil})
	require.Len(t, whites, 3)
	assert.Nil(t, whites[2])
	soil := [3]float64{0.2, 0.12, 0.05} // of the paper's light
	seen := func(paper [3]float64, tone float64) (c [3]float64) {
		for k, p := range paper {
			c[k] = p * math.Pow(soil[k], tone)
		}
		return c
	}
	a, b := whites[0].Of(seen(lamp, 0.9)), whites[1].Of(seen(shade, 1/0.9))
	for k := range soil {
		assert.InDelta(t, a[k], b[k], 0.003)
		assert.InDelta(t, paperReflects*soil[k], a[k], 0.003)
	}
	alone := Whites([]*Light{lightOf(lamp, odd, 0.9)})[0]
	assert.Equal(t, 1.0, alone.Tone, "one photo's greys may be the printer's")
	assert.InDelta(t, paperReflects/0.4, alone.Gain()[1], 1e-9)
}

// What is no print of ever darker greys moves nothing: a shiny patch, a shadow on one.
func TestWhiteTakesNoToneFromOddGreys(t *testing.T) {
	paper := [3]float64{0.5, 0.5, 0.5}
	good := lightOf(paper, odd, 1)
	shiny, shaded := lightOf(paper, odd, 1), lightOf(paper, odd, 1)
	shiny.Greys[2].Share = 0.7
	shaded.Greys[0].Share = 0.3
	for _, l := range []*Light{shiny, shaded} {
		assert.Equal(t, 1.0, Whites([]*Light{good, l})[1].Tone)
	}
}

func TestWhiteOfBlownPaper(t *testing.T) {
	paper := [3]float64{1.6, 1.4, 0.8} // more than a picture holds
	blown := lightOf(paper, odd, 1)
	for k := range blown.Paper {
		blown.Paper[k] = math.Min(paper[k], 1)
	}
	for i := range blown.Greys {
		blown.Greys[i].Share = 0
		for k, v := range blown.Greys[i].Light {
			blown.Greys[i].Light[k] = math.Min(v, 1)
		}
	}
	w := Whites([]*Light{lightOf([3]float64{0.5, 0.5, 0.5}, odd, 1), blown})[1]
	require.NotNil(t, w)
	assert.False(t, w.Guessed)
	for k := range paper {
		assert.InEpsilon(t, paper[k], w.Paper[k], 1e-9, "by the greys of the other photo")
	}
	alone := Whites([]*Light{blown})[0]
	require.NotNil(t, alone)
	assert.True(t, alone.Guessed)
	assert.InEpsilon(t, paper[0]/paper[1], alone.Paper[0]/alone.Paper[1], 1e-9, "ink is grey, whatever the printer")
	assert.InEpsilon(t, paper[2]/paper[1], alone.Paper[2]/alone.Paper[1], 1e-9)
	blown.Greys = [Greys]Grey{}
	assert.Nil(t, Whites([]*Light{blown})[0])
}
