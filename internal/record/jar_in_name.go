package record

import (
	"regexp"
	"strings"
)

var (
	// stemWord cuts a file name into words, keeping where they stand.
	stemWord = regexp.MustCompile(`[^\s_()\[\]+,;-]+`)
	// cameraName is a word of a camera, a messenger or a file manager, with or
	// without the number that follows it.
	cameraName = regexp.MustCompile(`^(?:img|image|imagen|imagem|immagine|photo|foto|bild|picture|pict|pic|screenshot|scan|dscn?|dscf|dsc|pxl|mvimg|dji|gopr|wa|sam|copy|edited|kopie|copie|copia)?[0-9]*$`)
	wordDate   = regexp.MustCompile(`^(?:19|20)[0-9]{2}[01][0-9][0-3][0-9](?:t?[0-9]{6}[0-9]*)?$`)
	// device is how names begin that phones, cameras, messengers and screens give of
	// themselves; what follows is a date or a number in a form of their own.
	device = regexp.MustCompile(`^(?:whatsapp (?:image|video) |screen ?shot[ _]|bildschirmfoto |captura de pantalla |capture d.écran |signal-|snapchat-|received_|fb_img_|pxl_|p[0-9]{7}(?:$|[^0-9a-z]))`)
	// identifier is a random identifier, as some phones name photos.
	identifier = regexp.MustCompile(`^[0-9a-f]{8}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{12}`)
)

// Stem is the part of a photo's file name that names its jar: the name without
// its time, date, serial number and the words cameras write. "plot-7_1min.jpg"
// and "plot-7_2h (1).jpg" both give "plot-7"; "IMG_0412.jpg" gives "". Where the
// name holds a time, numbers before it belong to the jar ("jar 3 2h"); where it
// holds none, a number at its end counts as serial ("plot_003").
func Stem(file string) string {
	name := baseName(file)
	lower := strings.ToLower(name)
	if len(lower) != len(name) {
		lower = name // a letter whose small form has another length
	}
	if identifier.MatchString(lower) {
		return ""
	}
	words, timed := stemWords(lower)
	if !timed && device.MatchString(lower) {
		return ""
	}
	for len(words) > 1 && words[len(words)-1].serial && (!timed || words[len(words)-1].afterTime) {
		words = words[:len(words)-1]
	}
	only := true
	for _, w := range words {
		only = only && w.serial
	}
	if len(words) == 0 || only && (!timed || words[0].camera || len(words) > 1) {
		return ""
	}
	return strings.Trim(name[words[0].from:words[len(words)-1].to], " _-+,;.")
}

// word is a word of a file's name that is not part of its time.
type word struct {
	from, to  int
	serial    bool // a number, or a word of a camera
	camera    bool // with letters in it
	afterTime bool // nothing but numbers stand between it and a time
}

// stemWords gives the words that are no part of a time or date, and whether
// there was a time.
func stemWords(lower string) (words []word, timed bool) {
	places := stemWord.FindAllStringIndex(lower, -1)
	after := false // only numbers since the time
	for i := 0; i < len(places); i++ {
		from, to := places[i][0], places[i][1]
		text := strings.Trim(lower[from:to], ".,")
		follows := ""
		if i+1 < len(places) {
			follows = strings.Trim(lower[places[i+1][0]:places[i+1][1]], ".,")
		}
		camera := len(words) > 0 && words[len(words)-1].camera
		switch m := nameTail.FindStringSubmatch(text); {
		case nameTime.MatchString(text) && (!camera || typedTime.MatchString(text)):
			timed, after = true, true
			continue
		case m != nil && !nameTime.MatchString(text):
			timed, after = true, true
			to = from + len(text) - len(m[1])
		case wordNumber.MatchString(text) && wordUnit.MatchString(follows):
			timed, after = true, true
			i++
			continue
		case wordDate.MatchString(text):
			continue
		}
		if date := nameDate.FindString(lower[from:]); date != "" && strings.HasPrefix(lower[from:], date) {
			for i+1 < len(places) && places[i+1][0] < from+len(date) {
				i++ // a date written with separators
			}
			continue
		}
		text = strings.Trim(lower[from:to], ".,")
		serial := cameraName.MatchString(text)
		after = after && (serial || to < places[i][1])
		words = append(words, word{from: from, to: to, serial: serial,
			camera: serial && !wordNumber.MatchString(text), afterTime: after})
	}
	return words, timed
}
