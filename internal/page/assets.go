// Package page is the page in which a jar is read in a browser: its files, a
// server for them, and the static site they make. The program that reads runs
// in the page itself (cmd/mudline-page, built for js/wasm); nothing a person
// adds ever leaves it.
package page

import (
	"crypto/sha256"
	"embed"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"maps"
	"path"
	"slices"
	"strings"

	"mudline/internal/look"
	"mudline/internal/words"
)

// site is written by hand; built is what make builds for it (make page): the
// program, packed, and the loader that comes with Go.
//
//go:embed site
var site embed.FS

//go:embed all:built
var built embed.FS

// ErrNotBuilt says that the program for the page is not in this build: go install compiles
// one program and leaves no other behind, and what it would have to hold is no source.
var ErrNotBuilt = errors.New("the page is not in this build of mudline, as go install makes it: run make build in the source, or take mudline from a release")

// The files make builds.
const (
	programFile = "mudline.wasm.gz"
	loaderFile  = "wasm_exec.js"
)

// lookFile holds the colours, type, space, lines and parts that all of the project shares.
const lookFile = "look.css"

// Later are files that the page fetches only when they are needed, and keeps from then on:
// what decodes HEIC photos in browsers that cannot (libheif and libde265, compiled to
// WebAssembly, as the command line holds them too), and its licences.
var Later = []string{"heif.wasm.gz", "heif-licences.html"}

// Files gives every file of the site by its path, without a leading slash.
func Files() (map[string][]byte, error) {
	out := map[string][]byte{}
	for _, part := range []struct {
		files fs.FS
		root  string
	}{{site, "site"}, {built, "built"}} {
		err := fs.WalkDir(part.files, part.root, func(name string, d fs.DirEntry, err error) error {
			if err != nil || d.IsDir() || strings.HasPrefix(path.Base(name), ".") {
				return err
			}
			data, err := fs.ReadFile(part.files, name)
			out[strings.TrimPrefix(name, part.root+"/")] = data
			return err
		})
		if err != nil {
			return nil, err
		}
	}
	for _, tag := range words.Tags() {
		data, err := words.ForPage(tag)
		if err != nil {
			return nil, err
		}
		out["words/"+tag+".json"] = data
	}
	out[lookFile] = []byte(look.CSS())
	for _, name := range append([]string{programFile, loaderFile}, Later...) {
		if out[name] == nil {
			return nil, ErrNotBuilt
		}
	}
	return out, sealWorker(out)
}

// OnDemand says whether a file is loaded only when a person asks for it, and not kept: the
// photos of the sample jar.
func OnDemand(name string) bool { return strings.HasPrefix(name, "sample/") }

// sealWorker writes into the service worker which files the site is made of and
// a version that changes with any of them.
func sealWorker(files map[string][]byte) error {
	names := slices.Sorted(maps.Keys(files))
	sum := sha256.New()
	for _, n := range names {
		fmt.Fprintf(sum, "%s %d\n", n, len(files[n]))
		sum.Write(files[n])
	}
	names = slices.DeleteFunc(names, func(n string) bool { return n == workerFile || OnDemand(n) || slices.Contains(Later, n) })
	list, err := json.Marshal(names)
	if err != nil {
		return err
	}
	later, err := json.Marshal(Later)
	if err != nil {
		return err
	}
	text := string(files[workerFile])
	for mark, value := range map[string]string{
		`"__VERSION__"`: `"` + hex.EncodeToString(sum.Sum(nil)[:8]) + `"`,
		`["__FILES__"]`: string(list),
		`["__LATER__"]`: string(later),
	} {
		if strings.Count(text, mark) != 1 {
			return fmt.Errorf("%s must hold %s once", workerFile, mark)
		}
		text = strings.Replace(text, mark, value, 1)
	}
	files[workerFile] = []byte(text)
	return nil
}

// workerFile is the service worker; it lies at the top so that it may serve all.
const workerFile = "sw.js"
