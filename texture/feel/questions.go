package feel

import "mudline/internal/words"

// Kind is how a question is answered.
type Kind string

// The kinds of answers.
const (
	Choice  Kind = "choice"  // one of Question.Choices
	Lengths Kind = "lengths" // any number of lengths
	Text    Kind = "text"    // a few words
)

// Question is one thing to ask about a handful of soil, for any front end. Each
// may be left unanswered.
type Question struct {
	// Key names the answer: in jar.yaml, as an option, and for Set and Get.
	Key string
	// Do is what to do in a few words, How says in at most two sentences how it is
	// done, and Ask is the question that follows.
	Do, How, Ask words.Message
	Kind         Kind
	// Choices are the answers of a Choice.
	Choices []Option
	// Example is an answer to a question of another kind.
	Example words.Message
}

// Option is one answer of a choice: its value, and plain words for it.
type Option struct {
	Value string
	Label words.Message
}

// Ribbons is the key of the one question that is answered with Lengths, SmellKey
// that of the one whose answer Fuel ends the test: such soil is put down.
const (
	Ribbons  = "ribbons"
	SmellKey = "smell"
)

// Questions lists what to ask, in the order in which the hands go about it: the
// handful is looked at dry, wetted, kneaded, squeezed, dropped, pressed into
// ribbons, and at last rubbed with more water. The steps are those of Thien
// (1979), J. Agron. Educ. 8:54-55; kneading times follow Australian practice,
// the drop from half a metre is the field test for loamy sand.
func Questions() []Question {
	return []Question{
		choice("hands", string(Beginner), string(Practised)),
		choice("stones-out", string(Yes), string(No)),
		open("colour-dry", Text),
		choice("moistened", string(Yes), string(No)),
		open("colour-moist", Text),
		choice(SmellKey, string(NoSmell), string(Earthy), string(Sour), string(RottenEgg), string(Fuel)),
		choice("kneaded", string(Yes), string(No)),
		choice("ball", string(NoBall), string(WeakBall), string(FirmBall)),
		choice("failure", string(FallsApart), string(Cracks), string(Deforms)),
		open(Ribbons, Lengths),
		choice("grit", string(None), string(Some), string(Strong)),
		choice("smooth", string(None), string(Some), string(Strong)),
		choice("sticky", string(None), string(Some), string(Strong)),
	}
}

// choice asks for one of several answers. The texts of a question stand in the
// catalogues by its key, those of the answers by key and answer.
func choice(key string, values ...string) Question {
	q := asking(key, Choice)
	for _, v := range values {
		label := text(key + " " + v)
		if v == string(Yes) || v == string(No) {
			label = text(v)
		}
		q.Choices = append(q.Choices, Option{v, label})
	}
	return q
}

// open asks for an answer in a person's own words or numbers, of which it has an example.
func open(key string, kind Kind) Question {
	q := asking(key, kind)
	q.Example = text(key + " example")
	return q
}

func asking(key string, kind Kind) Question {
	return Question{Key: key, Do: text(key + " do"), How: text(key + " how"), Ask: text(key + " ask"), Kind: kind}
}

// text is one of the catalogues' texts on the hand test.
func text(name string) words.Message { return words.WordOf("hand", name) }
