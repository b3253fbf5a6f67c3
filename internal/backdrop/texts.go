package backdrop

import "mudline/internal/words"

// texts are all words that stand on a sheet.
type texts struct {
	foot  string    // where the jar goes
	check string    // beside the line to measure
	how   [2]string // to print it and set it up
	sheet string    // before the identity
	mm    string    // over the scales
	inch  string
}

func textsIn(l *words.Language) texts {
	return texts{
		foot: l.Text("printed.foot"), check: l.Text("printed.check"), how: [2]string{l.Text("printed.how"), l.Text("printed.how-2")},
		sheet: l.Text("printed.sheet"), mm: l.Text("printed.mm"), inch: l.Text("printed.inch"),
	}
}
