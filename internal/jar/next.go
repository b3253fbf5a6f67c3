package jar

import (
	"fmt"
	"time"

	"mudline/internal/reading"
	"mudline/internal/record"
	"mudline/texture"
)

// nextPhoto says which photo more would narrow the reading most; nil where none
// is worth it.
func nextPhoto(tex *texture.Result) *reading.NextPhoto {
	if tex == nil || tex.Next == nil {
		return nil
	}
	n := tex.Next
	text := "One more photo about %s after shaking would narrow the widest of the three ranges from %.0f to about %.0f points."
	if n.Again {
		text = "Shake the jar again and add a photo about %s after that: it would narrow the widest of the three ranges from %.0f to about %.0f points."
	}
	at := record.FormatElapsed(time.Duration(n.ElapsedS * float64(time.Second)))
	return &reading.NextPhoto{ElapsedS: n.ElapsedS, Again: n.Again, WidthPoints: n.WidthNow, ExpectedPoints: n.WidthThen,
		Text: fmt.Sprintf(text, at, n.WidthNow, n.WidthThen)}
}
