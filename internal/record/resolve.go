package record

import (
	"math"
	"slices"
	"time"

	"mudline/internal/reading"
	"mudline/internal/words"
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
		warnings = append(warnings, reading.Warn(reading.ClockZoneAssumed, words.Say("record.zone-assumed", words.Told("photos", list(unsure))), words.Say("do.write-offset")))
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
	code, when := reading.TimesBackwards, words.Say("record.before-set-down")
	if c.elapsed > 0 {
		code, when = reading.NoTime, words.Say("record.long-after-set-down", words.Whole("days", MaxElapsed.Hours()/24))
	}
	return reading.Refuse(code,
		words.Say("record.taken-outside", words.Name("file", p.File), words.Name("taken", p.At.String()), words.Told("when", when), words.Name("shaken", shaken.String())),
		words.Say("do.correct-shaken", PhotoArgs(p.File)...))
}

func noTime(p Taken, shaken Moment) error {
	if !p.At.IsZero() && shaken.IsZero() {
		return reading.Refuse(reading.NoTime, words.Say("record.not-set-down", words.Name("file", p.File), words.Name("taken", p.At.String())),
			words.Say("do.state-shaken", PhotoArgs(p.File)...))
	}
	said := words.Say("record.photo-without-time", words.Name("file", p.File))
	if _, _, why := inName(p.File); !why.IsZero() {
		said = words.Say("record.photo-name-without-time", words.Name("file", p.File), words.Told("why", why))
	}
	return reading.Refuse(reading.NoTime, said,
		words.Say("do.state-elapsed", append(PhotoArgs(p.File), words.Name("stem", baseName(p.File)))...))
}

// tolerance is how far a round time such as "2h" may lie from the camera's
// clock before the two are said to disagree (our own figure).
func tolerance(t time.Duration) time.Duration { return time.Minute + t*15/100 }

// conflict warns where the camera's clock disagrees with the time that is used.
func (r *Record) conflict(p Taken, e Elapsed, c clock) *reading.Warning {
	if !c.known || e.From == FromEXIF || (c.elapsed-e.Time).Abs() <= tolerance(e.Time) {
		return nil
	}
	from := words.Say("record.time-stated")
	if e.From == FromName {
		from = words.Say("record.time-in-name")
	}
	said := words.Say("record.time-conflict", words.After("used", e.Time), words.Told("from", from), words.After("clock", c.elapsed))
	if c.elapsed < 0 {
		said = words.Say("record.clock-before", words.After("used", e.Time), words.Told("from", from), words.After("before", -c.elapsed))
	}
	w := reading.WarnOf(p.File, reading.TimeConflict, said, words.Say("do.correct-time"))
	return &w
}

// PhotoArgs name a photo in what is to be done about it: as the file is called, as a key
// of jar.yaml is written, and as a shell takes it.
func PhotoArgs(file string) []words.Arg {
	return []words.Arg{words.Name("file", file), words.Name("key", Key(file)), words.Shell("shell", file)}
}

// OneTime is the refusal of two photos that are given the same time.
func OneTime(one, other string, t time.Duration) *reading.Refusal {
	return reading.Refuse(reading.SameTime, words.Say("record.same-time", words.Name("one", one), words.Name("other", other), words.After("t", t)), words.Say("do.one-of-two"))
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
				return reading.Refuse(reading.TimesBackwards,
					words.Say("record.times-backwards", words.Name("early", photos[earlier].File), words.After("early_t", times[earlier].Time),
						words.Name("late", photos[later].File), words.After("late_t", times[later].Time)),
					words.Say("do.check-times"))
			}
		}
	}
	return nil
}

// list joins names, the first few of them.
func list(names []string) words.Message {
	const most = 3
	if len(names) > most {
		return words.Say("record.and-more", words.Names("names", "", names[:most]), words.Whole("more", len(names)-most))
	}
	return words.Say("as-it-is", words.Names("text", "", names))
}
