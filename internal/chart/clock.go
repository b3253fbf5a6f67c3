package chart

import (
	"math"

	"mudline/internal/words"
)

const (
	minute = 60.0
	hour   = 60 * minute
	day    = 24 * hour
)

// clock are the ticks of a time axis in seconds, those first that people think
// in; those without a label are minor ones.
func clock(o Options) []tick {
	var out []tick
	for _, s := range []float64{minute, hour, day, 10 * minute, 2 * day, 2 * hour, 10, 10 * hour, 30 * minute, 30, 7 * day, 5 * minute, 2 * minute,
		6 * hour, 12 * hour, 4 * day, 1, 30 * day, 365 * day, 3650 * day} {
		out = append(out, tick{s, duration(s, o)})
	}
	for _, unit := range []float64{10, minute, 10 * minute, hour, 10 * hour, day} {
		for k := 2.0; k < 10; k++ {
			if unit*k < 10*day {
				out = append(out, tick{unit * k, ""})
			}
		}
	}
	return out
}

// duration writes a time in its largest fitting unit: "2 min", "2.1 h", "1 day".
func duration(s float64, o Options) string {
	in := func(key string, unit float64) string {
		return o.say(key, words.Figures("n", math.Round(s/unit*10)/10, 6))
	}
	switch {
	case s < 0.95*minute:
		return in("chart.seconds", 1)
	case s < 0.95*hour:
		return in("chart.minutes", minute)
	case s < 0.95*day:
		return in("chart.hours", hour)
	case s < 365*day:
		return in("chart.days", day)
	}
	return in("chart.years", 365*day)
}
