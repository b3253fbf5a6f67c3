package record

import (
	"regexp"
	"strings"
	"time"

	"mudline/internal/words"
)

var (
	// nameSplit cuts a file name into words; points and commas may be decimal.
	nameSplit = regexp.MustCompile(`[^a-z0-9.,í\x{301}]+`)
	// nameTime is a word that is a time: "48h", "2d3h", "t007200s", "1h30".
	nameTime = regexp.MustCompile(`^t?((?:` + number + `(?:` + longUnit + `|` + shortUnit + `))+|[0-9]+h[0-9]{2})$`)
	// nameTail is a word that ends in a time whose unit is written out, so
	// that the letters before it cannot be taken for a unit: "jar2days".
	nameTail   = regexp.MustCompile(`^[a-z]+(` + number + `(?:` + longUnit + `))$`)
	wordNumber = regexp.MustCompile(`^` + number + `$`)
	wordUnit   = regexp.MustCompile(`^(?:` + longUnit + `)$`)
	// nameDate finds a date; beside one, hours and minutes are a time of day.
	nameDate = regexp.MustCompile(`(?:19|20)[0-9]{2}[-_. ]?[01][0-9][-_. ]?[0-3][0-9]`)
	// nameNth is a day or an hour with its number behind it, which tells no time: people
	// count the first day as 0 or as 1.
	nameNth = regexp.MustCompile(`(?:^|[^a-z])((?:days?|d(?:i\x{301}?|í)as?|jours?|hours?|horas?|heures?)[-_. ]?[0-9]{1,3})(?:$|[^0-9a-z])`)
	// typedTime is a time as a person types it behind what a camera wrote, and no serial
	// number: IMG_2h, but not DSC_0012s.
	typedTime = regexp.MustCompile(`^[1-9][0-9]{0,2}(?:[^0-9]|$)`)
	// cameraWord is what cameras write before a serial number.
	cameraWord = regexp.MustCompile(`^(?:img|dsc[nf]?|pxl|mvimg|dji|gopr|wa|pict|sam)$`)
)

// ElapsedFromName reads the time since shaking from a file's name: "_1min",
// "48h", "2 days", "t007200s", "2d3h", with the standard deviation ParseElapsed
// gives. Dates, serial numbers and names that hold two different times give
// false rather than a guess.
func ElapsedFromName(file string) (elapsed, sd time.Duration, ok bool) {
	elapsed, sd, _ = inName(file)
	return elapsed, sd, elapsed > 0
}

// inName is the time in a file's name, or why none is taken from it; all is empty where
// the name says nothing of a time.
func inName(file string) (elapsed, sd time.Duration, why words.Message) {
	name := baseName(strings.ToLower(file))
	date, first := nameDate.FindString(name), ""
	for _, text := range timesIn(nameSplit.Split(name, -1)) {
		e, s, err := ParseElapsed(text)
		switch {
		case err != nil:
			return 0, 0, words.Say("record.name-time-outside", words.Because("why", err))
		case date != "" && isClock(text):
			return 0, 0, words.Say("record.name-clock", words.Name("given", text))
		case elapsed > 0 && e != elapsed:
			return 0, 0, words.Say("record.name-two-times", words.Name("one", first), words.Name("other", text))
		}
		elapsed, sd, first = e, s, text
	}
	if elapsed > 0 {
		return elapsed, sd, why
	}
	if m := nameNth.FindStringSubmatch(name); m != nil {
		return 0, 0, words.Say("record.name-nth", words.Name("given", m[1]))
	}
	if date != "" {
		return 0, 0, words.Say("record.name-dated", words.Name("date", date))
	}
	return 0, 0, why
}

// isClock says whether a time could be a time of day, such as 11h38m20s.
func isClock(text string) bool {
	_, after, ok := strings.Cut(text, "h")
	return ok && strings.ContainsAny(after, "0123456789")
}

// timesIn gives the parts of a name that read as times. Neighbouring words that make one
// time together ("2d", "3h") are joined.
func timesIn(parts []string) []string {
	var times []string
	joined := false
	for i := 0; i < len(parts); i++ {
		word := strings.Trim(parts[i], ".,")
		text := ""
		switch m := nameTime.FindStringSubmatch(word); {
		case m != nil && (i == 0 || !cameraWord.MatchString(parts[i-1]) || typedTime.MatchString(m[1])):
			text = m[1]
		case m == nil && nameTail.MatchString(word):
			text = nameTail.FindStringSubmatch(word)[1]
		case wordNumber.MatchString(word) && i+1 < len(parts) && wordUnit.MatchString(strings.Trim(parts[i+1], ".,")):
			text = word + strings.Trim(parts[i+1], ".,")
			i++
		}
		if text == "" {
			joined = false
			continue
		}
		if joined {
			both := times[len(times)-1] + " " + text
			if _, _, err := ParseElapsed(both); err == nil {
				times[len(times)-1] = both
				continue
			}
		}
		times = append(times, text)
		joined = true
	}
	return times
}

// baseName drops folders and the extension.
func baseName(name string) string {
	if i := strings.LastIndexAny(name, `/\`); i >= 0 {
		name = name[i+1:]
	}
	if i := strings.LastIndexByte(name, '.'); i > 0 {
		name = name[:i]
	}
	return name
}
