package page

import (
	"io/fs"
	"path"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

var imports = regexp.MustCompile(`(?m)(?:^import [^;]*?from |^export [^;]*? from |\bimport\()"(\.[^"]+)"`)

// modules gives the modules of the page, and which others each of them imports.
func modules(t *testing.T) map[string][]string {
	out := map[string][]string{}
	require.NoError(t, fs.WalkDir(site, "site/js", func(name string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		data, err := fs.ReadFile(site, name)
		out[name] = nil
		for _, m := range imports.FindAllStringSubmatch(string(data), -1) {
			out[name] = append(out[name], path.Join(path.Dir(name), m[1]))
		}
		return err
	}))
	return out
}

// Modules import one way: app.js knows the views, views what they are made of, and
// nothing that which imports it.
func TestModulesImportOneWay(t *testing.T) {
	all := modules(t)
	require.Greater(t, len(all), 25)
	require.Greater(t, len(all["site/js/app.js"]), 8)
	const entered, left = 1, 2
	state := map[string]int{}
	var visit func(name string, way []string)
	visit = func(name string, way []string) {
		way = append(way, strings.TrimPrefix(name, "site/js/"))
		switch state[name] {
		case left:
			return
		case entered:
			t.Errorf("modules import in a circle: %s", strings.Join(way, " > "))
			return
		}
		state[name] = entered
		for _, other := range all[name] {
			_, ok := all[other]
			assert.True(t, ok, "%s imports %s, which is not there", name, other)
			assert.NotEqual(t, "site/js/app.js", other, "%s imports the router: see route.js", name)
			if strings.HasPrefix(other, "site/js/views/") {
				assert.True(t, name == "site/js/app.js" || strings.HasPrefix(name, "site/js/views/"), "%s imports a view", name)
			}
			visit(other, way)
		}
		state[name] = left
	}
	for name := range all {
		visit(name, nil)
	}
}
