// Command heif puts the decoder of HEIC photos, as the command line holds it, and its
// licences where the page embeds them from.
package main

import (
	"bytes"
	"fmt"
	"html"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
)

const module = "github.com/gen2brain/heic"

func main() {
	if len(os.Args) != 2 {
		fmt.Fprintln(os.Stderr, "usage: heif FOLDER")
		os.Exit(2)
	}
	if err := copyTo(os.Args[1]); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
}

func copyTo(folder string) error {
	told, err := exec.Command("go", "list", "-m", "-f", "{{.Dir}}\n{{.Version}}", module).Output()
	if err != nil {
		return fmt.Errorf("go list -m %s: %w", module, err)
	}
	dir, version, _ := strings.Cut(strings.TrimSpace(string(told)), "\n")
	decoder, err := os.ReadFile(filepath.Join(dir, "lib", "heif.wasm.gz"))
	if err != nil {
		return err
	}
	if err := os.WriteFile(filepath.Join(folder, "heif.wasm.gz"), decoder, 0o644); err != nil {
		return err
	}
	page, err := licences(dir, version)
	if err != nil {
		return err
	}
	return os.WriteFile(filepath.Join(folder, "heif-licences.html"), page, 0o644)
}

// licences is one page with the licences of what is in the decoder.
func licences(dir, version string) ([]byte, error) {
	var b bytes.Buffer
	fmt.Fprintf(&b, "<!doctype html>\n<html lang=\"en\"><meta charset=\"utf-8\"><title>The decoder of HEIC photos</title>\n<h1>The decoder of HEIC photos</h1>\n"+
		"<p>heif.wasm.gz is that of %s %s: libheif and libde265 (LGPL-3.0), compiled to WebAssembly and run apart from the program.\n"+
		"The module's lib folder says how it is built from their source; a page with another build of it in its place runs with that.</p>\n", module, version)
	for _, name := range []string{"LICENSE", "lib/LICENSE.libheif", "lib/LICENSE.libde265"} {
		text, err := os.ReadFile(filepath.Join(dir, filepath.FromSlash(name)))
		if err != nil {
			return nil, err
		}
		fmt.Fprintf(&b, "<h2>%s</h2>\n<pre>%s</pre>\n", name, html.EscapeString(string(text)))
	}
	return b.Bytes(), nil
}
