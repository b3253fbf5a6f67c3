package main

import (
	"context"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestMain(m *testing.M) {
	if err := os.Chdir(filepath.Join("..", "..")); err != nil {
		panic(err)
	}
	os.Exit(m.Run())
}

// Every part of the program and of the page is under a licence that is known and allowed,
// libraries that lie inside a part among them.
func TestLicences(t *testing.T) {
	for _, p := range []struct {
		program, tags string
		environment   []string
	}{
		{"./cmd/mudline", "nodynamic", target{"linux", "amd64"}.environment()},
		{"./cmd/mudline", "nodynamic", target{"windows", "arm64"}.environment()},
		{"./cmd/mudline-page", "", append(os.Environ(), "GOOS=js", "GOARCH=wasm")},
	} {
		parts, err := partsOf(context.Background(), p.environment, p.tags, p.program)
		if p.program == "./cmd/mudline-page" {
			parts, err = partsOfPage(context.Background())
			assert.True(t, slices.ContainsFunc(parts, func(one part) bool { return one.path == "github.com/gen2brain/heic" }))
		}
		require.NoError(t, err)
		require.Greater(t, len(parts), 5)
		text, err := licences(parts)
		require.NoError(t, err)
		for _, part := range parts {
			assert.NotEmpty(t, part.texts, part.path)
			assert.Contains(t, string(text), part.path+" "+part.version)
			if part.path == "github.com/gen2brain/heic" {
				assert.Contains(t, part.licences, "LGPL-3.0", "libheif and libde265 are inside")
			}
		}
	}
}

func TestLicencesThatMayNotBeIn(t *testing.T) {
	for text, want := range map[string][]string{
		"GNU GENERAL PUBLIC LICENSE\n   Version 3, 29 June 2007":                                                              {"GPL-3.0"},
		"GNU LESSER GENERAL PUBLIC LICENSE\nVersion 3, 29 June 2007 ... GNU General Public License\n Version 3, 29 June 2007": {"LGPL-3.0"},
		"You may look, but not touch.": nil,
		"// Permission to use, copy, modify, and distribute this software for any\n// purpose with or without fee": {"ISC"},
	} {
		folder := t.TempDir()
		require.NoError(t, os.WriteFile(filepath.Join(folder, "LICENSE"), []byte(text), 0o644))
		p := part{path: "example.com/x", version: "v1", folder: folder}
		err := p.read()
		assert.Equal(t, want, p.licences)
		if len(want) == 1 && allowed[want[0]] {
			assert.NoError(t, err)
		} else {
			assert.ErrorContains(t, err, "example.com/x v1")
		}
	}
}
