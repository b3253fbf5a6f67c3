package report

import (
	"fmt"
	"strings"

	"mudline/internal/reading"
	"mudline/internal/words"
)

// citations number the sources of statements in the order in which they are named, so
// that they stand in one list at the end.
type citations struct {
	o     Options
	first int      // the number of the first
	list  []string // as a person reads them
}

// unnumbered are the messages on where a statement is from that name no publication.
var unnumbered = map[string]bool{"source.common-practice": true, "source.this-reading": true}

// of gives the numbers of a statement's sources in brackets; nothing where it has none.
func (c *citations) of(s reading.Statement) string {
	var numbers []string
	s.From().Each(func(m words.Message) {
		if joins := len(m.Args) > 0 && m.Key != plain; joins || unnumbered[m.Key] || s.SourceSaid == nil && s.Source == commonPractice {
			return
		}
		numbers = append(numbers, fmt.Sprint(c.first+c.place(c.o.tell(m))))
	})
	if len(numbers) == 0 {
		return ""
	}
	return "[" + strings.Join(numbers, ", ") + "]"
}

// commonPractice is what a reading that was written without messages names so.
const commonPractice = "common practice"

// place is where a source stands in the list, to which it is added if it is new.
func (c *citations) place(source string) int {
	for i, known := range c.list {
		if known == source {
			return i
		}
	}
	c.list = append(c.list, source)
	return len(c.list) - 1
}

// methodSources are how many sources the report's method names before those of its
// statements.
const methodSources = 10

// cite numbers the sources of all that the page states, in the order of the page.
func (v *view) cite(o Options) {
	c := &citations{o: o, first: methodSources + 1}
	v.Cites = map[reading.Statement]string{}
	var all []reading.Statement
	if m := v.R.Meaning; m != nil {
		all = append(append(append(all, m.Lines...), m.Laboratory), m.More...)
	}
	for _, s := range append(all, v.Cautions...) {
		v.Cites[s] = c.of(s)
	}
	v.Sources = c.list
}
