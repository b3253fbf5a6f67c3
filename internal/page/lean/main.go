// Command lean prepares a smaller build of the page's program. text/template looks for
// methods by names that are known only when a template runs; a linker that meets this
// keeps every exported method of every type, an eighth of the program. The page's templates
// name fields and functions only, so that its program is built (go build -overlay) with a
// copy of that file in which no method is found.
//
//	lean FOLDER
//
// writes FOLDER/overlay.json and what it names. Where the standard library has changed so
// that the lookup is not found, the overlay is empty and the build as large as without.
package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
)

// The lookup, and what stands in its place.
var (
	lookup = []byte("if method := ptr.MethodByName(fieldName); method.IsValid() {")
	none   = []byte("if method := (reflect.Value{}); method.IsValid() {")
)

func main() {
	if len(os.Args) != 2 {
		fmt.Fprintln(os.Stderr, "lean needs the folder that it is to write to")
		os.Exit(2)
	}
	if err := prepare(os.Args[1]); err != nil {
		fmt.Fprintln(os.Stderr, "lean:", err)
		os.Exit(1)
	}
}

func prepare(folder string) error {
	root, err := exec.Command("go", "env", "GOROOT").Output()
	if err != nil {
		return fmt.Errorf("asking go where its library is: %w", err)
	}
	folder, err = filepath.Abs(folder)
	if err != nil {
		return err
	}
	if err := os.MkdirAll(folder, 0o755); err != nil {
		return err
	}
	library := filepath.Join(string(bytes.TrimSpace(root)), "src", "text", "template", "exec.go")
	source, err := os.ReadFile(library)
	if err != nil {
		return err
	}
	replace := map[string]string{}
	if bytes.Count(source, lookup) == 1 {
		lean := filepath.Join(folder, "exec.go.txt")
		if err := os.WriteFile(lean, bytes.Replace(source, lookup, none, 1), 0o644); err != nil {
			return err
		}
		replace[library] = lean
	} else {
		fmt.Fprintln(os.Stderr, "lean: text/template has changed: the page's program is an eighth larger than it could be")
	}
	overlay, err := json.Marshal(map[string]any{"Replace": replace})
	if err != nil {
		return err
	}
	return os.WriteFile(filepath.Join(folder, "overlay.json"), overlay, 0o644)
}
