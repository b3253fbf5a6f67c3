package jar

import (
	"time"

	"mudline/internal/reading"
	"mudline/internal/words"
	"mudline/texture"
)

// nextPhoto says which photo more would narrow the reading most; nil where none
// is worth it.
func nextPhoto(tex *texture.Result) *reading.NextPhoto {
	if tex == nil || tex.Next == nil {
		return nil
	}
	n := tex.Next
	args := []words.Arg{words.After("t", time.Duration(n.ElapsedS*float64(time.Second))), words.Whole("now", n.WidthNow), words.Whole("then", n.WidthThen)}
	text := words.Say("jar.next-photo", args...)
	if n.Again {
		text = words.Say("jar.next-photo-again", args...)
	}
	return &reading.NextPhoto{ElapsedS: n.ElapsedS, Again: n.Again, WidthPoints: n.WidthNow, ExpectedPoints: n.WidthThen, Text: text.String(), Said: text.Ptr()}
}
