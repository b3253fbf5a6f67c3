package reading

import "mudline/internal/words"

// Hand is what the person's hands said, and whether it agrees with the jar.
type Hand struct {
	// Said is what was stated, in words, one entry an observation.
	Said []Said `json:"said"`
	// RibbonMM is the mean ribbon with its standard deviation; absent without one.
	RibbonMM *Ribbon `json:"ribbon_mm,omitempty"`
	// Questions are asked back where answers contradict each other or cannot
	// be; nothing below is then given.
	Questions     []string        `json:"questions,omitempty"`
	QuestionsSaid []words.Message `json:"questions_said,omitempty"`
	// Classes are the classes the hands alone allow, most likely first.
	Classes []OtherClass `json:"classes,omitempty"`
	// Clay is the percent clay the hands alone allow, with its 90 % interval.
	Clay *Range `json:"clay_percent,omitempty"`
	// Verdict is "agree", "borderline" or "disagree"; empty where the jar gave
	// no fractions.
	Verdict string `json:"verdict,omitempty"`
	// Probability is how often, in 0..1, a soil as the jar reading describes it
	// would give observations as odd as these, or odder.
	Probability *float64 `json:"probability,omitempty"`
	// Text says the verdict in a sentence.
	Text     string         `json:"text,omitempty"`
	TextSaid *words.Message `json:"text_said,omitempty"`
	// Reasons why the two may differ, the likeliest first.
	Reasons []HandReason `json:"reasons,omitempty"`
	// Joint is jar and hands together; absent where they disagree.
	Joint *Joint `json:"joint,omitempty"`
}

// Said is one observation: its key in jar.yaml and its value.
type Said struct {
	Key   string `json:"key"`
	Value string `json:"value"`
}

// Ribbon is the mean of several ribbons; SD is absent for a single one.
type Ribbon struct {
	Mean  float64  `json:"mean"`
	SD    *float64 `json:"sd,omitempty"`
	Count int      `json:"count"`
}

// HandReason is one reason why jar and hands may differ, and what would settle it.
type HandReason struct {
	Code   string `json:"code"`
	Text   string `json:"text"`
	Remedy string `json:"remedy,omitempty"`
	// Said and Todo are Text and Remedy as messages.
	Said *words.Message `json:"said,omitempty"`
	Todo *words.Message `json:"todo,omitempty"`
}

// Joint is the estimate from jar and hands together.
type Joint struct {
	Fractions Fractions `json:"fractions"`
	Class     *Class    `json:"class,omitempty"`
}
