package record

import (
	"fmt"
	"math"
	"slices"
	"time"

	"mudline/internal/reading"
)

// Where a photo's time came from.
const (
	FromStated = "stated"
	FromName   = "name"
	FromEXIF   = "exif"
)

// Taken is a photo with the moment its camera recorded; zero when it did not.
type Taken struct {
	File string
	At   Moment
}

// Elapsed is a photo's time since the jar was set down.
type Elapsed struct {
	Time time.Duration
	// SD is the standard deviation of Time.
	SD time.Duration
	// From is FromStated, FromName or FromEXIF.
	From string
}

// exifSD is the standard deviation of a time told to the second by the same
// person: the moment of setting down and the shutter, about a second each.
const exifSD = 1500 * time.Millisecond

// minuteSD is the standard deviation of a moment told only to the minute,
// evenly spread over it: 60 s / sqrt 12.
const minuteSD = 17320 * time.Millisecond

// Resolve finds the time of each photo: stated, else in its name, else by the
// camera's clock against Shaken. The error is a *reading.Refusal when a photo's
// time is not known, two are given one time, or the times run backwards. The
// warnings say where two sources disagree and what was taken for granted.
func (r *Record) Resolve(photos []Taken) ([]Elapsed, []reading.Warning, error) {
	times := make([]Elapsed, len(photos))
	var warnings []reading.Warning
	var unsure []string
	for i, p := range photos {
		e, known, err := r.resolveOne(p)
		if err != nil {
			return nil, nil, err
		}
		times[i] = e
		if w := r.conflict(p, e, known); w != nil {
			warnings = append(warnings, *w)
		}
		if known.sameClock && e.From == FromEXIF {
			unsure = append(unsure, p.File)
		}
	}
	if err := checkOrder(photos, times); err != nil {
		return nil, nil, err
	}
	if len(unsure) > 0 {
		warnings = append(warnings, reading.Warning{
			Code:   "clock_zone_assumed",
			Text:   fmt.Sprintf("only one of the camera's clock and the stated time of shaking says its time zone (%s): both were taken to be in the same one", list(unsure)),
			Remedy: "write the offset after the time of shaking, as in 2026-06-05 11:38 +02:00, or state each photo's elapsed time",
		})
	}
	return times, warnings, nil
}

// clock is a photo's time by the camera's clock.
type clock struct {
	known     bool
	elapsed   time.Duration
	sd        time.Duration
	sameClock bool
}

func (r *Record) clockOf(p Taken) clock {
	if p.At.IsZero() || r.Shaken.IsZero() {
		return clock{}
	}
	c := clock{known: true, sd: exifSD}
	c.elapsed, c.sameClock = p.At.Since(r.Shaken)
	if r.Shaken.ToTheMinute {
		c.elapsed -= 30 * time.Second // the jar was set down somewhere in that minute
		c.sd = time.Duration(math.Hypot(float64(exifSD), float64(minuteSD)))
		if c.elapsed <= 0 && c.elapsed > -30*time.Second {
			c.elapsed = (c.elapsed + 30*time.Second) / 2 // the photo lies in the same minute
		}
	}
	return c
}

func (r *Record) resolveOne(p Taken) (Elapsed, clock, error) {
	c := r.clockOf(p)
	if s := r.Photos[p.File]; s.Elapsed != 0 {
		return Elapsed{s.Elapsed, s.ElapsedSD, FromStated}, c, nil
	}
	if e, sd, ok := ElapsedFromName(p.File); ok {
		return Elapsed{e, sd, FromName}, c, nil
	}
	if c.known {
		if c.elapsed <= 0 || c.elapsed > MaxElapsed {
			return Elapsed{}, c, outsideClock(p, r.Shaken, c)
		}
		return Elapsed{c.elapsed, c.sd, FromEXIF}, c, nil
	}
	return Elapsed{}, c, noTime(p, r.Shaken)
}

func outsideClock(p Taken, shaken Moment, c clock) error {
	code, text := reading.TimesBackwards, "before the jar was set down"
	if c.elapsed > 0 {
		code, text = reading.NoTime, "more than 60 days after the jar was set down"
	}
	return &reading.Refusal{
		Code:   code,
		Text:   fmt.Sprintf("%s was taken at %s, %s at %s", p.File, p.At.String(), text, shaken.String()),
		Remedy: fmt.Sprintf("correct shaken, or state the time since shaking: --elapsed %s=2h", p.File),
	}
}

func noTime(p Taken, shaken Moment) error {
	text := p.File + " does not say when it was taken: neither its name nor the file itself holds a time"
	remedy := fmt.Sprintf("state the time since shaking: --elapsed %s=2h, or put it in the name: %s_2h", p.File, baseName(p.File))
	if !p.At.IsZero() && shaken.IsZero() {
		text = fmt.Sprintf("%s was taken at %s, but it is not known when the jar was set down", p.File, p.At.String())
		remedy = `state when the jar was set down: --shaken "2026-06-05 11:38", or each photo's time: --elapsed ` + p.File + "=2h"
	}
	return &reading.Refusal{Code: reading.NoTime, Text: text, Remedy: remedy}
}

// tolerance is how far a round time such as "2h" may lie from the camera's
// clock before the two are said to disagree (our own figure).
func tolerance(t time.Duration) time.Duration { return time.Minute + t*15/100 }

// conflict warns where the camera's clock disagrees with the time that is used.
func (r *Record) conflict(p Taken, e Elapsed, c clock) *reading.Warning {
	if !c.known || e.From == FromEXIF || (c.elapsed-e.Time).Abs() <= tolerance(e.Time) {
		return nil
	}
	return &reading.Warning{
		Code: "time_conflict",
		Text: fmt.Sprintf("%s: its time is %s (%s), but the camera's clock says %s after shaking; %s was used",
			p.File, FormatElapsed(e.Time), sourceText(e.From), FormatElapsed(c.elapsed), FormatElapsed(e.Time)),
		Remedy: "correct the one that is wrong: the time of shaking, the photo's stated time or its name",
	}
}

func sourceText(from string) string {
	if from == FromName {
		return "in its name"
	}
	return "stated"
}

// OneTime is the refusal of two photos that are given the same time.
func OneTime(one, other string, t time.Duration) *reading.Refusal {
	return &reading.Refusal{
		Code:   reading.SameTime,
		Text:   fmt.Sprintf("%s and %s are both given as %s: do they show one jar?", one, other, FormatElapsed(t)),
		Remedy: "if they do, leave one of them out, or state when each was taken; if not, read each jar by itself",
	}
}

// checkOrder refuses photos of one time, and those whose times run the other way
// round than the camera's clock says they were taken.
func checkOrder(photos []Taken, times []Elapsed) error {
	order := make([]int, len(photos))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int { return int(max(min(times[a].Time-times[b].Time, 1), -1)) })
	for k, later := range order {
		if k > 0 && times[later].Time == times[order[k-1]].Time {
			return OneTime(photos[order[k-1]].File, photos[later].File, times[later].Time)
		}
		for _, earlier := range order[:k] {
			if photos[later].At.IsZero() || photos[earlier].At.IsZero() {
				continue
			}
			between, _ := photos[later].At.Since(photos[earlier].At)
			apart := times[later].Time - times[earlier].Time
			if between < 0 && apart-between > tolerance(apart) {
				return &reading.Refusal{
					Code: reading.TimesBackwards,
					Text: fmt.Sprintf("the times run backwards: %s is given as %s and %s as %s, but the camera took %s first",
						photos[earlier].File, FormatElapsed(times[earlier].Time), photos[later].File, FormatElapsed(times[later].Time), photos[later].File),
					Remedy: "check which photo is which, then correct the stated times or the names",
				}
			}
		}
	}
	return nil
}
