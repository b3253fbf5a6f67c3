package jar

import (
	"math"
	"slices"

	"mudline/layers"
	"mudline/texture"
)

// fallSD is how many standard deviations below where it can have sunk to a top of the
// deposit is taken for another line.
const fallSD = 3

// readWithoutFallen reads the layers of a lot again without the photos whose deposit
// seems to have fallen: in clear water a line within it, or its far edge, is easily taken
// for its top, and the layers below would be looked for only up to there. Such a photo keeps
// the top it showed, with a doubt as large as the contradiction.
func readWithoutFallen(use []*frame, strips []layers.Strip) {
	want, slack := toBeExpected(use)
	var stay []*frame
	var stays []layers.Strip
	for i, f := range use {
		if top := f.shown.layers.DepositTop; top == nil || top.HeightMM >= want[i]-slack[i] {
			stay, stays = append(stay, f), append(stays, strips[i])
		}
	}
	if len(stay) == len(use) || len(stay) < max(leastFilm, len(use)*2/3) {
		return
	}
	found, err := layers.Read(stays)
	if err != nil {
		return
	}
	for i, f := range use {
		if k := slices.Index(stay, f); k >= 0 {
			f.shown.layers = found[k]
			continue
		}
		top := *f.shown.layers.DepositTop
		top.SDMM = math.Hypot(top.SDMM, want[i]-top.HeightMM)
		f.shown.layers = layers.Reading{DepositTop: &top, Cloud: f.shown.layers.Cloud, HazeTop: f.shown.layers.HazeTop}
	}
}

// toBeExpected is how low the deposit's top can be in each photo, in order of time, by
// the sure ones before it, and by how much the lines may err: mud grows denser by the
// logarithm of time.
func toBeExpected(use []*frame) (want, slack []float64) {
	var sd []float64
	for _, f := range use {
		if top := f.shown.layers.DepositTop; top != nil {
			sd = append(sd, top.SDMM)
		}
	}
	sure := sureOverMiddle * middle(sd)
	want, slack = make([]float64, len(use)), make([]float64, len(use))
	for i, f := range use {
		for _, before := range use[:i] {
			top := before.shown.layers.DepositTop
			if top == nil || top.SDMM > sure {
				continue
			}
			denser := texture.Consolidated(mostDenser, (f.elapsed.Time - before.elapsed.Time).Seconds())
			if mm := top.HeightMM / denser; mm-fallSD*top.SDMM > want[i]-slack[i] {
				want[i], slack[i] = mm, fallSD*top.SDMM
			}
		}
	}
	return want, slack
}

// sureOverMiddle is how much less sure than the middle one a top may be to speak
// against others.
const sureOverMiddle = 1.5

// mostDenser is how much denser a bed may grow while time grows tenfold beyond the first
// hour, as a share. Of beds of nothing but clay package texture believes 7 %, and seldom
// more than 20.
const mostDenser = 0.1
