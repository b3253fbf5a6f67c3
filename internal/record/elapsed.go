package record

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"
	"time"

	"mudline/internal/words"
)

const (
	number = `[0-9]+(?:[.,][0-9]+)?`
	// longUnit is a unit that cannot be mistaken inside a file name, in English, Spanish
	// or French; some systems write the accent of día as a sign of its own.
	longUnit = `secondes?|seconds?|secs?|segundos?|segs?|minutes?|minutos?|mins?|hours?|horas?|heures?|hrs?|` +
		`days?|di\x{301}?as?|días?|jours?|weeks?|wks?|semaines?|semanas?`
	// shortUnit is a unit of one letter: j is the French day.
	shortUnit = `[smhdj]`
)

var (
	elapsedPart = regexp.MustCompile(`^\s*(` + number + `)\s*(` + longUnit + `|` + shortUnit + `)\s*(?:,|and\b|y\b|et\b|_|-)?`)
	hourMinute  = regexp.MustCompile(`^\s*([0-9]+)\s*h\s*([0-9]{2})\s*$`)
)

// unitSeconds is the length of a unit in seconds, by its spelling in lower case.
func unitSeconds(unit string) float64 {
	switch {
	case strings.HasPrefix(unit, "sem"), unit[0] == 'w':
		return 7 * 86400
	case unit[0] == 's':
		return 1
	case unit[0] == 'm':
		return 60
	case unit[0] == 'h':
		return 3600
	}
	return 86400
}

// ParseElapsed reads a time since the jar was set down: "61s", "1min", "2 h",
// "2d 3h", "1h30", "1.5 hours". It also gives the standard deviation to expect
// of a time written that way: 2 % of it, for few people press the shutter on
// the stroke, at least 1 s if seconds were written and 3 s if not (common
// practice, our own figure).
func ParseElapsed(s string) (elapsed, sd time.Duration, err error) {
	rest, last, smallest, total := strings.ToLower(strings.TrimSpace(s)), math.Inf(1), math.Inf(1), 0.0
	if m := hourMinute.FindStringSubmatch(rest); m != nil {
		rest = m[1] + "h" + m[2] + "min"
	}
	if rest == "" {
		return 0, 0, words.Say("record.no-time")
	}
	for rest != "" {
		m := elapsedPart.FindStringSubmatch(rest)
		if m == nil {
			return 0, 0, words.Say("record.not-a-time", words.Quoted("given", s))
		}
		unit := unitSeconds(m[2])
		if unit >= last {
			return 0, 0, words.Say("record.larger-unit-first", words.Quoted("given", s))
		}
		v, err := strconv.ParseFloat(strings.Replace(m[1], ",", ".", 1), 64)
		if err != nil {
			return 0, 0, words.Say("record.not-a-number", words.Quoted("given", m[1]))
		}
		last, smallest, total, rest = unit, unit, total+v*unit, rest[len(m[0]):]
	}
	if err := checkSeconds(total); err != nil {
		return 0, 0, words.Say("record.about", words.Told("what", words.Quote(s)), words.Because("why", err))
	}
	floor := 3.0
	if smallest == 1 {
		floor = 1
	}
	return seconds(total), seconds(math.Max(floor, 0.02*total)), nil
}

func seconds(s float64) time.Duration { return time.Duration(math.Round(s * float64(time.Second))) }

func checkSeconds(s float64) error {
	if !(s > 0) || s > MaxElapsed.Seconds() {
		return words.Say("record.time-outside", words.Whole("days", MaxElapsed.Hours()/24))
	}
	return nil
}

// FormatElapsed writes a time since shaking to two units: "61 s", "5 min",
// "2 h 4 min", "1 d 22 h".
func FormatElapsed(t time.Duration) string {
	sign := ""
	if t < 0 {
		sign, t = "-", -t
	}
	s := math.Round(t.Seconds())
	switch {
	case s < 100 && s != 60:
		return fmt.Sprintf("%s%.0f s", sign, s)
	case s < 3600:
		return sign + twoUnits(s, 60, "min", 1, "s")
	case s < 86400:
		return sign + twoUnits(s, 3600, "h", 60, "min")
	}
	return sign + twoUnits(s, 86400, "d", 3600, "h")
}

func twoUnits(s, large float64, largeName string, small float64, smallName string) string {
	n := math.Round(s / small)
	per := large / small
	whole, rest := math.Floor(n/per), math.Mod(n, per)
	if rest == 0 {
		return fmt.Sprintf("%.0f %s", whole, largeName)
	}
	return fmt.Sprintf("%.0f %s %.0f %s", whole, largeName, rest, smallName)
}
