package advice

import (
	"mudline/internal/reading"
	"mudline/internal/words"
)

// Cautions are what to mind with jars and soil, and what a jar reading cannot
// stand in for. They hold for every reading: show them once.
func Cautions() []reading.Statement {
	return []reading.Statement{
		say("glass", practice, words.Say("caution.glass")),
		say("detergent", practice, words.Say("caution.detergent")),
		say("tetanus", ciphe, words.Say("caution.tetanus")),
		say("legionella", legionella, words.Say("caution.legionella")),
		say("dust", practice, words.Say("caution.dust")),
		say("lead", epa, words.Say("caution.lead")),
		say("waste", practice, words.Say("caution.waste")),
		say("smell", practice, words.Say("caution.smell")),
		say("limits", practice, words.Say("caution.limits")),
	}
}
