package chart

import "math"

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
	tenth := func(v float64) float64 { return math.Round(v*10) / 10 }
	switch {
	case s < 0.95*minute:
		return o.say("%g s", tenth(s))
	case s < 0.95*hour:
		return o.say("%g min", tenth(s/minute))
	case s < 0.95*day:
		return o.say("%g h", tenth(s/hour))
	case tenth(s/day) == 1:
		return o.say("1 day")
	case s < 365*day:
		return o.say("%g days", tenth(s/day))
	case s == 365*day:
		return o.say("1 year")
	}
	return o.say("%g years", tenth(s/(365*day)))
}
