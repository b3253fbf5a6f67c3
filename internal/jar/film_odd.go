package jar

import (
	"math"

	"mudline/internal/reading"
	"mudline/internal/record"
	"mudline/internal/words"
	"mudline/layers"
)

// A deposit grows, and sinks by little: by less than sinkTop standard deviations of
// two heights, or sinkDepth of the water depth.
const (
	sinkTop   = 4
	sinkDepth = 0.012
)

// passOdd leaves out the photos whose deposit, as each shows it by itself, stands where
// the others say that it cannot: read together with them it would bend theirs.
func passOdd(use []*frame, strips []layers.Strip, refusal func(*frame, float64) *reading.Refusal) ([]*frame, []layers.Strip) {
	var tops []top
	for i, f := range use {
		if alone, err := layers.Read(strips[i : i+1]); err == nil && alone[0].DepositTop != nil {
			tops = append(tops, top{f, alone[0].DepositTop})
		}
	}
	odd := oddTops(tops)
	for i, t := range tops {
		if _, ok := odd[t.frame]; ok && fitsBetween(tops, i, odd, use, strips) {
			delete(odd, t.frame) // it was another line that it showed by itself
		}
	}
	var stay []*frame
	var stays []layers.Strip
	for i, f := range use {
		if mm, ok := odd[f]; ok {
			why := refusal(f, mm)
			f.got = keptOut(why.Code, why.Message())
			continue
		}
		stay, stays = append(stay, f), append(stays, strips[i])
	}
	return stay, stays
}

// fitsBetween says whether a photo whose soil seemed too high by itself fits between its
// neighbours when it is read together with them: a cloud's top may look like the soil's.
// Nothing looks like the soil's top below it, so that one that is too low is odd.
func fitsBetween(tops []top, i int, odd map[*frame]float64, use []*frame, strips []layers.Strip) bool {
	neighbour := func(step int) int {
		for k := i + step; k >= 0 && k < len(tops); k += step {
			if _, ok := odd[tops[k].frame]; !ok {
				return k
			}
		}
		return -1
	}
	before, after := neighbour(-1), neighbour(1)
	if after < 0 || mayFollow(tops[i], tops[after]) {
		return false // it is too low
	}
	var some []layers.Strip
	at := 0
	for k, f := range use {
		switch {
		case f == tops[i].frame:
			at = len(some)
			some = append(some, strips[k])
		case before >= 0 && f == tops[before].frame, after >= 0 && f == tops[after].frame:
			some = append(some, strips[k])
		}
	}
	found, err := layers.Read(some)
	if err != nil {
		return false
	}
	if found[at].DepositTop == nil {
		return true // nothing that speaks against its time
	}
	here := top{tops[i].frame, found[at].DepositTop}
	return (before < 0 || mayFollow(tops[before], here)) && (after < 0 || mayFollow(here, tops[after]))
}

// outOfLine is the refusal of a photo whose deposit does not fit its time.
func (r *roll) outOfLine(f *frame, mm float64) *reading.Refusal {
	return reading.Refuse(reading.OutOfLine, words.In(f.file, words.Say("jar.out-of-line", words.After("time", f.elapsed.Time), depthOf(r.rec).Tell("height", mm, 1))),
		words.Say("do.correct-elapsed", record.PhotoArgs(f.file)...))
}

// top is the top of the deposit in a photo.
type top struct {
	frame *frame
	line  *layers.Boundary
}

// oddTops are the photos whose deposit stands where the others say that it cannot at
// that time, with its height: those that are not in the longest row of photos in which
// it grows.
func oddTops(tops []top) map[*frame]float64 {
	length, before := make([]int, len(tops)), make([]int, len(tops))
	end := -1
	for i := range tops {
		length[i], before[i] = 1, -1
		for k := i - 1; k >= 0; k-- {
			if length[k] >= length[i] && mayFollow(tops[k], tops[i]) {
				length[i], before[i] = length[k]+1, k
			}
		}
		if end < 0 || length[i] > length[end] {
			end = i
		}
	}
	odd := map[*frame]float64{}
	for i := len(tops) - 1; i >= 0; i-- {
		if i == end {
			end = before[i]
			continue
		}
		odd[tops[i].frame] = tops[i].line.HeightMM
	}
	if len(odd) > len(tops)/4 {
		return nil // it is no few photos that are wrong
	}
	return odd
}

// mayFollow says whether the deposit with top b may be that with top a, later. What of
// their doubt is the frame's they share.
func mayFollow(a, b top) bool {
	own := func(t top) float64 {
		return math.Sqrt(max(0, t.line.SDMM*t.line.SDMM-t.frame.shown.frameSDMM*t.frame.shown.frameSDMM))
	}
	return a.line.HeightMM-b.line.HeightMM <= max(sinkTop*math.Hypot(own(a), own(b)), sinkDepth*a.frame.shown.depth.MM)
}
