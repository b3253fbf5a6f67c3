package jar

import (
	"mudline/internal/reading"
	"mudline/internal/words"
)

// judgeJars refuses photos in which the jar itself is too dark or blurred,
// however bright and sharp the rest of the picture is.
func judgeJars(shots []*framed) error {
	for _, s := range shots {
		q, ok := s.photo.AssessJar(s.frame)
		if !ok {
			return noJar(words.In(s.file, words.Say("jar.hardly-any")))
		}
		if r := q.Refuse(); r != nil {
			return reading.Refuse(reading.RefusalCode(r.Code), words.In(s.file, words.Say("jar.where-it-stands", words.Told("text", r.Text))), r.Remedy)
		}
	}
	return nil
}
