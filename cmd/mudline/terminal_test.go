package main

import (
	"bytes"
	"encoding/json"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// What steers a terminal is spelt out, also where a letter is cut by the pieces it comes
// in; what is text stays, and JSON stays the same JSON.
func TestNothingSteersTheTerminal(t *testing.T) {
	var b bytes.Buffer
	s := &terminal{to: &b}
	for _, piece := range []string{"a\x1b[31mb\n", "é", "\xc3", "\xa9\t", "\u009b2J", "x\u202egpj.exe\u202c", "\x07\x7f", "1\r", "\n2\r3", "\xff!\n"} {
		n, err := s.Write([]byte(piece))
		require.NoError(t, err)
		assert.Equal(t, len(piece), n)
	}
	assert.Equal(t, "a\\u001b[31mb\néé\t\\u009b2Jx\\u202egpj.exe\\u202c\\u0007\\u007f1\r\n2\\u000d3\\xff!\n", b.String())

	b.Reset()
	name := "a\x1b[2J\u009b\u202e\x7f\n.jpg"
	require.NoError(t, json.NewEncoder(s).Encode(name))
	assert.NotContains(t, b.String(), "\u009b")
	var got string
	require.NoError(t, json.Unmarshal(b.Bytes(), &got))
	assert.Equal(t, name, got)
}
