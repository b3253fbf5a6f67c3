package feel

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
	// Ask is the question; How says in at most two sentences how to find out.
	Ask, How string
	Kind     Kind
	// Choices are the answers of a Choice.
	Choices []Option
	// Example is an answer to a question of another kind.
	Example string
}

// Option is one answer of a choice: its value, and plain words for it.
type Option struct{ Value, Label string }

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
		choice("hands", "How often have you done this?",
			"Hands learn: those that have been compared with laboratory results count for more.",
			Option{string(Beginner), "a few times at most"},
			Option{string(Practised), "often, and checked against laboratory results"}),
		yesNo("stones-out", "Are stones and roots picked out?",
			"Take about 25 g of soil, a heaped tablespoon, and crumble it. Pick out stones and roots: they cut a ribbon short and feel like sand."),
		{Key: "colour-dry", Kind: Text, Ask: "What colour is the dry soil?", Example: "light brown, or 10YR 6/3",
			How: "Look at a dry crumb by daylight, out of the sun. Plain words do, or a Munsell notation if you have the chart."},
		yesNo("moistened", "Did you wet it drop by drop?",
			"Add rain or tap water a few drops at a time while you work it, until it is like soft putty and just sticks together. Too wet and it smears, too dry and it crumbles: then add soil or water."),
		{Key: "colour-moist", Kind: Text, Ask: "What colour is the moist soil?", Example: "dark brown, or 10YR 3/3",
			How: "Look at it by daylight once it is wetted through but does not shine. Plain words do, or a Munsell notation."},
		choice(SmellKey, "What does the moist soil smell of?",
			"Notice it from a hand's breadth away, without breathing it in deeply. If it smells of fuel or solvent, put it down, wash your hands and leave it at that.",
			Option{string(NoSmell), "nothing much"},
			Option{string(Earthy), "earth, like a wood after rain"},
			Option{string(Sour), "sour"},
			Option{string(RottenEgg), "rotten eggs"},
			Option{string(Fuel), "fuel, oil or solvent"}),
		yesNo("kneaded", "Did you knead it until it was even?",
			"Work it between thumb and fingers for one to two minutes until no crumb is left. A dry clay soil can take up to ten."),
		choice("ball", "Does a ball of it hold together?",
			"Squeeze the handful into a ball and open your hand. Turn it over and pass it from hand to hand.",
			Option{string(NoBall), "no, it crumbles as the hand opens"},
			Option{string(WeakBall), "yes, if I handle it with care"},
			Option{string(FirmBall), "yes, however I handle it"}),
		choice("failure", "How does the ball give way?",
			"Drop it from about half a metre (50 cm, 20 in) onto a firm surface, or press it flat with the thumb.",
			Option{string(FallsApart), "it falls apart"},
			Option{string(Cracks), "it cracks, but stays in pieces that hold"},
			Option{string(Deforms), "it only flattens and changes shape"}),
		{Key: Ribbons, Kind: Lengths, Ask: "How long are the ribbons you can press out?", Example: "30 mm, 35 mm, 1 1/4 in",
			How: "Push the soil up between thumb and the side of your finger, about 3 mm thick, until the strip breaks of its own weight, and measure it. Make several: five say more than one."},
		degree("grit", "Is it gritty?",
			"Wet a pinch in the palm until it runs, and rub it with a finger. Sand grains scratch, and can be heard near the ear.",
			"no grit", "some grit", "grit above all"),
		degree("smooth", "Is it smooth, like flour?",
			"In the same wet pinch, feel what lies between the grains. Silt is silky and slips, without sticking.",
			"not smooth", "somewhat smooth", "smooth above all"),
		degree("sticky", "Does it stick to your fingers?",
			"Press some between thumb and finger, and draw them apart. Clay clings to both and stretches.",
			"it does not stick", "it sticks a little, and comes off clean", "it clings and stretches"),
	}
}

func choice(key, ask, how string, options ...Option) Question {
	return Question{Key: key, Ask: ask, How: how, Kind: Choice, Choices: options}
}

func yesNo(key, ask, how string) Question {
	return choice(key, ask, how, Option{string(Yes), "yes"}, Option{string(No), "no"})
}

func degree(key, ask, how, none, some, strong string) Question {
	return choice(key, ask, how, Option{string(None), none}, Option{string(Some), some}, Option{string(Strong), strong})
}
