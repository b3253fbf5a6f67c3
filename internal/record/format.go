package record

import (
	"fmt"
	"math"
	"time"

	"mudline/internal/words"
)

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

// String writes a moment as ParseMoment reads it, with as much as is known of it.
func (m Moment) String() string {
	if m.HasOffset {
		return m.Time.Format("2006-01-02 15:04:05 -07:00")
	}
	return m.Time.Format("2006-01-02 15:04:05")
}

// list joins names, the first few of them.
func list(names []string) words.Message {
	const most = 3
	if len(names) > most {
		return words.Say("record.and-more", words.Names("names", "", names[:most]), words.Whole("more", len(names)-most))
	}
	return words.Say("as-it-is", words.Names("text", "", names))
}
