package main

import (
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/stretchr/testify/assert"
)

// Each topic is found by help and fits a terminal; what is none is an error.
func TestHelpTopics(t *testing.T) {
	list := topicCommands()
	assert.GreaterOrEqual(t, len(list), 5)
	for _, topic := range list {
		r := command(t, nil, "help", topic.Name())
		assert.Equal(t, statusOK, r.status)
		assert.Contains(t, r.out, topic.Long)
		for _, line := range strings.Split(r.out, "\n") {
			assert.LessOrEqual(t, utf8.RuneCountInString(line), 100, "%s: %s", topic.Name(), line)
		}
	}
	assert.Contains(t, command(t, nil, "help", "read").out, "mudline read")
	assert.Contains(t, command(t, nil, "help").out, "Additional help topics")
	r := command(t, nil, "help", "nonsense")
	assert.Equal(t, statusInput, r.status)
	assert.Contains(t, r.err, `there is no help on "nonsense"`)
}
