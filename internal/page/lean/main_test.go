package main

import (
	"encoding/json"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// With the Go at hand the lookup is found once, so that the page's program is the small one.
func TestTheLookupIsTakenOut(t *testing.T) {
	folder := t.TempDir()
	require.NoError(t, prepare(folder))
	var overlay struct{ Replace map[string]string }
	written, err := os.ReadFile(filepath.Join(folder, "overlay.json"))
	require.NoError(t, err)
	require.NoError(t, json.Unmarshal(written, &overlay))
	require.Len(t, overlay.Replace, 1)
	for library, lean := range overlay.Replace {
		was, err := os.ReadFile(library)
		require.NoError(t, err)
		is, err := os.ReadFile(lean)
		require.NoError(t, err)
		assert.Contains(t, string(was), "MethodByName")
		assert.NotContains(t, string(is), "ptr.MethodByName")
	}
}
