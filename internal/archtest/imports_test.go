// Package archtest checks that imports point one way.
package archtest

import (
	"go/parser"
	"go/token"
	"io/fs"
	"path"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// allowed names, for each folder with Go files, the folders of this module it
// may import. A folder that is not listed is an error: decide where it belongs.
var allowed = map[string][]string{
	"imaging":                 {"imaging/colour", "imaging/order", "imaging/pixels", "imaging/scaledjpeg", "internal/words"},
	"imaging/colour":          {},
	"imaging/order":           {},
	"imaging/pixels":          {"imaging/colour"},
	"imaging/jarfind":         {"imaging", "imaging/colour", "imaging/jarnet", "imaging/order", "imaging/pixels", "internal/equations"},
	"imaging/appearance":      {"imaging", "imaging/colour"},
	"imaging/jarnet":          {},
	"imaging/bare":            {"imaging", "internal/words"},
	"imaging/scaledjpeg":      {},
	"imaging/colourname":      {"internal/words"},
	"imaging/opencv":          {"imaging"},
	"imaging/enginetest":      {"imaging", "imaging/colour", "internal/testkit", "internal/jartest"},
	"layers":                  {"internal/equations", "internal/words"},
	"texture":                 {"internal/equations", "internal/words"},
	"texture/column":          {},
	"texture/feel":            {"texture", "internal/words"},
	"texture/moisture":        {"texture", "internal/words"},
	"internal/reading":        {"layers", "internal/words"},
	"internal/calendar":       {"internal/words"},
	"internal/sorting":        {"imaging", "imaging/colour", "imaging/sheetmark", "internal/words"},
	"internal/equations":      {},
	"internal/files":          {"internal/words"},
	"internal/spreadsheet":    {},
	"internal/apng":           {"internal/raster"},
	"internal/video":          {"internal/words"},
	"internal/record":         {"layers", "texture", "texture/feel", "texture/moisture", "internal/files", "internal/reading", "internal/words"},
	"internal/advice":         {"texture", "texture/feel", "texture/moisture", "internal/reading", "internal/words"},
	"internal/compare":        {"texture", "internal/reading", "internal/spreadsheet", "internal/words"},
	"imaging/sheetmark":       {"imaging/colour", "internal/equations"},
	"internal/backdrop":       {"imaging/sheetmark", "internal/words"},
	"internal/backdrop/press": {"internal/backdrop", "internal/raster"},
	"internal/jartest":        {"imaging", "imaging/colour", "imaging/sheetmark"},
	"internal/testkit":        {"imaging", "internal/jartest"},
	"internal/jartrain":       {"imaging", "imaging/jarfind", "imaging/jarnet", "internal/jartest"},
	"internal/browsertest":    {},
	"internal/jar": {"imaging", "imaging/appearance", "imaging/colour", "imaging/colourname", "imaging/jarfind", "imaging/sheetmark", "layers", "texture", "texture/feel", "texture/moisture",
		"internal/advice", "internal/checked", "internal/reading", "internal/record", "internal/words"},
	"internal/look":      {"imaging/colour", "layers"},
	"internal/raster":    {},
	"internal/words":     {},
	"internal/checked":   {"internal/words"},
	"internal/chart":     {"layers", "texture", "internal/look", "internal/raster", "internal/reading", "internal/words"},
	"internal/report":    {"imaging", "layers", "texture", "internal/apng", "internal/checked", "internal/chart", "internal/compare", "internal/jar", "internal/look", "internal/raster", "internal/reading", "internal/record", "internal/spreadsheet", "internal/words"},
	"internal/batch":     {"imaging", "imaging/colour", "texture", "internal/chart", "internal/files", "internal/jar", "internal/reading", "internal/record", "internal/report", "internal/spreadsheet", "internal/sorting", "internal/words"},
	"internal/desk":      {"imaging", "imaging/bare", "imaging/sheetmark", "internal/backdrop", "layers", "layers", "texture", "texture/feel", "texture/moisture", "internal/advice", "internal/checked", "internal/calendar", "internal/chart", "internal/compare", "internal/files", "internal/jar", "internal/reading", "internal/record", "internal/report", "internal/sorting", "internal/words"},
	"internal/page":      {"internal/look", "internal/words"},
	"internal/page/lean": {},
	"internal/page/heif": {},
	"internal/mutants":   {},
	"internal/archtest":  {},
	"internal/engine":    {"imaging", "imaging/opencv"},
	"internal/release":   {"internal/page"},
	"internal/accuracy":  {"imaging", "imaging/colour", "layers", "texture", "texture/column", "internal/engine", "internal/jar", "internal/jartest", "internal/reading", "internal/record"},
	"cmd/mudline-page":   {"imaging", "internal/desk", "internal/jar", "internal/reading"},
	"cmd/mudline": {"imaging", "imaging/sheetmark", "layers", "texture", "texture/feel", "texture/moisture", "internal/advice", "internal/backdrop", "internal/backdrop/press", "internal/batch", "internal/calendar", "internal/compare", "internal/engine",
		"internal/files", "internal/jar", "internal/page", "internal/reading", "internal/record", "internal/report", "internal/video", "internal/words"},
}

// The domain packages run in a browser too: no files, no processes, no network,
// no command line, no pages.
var (
	domain    = []string{"imaging", "layers", "texture"}
	forbidden = []string{"os", "os/exec", "os/signal", "io/fs", "io/ioutil", "path/filepath", "net", "net/http", "syscall", "flag",
		"html/template", "text/template", "github.com/spf13/cobra", "golang.org/x/term"}
)

// imports gives what each folder's program files import, tests left out.
func imports(t *testing.T) map[string][]string {
	root := filepath.Join("..", "..")
	found := map[string][]string{}
	err := filepath.WalkDir(root, func(name string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if d.IsDir() && (d.Name() == "testdata" || d.Name() == ".git" || d.Name() == "node_modules") {
			return fs.SkipDir
		}
		if !strings.HasSuffix(name, ".go") || strings.HasSuffix(name, "_test.go") {
			return nil
		}
		file, err := parser.ParseFile(token.NewFileSet(), name, nil, parser.ImportsOnly)
		if err != nil {
			return err
		}
		rel, err := filepath.Rel(root, filepath.Dir(name))
		if err != nil {
			return err
		}
		folder := filepath.ToSlash(rel)
		found[folder] = append(found[folder], "")
		for _, spec := range file.Imports {
			p, err := strconv.Unquote(spec.Path.Value)
			if err != nil {
				return err
			}
			found[folder] = append(found[folder], p)
		}
		return nil
	})
	require.NoError(t, err)
	return found
}

func TestImportsPointOneWay(t *testing.T) {
	found := imports(t)
	for folder := range allowed {
		assert.True(t, len(found[folder]) > 0 || folder == "internal/archtest", "%s is listed, but holds no program files", folder)
	}
	for folder, list := range found {
		may, known := allowed[folder]
		assert.True(t, known, "%s is not in the list of folders", folder)
		for _, p := range list {
			if own, ok := strings.CutPrefix(p, "mudline/"); ok && known {
				assert.Contains(t, may, own, "%s imports %s", folder, p)
			}
		}
	}
}

// forTests are the packages that tests alone may import.
var forTests = []string{"imaging/enginetest", "internal/browsertest", "internal/testkit"}

// Programs, those of the developers too, link nothing that is made for tests.
func TestProgramsLinkNoTests(t *testing.T) {
	for folder, list := range imports(t) {
		if slices.Contains(forTests, folder) {
			continue
		}
		for _, p := range list {
			own, _ := strings.CutPrefix(p, "mudline/")
			assert.False(t, p == "testing" || strings.HasPrefix(p, "github.com/stretchr/testify/") || slices.Contains(forTests, own), "%s imports %s", folder, p)
		}
	}
}

func TestDomainKnowsNoFilesOrProcesses(t *testing.T) {
	for folder, list := range imports(t) {
		if top, _, _ := strings.Cut(folder, "/"); !slices.Contains(domain, top) || path.Base(folder) == "enginetest" {
			continue
		}
		for _, p := range list {
			assert.NotContains(t, forbidden, p, folder)
		}
	}
}
