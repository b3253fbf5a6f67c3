package desk

import (
	"errors"
	"time"

	"mudline/internal/calendar"
	"mudline/internal/reading"
	"mudline/internal/record"
	"mudline/internal/words"
	"mudline/texture/moisture"
)

// elapsedRequest asks how long after shaking photos were taken. Taken is the
// camera's time as Opened gives it, empty where there is none.
type elapsedRequest struct {
	Record record.Tree `json:"record"`
	Photos []struct {
		File  string `json:"file"`
		Taken string `json:"taken"`
	} `json:"photos"`
}

// elapsedAnswer is one photo's time, or the code of the refusal that says why
// there is none.
type elapsedAnswer struct {
	ElapsedS float64 `json:"elapsed_s,omitempty"`
	From     string  `json:"from,omitempty"`
	Code     string  `json:"code,omitempty"`
}

// elapsed takes the photos one by one, so that one without a time does not keep
// the others from theirs.
func elapsed(_ *Desk, in elapsedRequest) (any, error) {
	r, err := in.Record.Record(record.FileName)
	if err != nil {
		return nil, err
	}
	out := make([]elapsedAnswer, len(in.Photos))
	for i, p := range in.Photos {
		taken := record.Taken{File: p.File}
		if p.Taken != "" {
			if taken.At, err = record.ParseMoment(p.Taken); err != nil {
				return nil, err
			}
		}
		times, _, err := r.Resolve([]record.Taken{taken})
		var refusal *reading.Refusal
		switch {
		case errors.As(err, &refusal):
			out[i].Code = string(refusal.Code)
		case err != nil:
			return nil, err
		default:
			out[i] = elapsedAnswer{ElapsedS: times[0].Time.Seconds(), From: times[0].From}
		}
	}
	return out, nil
}

// calendarRequest is reminders for a jar set down at Start (RFC 3339), each DueS
// seconds later. Identity makes them the same reminders when they are saved
// again.
type calendarRequest struct {
	Start    string `json:"start"`
	Identity string `json:"identity"`
	Events   []struct {
		DueS        float64 `json:"due_s"`
		Summary     string  `json:"summary"`
		Description string  `json:"description"`
	} `json:"events"`
}

// reminderLength is how long a photo takes, with the walk to the jar.
const reminderLength = 5 * time.Minute

func reminders(_ *Desk, in calendarRequest) (any, error) {
	start, err := time.Parse(time.RFC3339, in.Start)
	if err != nil {
		return nil, words.Say("desk.no-moment", words.Name("start", in.Start))
	}
	events := make([]calendar.Event, len(in.Events))
	for i, e := range in.Events {
		events[i] = calendar.Event{Start: start.Add(time.Duration(e.DueS * float64(time.Second))), Length: reminderLength,
			Summary: e.Summary, Description: e.Description}
		if e.DueS >= time.Hour.Seconds() {
			events[i].Early = []time.Duration{2 * reminderLength}
		}
	}
	return map[string]string{"ics": string(calendar.Encode(events, time.Now(), in.Identity))}, nil
}

// cropNames are the crops a record may name, each with its name in the person's language.
func cropNames(d *Desk, _ struct{}) (any, error) {
	names := [][2]string{}
	for _, c := range moisture.Crops() {
		names = append(names, [2]string{c.Name, words.Capital(d.language.Word("crop", c.Name))})
	}
	return names, nil
}
