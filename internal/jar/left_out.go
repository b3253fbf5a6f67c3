package jar

import (
	"errors"

	"mudline/internal/reading"
	"mudline/internal/words"
)

// leftOut are the photos of a jar that cannot be used, where the others are read without
// them.
type leftOut []reading.LeftOut

// leastStay is how many single photos must stay where others are left out: those of one
// moment alone tell too little to pass over what is wrong with the rest.
const leastStay = 2

// mayGo says whether so many single photos can be left out beside those that stay.
func mayGo(out, stay int) bool { return stay >= leastStay && stay >= out }

// add notes a photo that is left out, and why.
func (l *leftOut) add(file string, err error) {
	out := reading.LeftOut{File: file, Code: reading.UnreadableFile}
	said := words.Of(err)
	var refusal *reading.Refusal
	if errors.As(err, &refusal) {
		said = refusal.Message()
		out.Code, out.Remedy, out.Todo = refusal.Code, refusal.Remedy, refusal.Todo
	}
	if file != "" && said.Arg("file") == nil && said.Arg("photos") == nil {
		said = words.In(file, said)
	}
	out.Text, out.Said = said.String(), said.Ptr()
	*l = append(*l, out)
}

// doubt names the photos that were left out of so many. Dark ones are what a night gives,
// and in a film are not spoken of.
func (l leftOut) doubt(all int, film bool) []reading.Warning {
	var why []words.Message
	todo := nothingToDo
	for _, out := range l {
		if film && out.Code == reading.TooDark {
			continue
		}
		why = append(why, *out.Said)
		if !film && todo.Key == "" && out.Todo != nil {
			todo = *out.Todo
		}
	}
	if len(why) == 0 {
		return nil
	}
	const named = 5
	said := words.Then(why[0], why[1:min(named, len(why))]...)
	if n := len(why) - named; n > 0 {
		said = words.Then(said, words.Say("jar.and-more-left-out", words.Whole("more", n), words.Name("file", reading.FileName)))
	}
	return []reading.Warning{reading.Warn(reading.PhotosLeftOut, words.Say("jar.left-out", words.Whole("n", len(why)), words.Whole("all", all), words.Told("why", said)), todo)}
}
