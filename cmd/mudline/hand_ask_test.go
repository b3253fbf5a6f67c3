package main

import (
	"bytes"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mudline/internal/words"
	"mudline/texture/feel"
)

// An answer may be typed as it is shown, in the language it is shown in.
func TestAnAnswerMayBeTypedAsItIsShown(t *testing.T) {
	es, err := words.Find("es")
	require.NoError(t, err)
	var o feel.Observation
	for _, q := range feel.Questions() {
		if q.Key == "moistened" {
			require.NoError(t, newLineForm(t.Context(), strings.NewReader("Sí\n"), &bytes.Buffer{}, es).one(&o, q))
		}
	}
	assert.Equal(t, feel.Yes, o.Moistened)
}
