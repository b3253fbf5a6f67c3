package jar

import (
	"mudline/internal/reading"
	"mudline/internal/words"
)

// judgeJars leaves out photos in which the jar itself is too dark or blurred, however
// bright and sharp the rest of the picture is, where enough others stay. all says that
// none went.
func judgeJars(shots []*framed, out *leftOut) (stay []located, all bool, err error) {
	var gone leftOut
	for _, s := range shots {
		r := s.judge()
		if r == nil {
			stay = append(stay, s.located)
			continue
		}
		if err == nil {
			err = r
		}
		gone.add(s.file, r)
	}
	if len(gone) > 0 && !mayGo(len(*out)+len(gone), len(stay)) {
		return nil, false, err
	}
	*out = append(*out, gone...)
	return stay, len(gone) == 0, nil
}

// judge is why a photo tells nothing of the jar in it; nil where it does.
func (s *framed) judge() *reading.Refusal {
	q, ok := s.photo.AssessJar(s.frame)
	if !ok {
		return noJar(words.In(s.file, words.Say("jar.hardly-any")), false)
	}
	if r := q.Refuse(); r != nil {
		return reading.Refuse(reading.RefusalCode(r.Code), words.In(s.file, words.Say("jar.where-it-stands", words.Told("text", r.Text))), r.Remedy)
	}
	return nil
}
