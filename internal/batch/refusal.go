package batch

import (
	"strings"

	"mudline/internal/reading"
	"mudline/internal/record"
	"mudline/internal/sorting"
	"mudline/internal/words"
)

// english is how a batch speaks where no other language is asked for: of the record of a
// jar, not of options on the command line, for a batch has none for a single jar.
var english = (*words.Language)(nil).In(words.Setting{Surface: words.Batch})

// refuse makes a refusal whose texts are worded for a batch.
func refuse(code reading.RefusalCode, said, todo words.Message) *reading.Refusal {
	no := reading.Refuse(code, said, todo)
	no.Text, no.Remedy = english.Say(said), english.Say(todo)
	return no
}

// remedied gives a refusal whose remedy fits a jar of a batch: it says into which record
// to write what is to be stated.
func (j *Jar) remedied(no *reading.Refusal) *reading.Refusal {
	todo := no.Help()
	if states(todo) {
		todo = words.Then(todo, j.whereToState())
	}
	if no.Code == reading.NoJar && len(j.Photos) > 1 {
		todo = words.Say("batch.move-photo-or", words.Told("todo", todo))
	}
	return refuse(no.Code, no.Message(), todo)
}

// states tells whether a message says what to write into a record: it is then worded
// otherwise in a batch.
func states(m words.Message) (found bool) {
	m.Each(func(m words.Message) { found = found || english.Has(m.Key+"@"+string(words.Batch)) })
	return found
}

// whereToState says which record is the jar's own.
func (j *Jar) whereToState() words.Message {
	own := j.ID + ownRecord
	switch {
	case strings.HasSuffix(j.ID, "/"):
		own = j.ID + record.FileName
	case j.sortedBy(sorting.ByRounds) || j.sortedBy(sorting.ByLooks):
		return words.Say("batch.write-in-own-folder", words.Name("record", record.FileName))
	case len(j.Records) > 0 && j.sortedBy(whyListed(j.Records[0])):
		own = j.Records[0]
	}
	return words.Say("batch.write-into", words.Name("record", own))
}
