package main

import (
	"bytes"
	"cmp"
	"context"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"runtime"
	"slices"
	"strings"
)

// part is a module that is inside a program.
type part struct {
	path, version, folder string
	// licences are SPDX identifiers, sorted; texts are the files that say so.
	licences []string
	texts    []file
}

// allowed are the licences under which a part may be in the program (SPDX identifiers).
// The LGPL counts for what is compiled apart and run in a sandbox: it can be replaced by
// building the program with another one.
var allowed = map[string]bool{
	"MIT": true, "BSD-2-Clause": true, "BSD-3-Clause": true, "Apache-2.0": true, "ISC": true, "MPL-2.0": true,
	"CC0-1.0": true, "Unlicense": true, "LGPL-3.0": true,
}

// sentences are how licences are known: all words of one stand in the text, in small
// letters, blanks and line ends counting as one blank.
var sentences = []struct {
	id    string
	words []string
}{
	{"LGPL-3.0", []string{"gnu lesser general public license", "version 3, 29 june 2007"}},
	{"AGPL-3.0", []string{"gnu affero general public license version 3"}},
	{"GPL-3.0", []string{"gnu general public license version 3, 29 june 2007"}},
	{"GPL-2.0", []string{"gnu general public license version 2, june 1991"}},
	{"MPL-2.0", []string{"mozilla public license version 2.0"}},
	{"Apache-2.0", []string{"apache license version 2.0"}},
	{"MIT", []string{"permission is hereby granted, free of charge, to any person obtaining a copy of this software and associated documentation files"}},
	{"BSD-3-Clause", []string{"redistribution and use in source and binary forms", "neither the name"}},
	{"BSD-2-Clause", []string{"redistribution and use in source and binary forms"}},
	{"ISC", []string{"permission to use, copy, modify, and/or distribute this software for any purpose with or without fee"}},
	{"ISC", []string{"permission to use, copy, modify, and distribute this software for any purpose with or without fee"}},
	{"CC0-1.0", []string{"creative commons legal code cc0 1.0 universal"}},
	{"Unlicense", []string{"this is free and unencumbered software released into the public domain"}},
}

// recognise gives the licences that a text holds, the GPL left out where the LGPL is
// written as additions to it, and of the BSD licences the fuller one.
func recognise(text []byte) (ids []string) {
	plain := strings.ToLower(strings.Join(strings.Fields(strings.NewReplacer("#", " ", "*", " ", "//", " ").Replace(string(text))), " "))
	has := map[string]bool{}
	for _, s := range sentences {
		all := true
		for _, w := range s.words {
			all = all && strings.Contains(plain, w)
		}
		if all && !(s.id == "BSD-2-Clause" && has["BSD-3-Clause"]) && !(s.id == "GPL-3.0" && has["LGPL-3.0"]) && !has[s.id] {
			has[s.id] = true
			ids = append(ids, s.id)
		}
	}
	return ids
}

// partsOf lists what the packages of a program come from: the modules, and Go itself.
func partsOf(ctx context.Context, environment []string, tags, program string) ([]part, error) {
	const format = "{{with .Module}}{{if not .Main}}{{.Path}}\t{{.Version}}\t{{.Dir}}{{end}}{{end}}"
	list, err := command(ctx, environment, "go", "list", "-deps", "-tags", tags, "-f", format, program)
	if err != nil {
		return nil, err
	}
	root, err := command(ctx, environment, "go", "env", "GOROOT")
	if err != nil {
		return nil, err
	}
	parts := []part{{path: "std", version: strings.TrimPrefix(runtime.Version(), "go"), folder: strings.TrimSpace(string(root))}}
	seen := map[string]bool{}
	for line := range strings.Lines(string(list)) {
		fields := strings.Split(strings.TrimSpace(line), "\t")
		if len(fields) == 3 && !seen[fields[0]] {
			seen[fields[0]] = true
			parts = append(parts, part{path: fields[0], version: fields[1], folder: fields[2]})
		}
	}
	return read(parts)
}

// partsOfPage are those of the page: of its program, and the decoder of HEIC photos beside it.
func partsOfPage(ctx context.Context) ([]part, error) {
	parts, err := partsOf(ctx, append(os.Environ(), "GOOS=js", "GOARCH=wasm"), "", "./cmd/mudline-page")
	if err != nil {
		return nil, err
	}
	line, err := command(ctx, os.Environ(), "go", "list", "-m", "-f", "{{.Path}}\t{{.Version}}\t{{.Dir}}", "github.com/gen2brain/heic")
	if err != nil {
		return nil, err
	}
	fields := strings.Split(strings.TrimSpace(string(line)), "\t")
	if len(fields) != 3 {
		return nil, fmt.Errorf("go list -m says %q of the HEIC decoder", line)
	}
	return read(append(parts, part{path: fields[0], version: fields[1], folder: fields[2]}))
}

// read finds the licences of parts and sorts them by path.
func read(parts []part) ([]part, error) {
	slices.SortFunc(parts, func(a, b part) int { return cmp.Compare(a.path, b.path) })
	for i := range parts {
		if parts[i].texts != nil {
			continue
		}
		if err := parts[i].read(); err != nil {
			return nil, err
		}
	}
	return parts, nil
}

// licenceName is how files with licences are called.
var licenceName = regexp.MustCompile(`(?i)^(licen[cs]e|copying|notice|patents|unlicense)`)

// read finds the part's licences, those of what lies inside it too, and refuses what is
// under none that is known.
func (p *part) read() error {
	found := map[string]bool{}
	err := filepath.WalkDir(p.folder, func(path string, d fs.DirEntry, err error) error {
		switch {
		case err != nil:
			return err
		case d.IsDir() && path != p.folder && (p.path == "std" || d.Name() == "testdata" || strings.HasPrefix(d.Name(), "_")):
			return fs.SkipDir
		case d.IsDir() || !licenceName.MatchString(d.Name()) || strings.HasSuffix(d.Name(), ".go"):
			return nil
		}
		text, err := os.ReadFile(path)
		if err != nil {
			return err
		}
		rel, err := filepath.Rel(p.folder, path)
		p.texts = append(p.texts, file{name: filepath.ToSlash(rel), data: text})
		if !strings.HasPrefix(strings.ToLower(d.Name()), "patents") { // a grant beside the licence
			for _, id := range recognise(text) {
				found[id] = true
			}
		}
		return err
	})
	if err != nil {
		return err
	}
	for id := range found {
		p.licences = append(p.licences, id)
	}
	slices.Sort(p.licences)
	return p.check()
}

// check says why the part may not be in the program.
func (p *part) check() error {
	if len(p.licences) == 0 {
		return fmt.Errorf("%s %s: no licence was found in it", p.path, p.version)
	}
	for _, id := range p.licences {
		if !allowed[id] {
			return fmt.Errorf("%s %s is under %s, which is not among the licences that may be in the program", p.path, p.version, id)
		}
	}
	return nil
}

// licences is one text with the licences of all parts.
func licences(parts []part) ([]byte, error) {
	var b bytes.Buffer
	fmt.Fprintf(&b, "mudline is under the MIT licence (see LICENSE). It holds the following parts of others, under\nthe licences that follow.\n\n")
	for _, p := range parts {
		fmt.Fprintf(&b, "  %s %s: %s\n", p.path, p.version, strings.Join(p.licences, ", "))
	}
	fmt.Fprintf(&b, "\nThe source of each part is that of the named version. github.com/gen2brain/heic holds libheif and\nlibde265 (LGPL-3.0), compiled to WebAssembly and run in a sandbox; its lib folder says how they are\nbuilt, and mudline built with another version of it runs with that.\n")
	for _, p := range parts {
		for _, t := range p.texts {
			fmt.Fprintf(&b, "\n%s\n%s %s: %s\n%s\n\n%s\n", strings.Repeat("=", 80), p.path, p.version, t.name, strings.Repeat("-", 80), bytes.TrimSpace(t.data))
		}
	}
	return b.Bytes(), nil
}
