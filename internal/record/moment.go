package record

import (
	"strings"
	"time"

	"mudline/internal/words"
)

// Moment is a point in time as a person or a camera gives it.
type Moment struct {
	// Time is the moment; without an offset it is the wall clock, held in UTC.
	Time time.Time
	// HasOffset says that the offset from UTC is known.
	HasOffset bool
	// ToTheMinute says that no seconds were given.
	ToTheMinute bool
}

// IsZero says that no moment was given.
func (m Moment) IsZero() bool { return m.Time.IsZero() }

// wall is the moment as the clock on the wall showed it, held in UTC.
func (m Moment) wall() time.Time {
	y, mo, d := m.Time.Date()
	h, mi, s := m.Time.Clock()
	return time.Date(y, mo, d, h, mi, s, m.Time.Nanosecond(), time.UTC)
}

// Since gives the time from one moment to a later one. Where only one of them
// has an offset the wall clocks are compared and sameClock is true: it is then
// taken for granted that both clocks stood in the same time zone.
func (m Moment) Since(from Moment) (elapsed time.Duration, sameClock bool) {
	if m.HasOffset && from.HasOffset {
		return m.Time.Sub(from.Time), false
	}
	return m.wall().Sub(from.wall()), m.HasOffset != from.HasOffset
}

// ParseMoment reads when the jar was set down: RFC 3339, or the local date and
// time "2026-06-05 11:38" with or without seconds and an offset (+02:00, Z).
func ParseMoment(s string) (Moment, error) {
	text := strings.TrimSpace(s)
	for _, date := range []string{"2006-01-02T", "2006-01-02 "} {
		for _, clock := range []string{"15:04:05", "15:04"} {
			for _, zone := range []string{"", "Z07:00", " Z07:00", " -0700", "-0700"} {
				t, err := time.Parse(date+clock+zone, text)
				if err != nil {
					continue
				}
				if y := t.Year(); y < 1990 || y > 2200 {
					return Moment{}, words.Say("record.year", words.Quoted("given", s))
				}
				return Moment{Time: t, HasOffset: zone != "", ToTheMinute: clock == "15:04"}, nil
			}
		}
	}
	return Moment{}, words.Say("record.not-a-moment", words.Quoted("given", s))
}

// String writes a moment as ParseMoment reads it, with as much as is known of it.
func (m Moment) String() string {
	if m.HasOffset {
		return m.Time.Format("2006-01-02 15:04:05 -07:00")
	}
	return m.Time.Format("2006-01-02 15:04:05")
}
