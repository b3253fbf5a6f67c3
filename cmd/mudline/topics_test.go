package main

import (
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/stretchr/testify/assert"

	"mudline/internal/record"
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
	keys := command(t, nil, "help", "record").out
	for _, e := range record.Entries {
		assert.Regexp(t, `(?m)^`+e.Name+"[,:]", keys, "every key of jar.yaml is explained")
		if e.Option != "" {
			assert.Contains(t, keys, e.Name+", --"+e.Name)
		}
	}
	assert.Contains(t, command(t, nil, "help", "read").out, "mudline read")
	assert.Contains(t, command(t, nil, "help").out, "Additional help topics")
	r := command(t, nil, "help", "nonsense")
	assert.Equal(t, statusInput, r.status)
	assert.Contains(t, r.err, `there is no help on "nonsense"`)
}
