// Package calendar writes reminders as an iCalendar file (RFC 5545).
package calendar

import (
	"bytes"
	"fmt"
	"strings"
	"time"
	"unicode/utf8"
)

// Event is one reminder.
type Event struct {
	// Start is when it is due; Length how long it takes, at least a second.
	Start  time.Time
	Length time.Duration
	// Summary is its title, Description what to do.
	Summary, Description string
	// Early are the alarms before the start; one at the start always sounds.
	Early []time.Duration
}

// Encode writes the reminders as a calendar. stamp is the moment of writing;
// identity is worldwide unique, such as a random number: together with the
// event's number it makes the event's UID.
func Encode(events []Event, stamp time.Time, identity string) []byte {
	var b bytes.Buffer
	line(&b, "BEGIN:VCALENDAR")
	line(&b, "VERSION:2.0")
	line(&b, "PRODID:-//mudline//jar reminders//EN")
	for i, e := range events {
		line(&b, "BEGIN:VEVENT")
		line(&b, fmt.Sprintf("UID:%s-%d@mudline", identity, i+1))
		line(&b, "DTSTAMP:"+utc(stamp))
		line(&b, "DTSTART:"+utc(e.Start))
		line(&b, "DTEND:"+utc(e.Start.Add(max(e.Length, time.Second))))
		line(&b, "SUMMARY:"+escape(e.Summary))
		line(&b, "DESCRIPTION:"+escape(e.Description))
		for _, early := range append([]time.Duration{0}, e.Early...) {
			alarm(&b, e.Summary, early)
		}
		line(&b, "END:VEVENT")
	}
	line(&b, "END:VCALENDAR")
	return b.Bytes()
}

// alarm is a VALARM, RFC 5545 section 3.6.6.
func alarm(b *bytes.Buffer, text string, early time.Duration) {
	line(b, "BEGIN:VALARM")
	line(b, "ACTION:DISPLAY")
	line(b, "DESCRIPTION:"+escape(text))
	if early > 0 {
		line(b, "TRIGGER:-"+duration(early))
	} else {
		line(b, "TRIGGER:PT0S")
	}
	line(b, "END:VALARM")
}

// utc is form 2 of section 3.3.5, date with UTC time.
func utc(t time.Time) string { return t.UTC().Format("20060102T150405Z") }

// duration is section 3.3.6, in whole seconds.
func duration(d time.Duration) string {
	s := int(d.Round(time.Second).Seconds())
	out := "P"
	if days := s / 86400; days > 0 {
		out += fmt.Sprintf("%dD", days)
	}
	if s %= 86400; s == 0 && out != "P" {
		return out
	}
	out += "T"
	if h := s / 3600; h > 0 {
		out += fmt.Sprintf("%dH", h)
	}
	// Section 3.3.6 lets no unit be skipped: hours and seconds need minutes.
	if m, rest := s%3600/60, s%60; m > 0 || rest > 0 && s >= 3600 {
		out += fmt.Sprintf("%dM", m)
	}
	if rest := s % 60; rest > 0 || s == 0 {
		out += fmt.Sprintf("%dS", rest)
	}
	return out
}

// escape is TEXT of section 3.3.11; control characters are not allowed in it.
func escape(s string) string {
	s = strings.Map(func(r rune) rune {
		if r < ' ' && r != '\n' && r != '\t' || r == 0x7f {
			return -1
		}
		return r
	}, strings.ToValidUTF8(strings.ReplaceAll(s, "\r\n", "\n"), "?"))
	return strings.NewReplacer(`\`, `\\`, ";", `\;`, ",", `\,`, "\n", `\n`).Replace(s)
}

// line ends a content line with CRLF and folds it after at most 75 octets,
// section 3.1, without cutting a letter in two.
func line(b *bytes.Buffer, s string) {
	room := 75
	for len(s) > room {
		cut := room
		for !utf8.RuneStart(s[cut]) {
			cut--
		}
		b.WriteString(s[:cut] + "\r\n ")
		s, room = s[cut:], 74
	}
	b.WriteString(s + "\r\n")
}
