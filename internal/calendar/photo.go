package calendar

import (
	"time"

	"mudline/internal/words"
)

// taking is how long a photo takes, with the walk to the jar.
const taking = 5 * time.Minute

// Photo is the reminder to photograph a jar, in a language; nil is English. The jar was
// shaken at start and is due for a photo some time after. An alarm sounds in time to get
// there where that is long enough ahead.
func Photo(jar string, start time.Time, after time.Duration, l *words.Language) Event {
	name := words.Name("jar", jar)
	if jar == "" {
		name = words.Told("jar", words.Say("calendar.soil-jar"))
	}
	e := Event{Start: start.Add(after), Length: taking, Summary: l.Text("calendar.photograph", name, words.After("elapsed", after)),
		Description: l.Text("calendar.how-to") + "\n" + l.Text("calendar.keep-still")}
	if after >= time.Hour {
		e.Early = []time.Duration{2 * taking}
	}
	return e
}
