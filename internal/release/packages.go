package main

import (
	"context"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"time"
)

// content is one file of a package, as the packager's configuration has it.
type content struct {
	Source   string `json:"src"`
	Place    string `json:"dst"`
	FileInfo struct {
		Mode  int       `json:"mode"`
		MTime time.Time `json:"mtime"`
	} `json:"file_info"`
}

// places are where papers go in a system, by their folder.
var places = map[string]string{
	"man": "/usr/share/man/man1/", "completions/bash": "/usr/share/bash-completion/completions/",
	"completions/zsh": "/usr/share/zsh/vendor-completions/", "completions/fish": "/usr/share/fish/vendor_completions.d/",
}

// packages makes the .deb and the .rpm of a program.
func (r *release) packages(ctx context.Context, b built) error {
	if r.nfpm == "" {
		return nil
	}
	files, err := r.systemFiles(b)
	if err != nil {
		return err
	}
	root := filepath.Join(r.work, "package-"+b.arch)
	var contents []content
	for _, f := range files {
		path := filepath.Join(root, filepath.FromSlash(f.name))
		if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
			return err
		}
		if err := os.WriteFile(path, f.data, 0o644); err != nil {
			return err
		}
		c := content{Source: path, Place: f.name}
		c.FileInfo.Mode, c.FileInfo.MTime = int(f.mode()), r.when
		contents = append(contents, c)
	}
	// JSON is YAML, which is what the packager reads.
	config, err := json.Marshal(map[string]any{
		"name": "mudline", "arch": b.arch, "platform": "linux", "version": r.version, "version_schema": "semver",
		"maintainer": "The mudline authors <mudline@invalid>", "license": "MIT", "section": "science",
		"description": "Reads what a soil is made of from photos of a settling jar.", "homepage": "https://mudline.invalid",
		"mtime": r.when, "contents": contents, "rpm": map[string]any{"buildhost": "mudline", "summary": "Soil texture from photos of a settling jar"},
	})
	if err != nil {
		return err
	}
	path := filepath.Join(r.work, "package-"+b.arch+".yaml")
	if err := os.WriteFile(path, config, 0o644); err != nil {
		return err
	}
	for _, kind := range []string{"deb", "rpm"} {
		to := filepath.Join(r.out, fmt.Sprintf("mudline-%s-%s.%s", r.version, b.target, kind))
		environment := append(os.Environ(), fmt.Sprintf("SOURCE_DATE_EPOCH=%d", r.when.Unix()))
		if _, err := command(ctx, environment, "go", "run", r.nfpm, "package", "--config", path, "--packager", kind, "--target", to); err != nil {
			return err
		}
	}
	return nil
}

// systemFiles are the files of a package by their place in the system.
func (r *release) systemFiles(b built) ([]file, error) {
	files := []file{{name: "/usr/bin/mudline", data: b.program, program: true}}
	documents, err := r.documents(b.licences)
	if err != nil {
		return nil, err
	}
	for _, d := range documents {
		if d.name == "LICENSE" {
			d.name = "copyright"
		}
		d.name = "/usr/share/doc/mudline/" + d.name
		files = append(files, d)
	}
	for _, p := range r.papers {
		folder, name := filepath.ToSlash(filepath.Dir(p.name)), filepath.Base(p.name)
		place, ok := places[folder]
		if !ok {
			continue // of a system that has no such packages
		}
		data := p.data
		if folder == "man" {
			if data, err = gzipped(data); err != nil {
				return nil, err
			}
			name += ".gz"
		}
		files = append(files, file{name: place + name, data: data})
	}
	return files, nil
}
