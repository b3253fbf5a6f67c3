package main

import (
	"context"
	"fmt"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
)

// file is a file of an archive: its path with slashes, and its content.
type file struct {
	name    string
	data    []byte
	program bool
}

// built is the program for one target with what goes beside it.
type built struct {
	target
	program  []byte
	parts    []part
	licences []byte
}

// name is the program's file name.
func (b built) name() string {
	if b.os == "windows" {
		return "mudline.exe"
	}
	return "mudline"
}

// asides are the packages that take no part in a reading: they are compiled to be small, as
// the Makefile has it for the page, which spares 0.4 MB.
var asides = []string{"charm.land/...", "github.com/charmbracelet/...", "github.com/spf13/...", "net/http"}

// build compiles the program, without symbols and without a trace of this machine.
func (r *release) build(ctx context.Context, t target) (built, error) {
	b := built{target: t}
	path := filepath.Join(r.work, t.String())
	stamp := fmt.Sprintf("-s -w -buildid= -X main.version=%s -X main.commit=%s", r.version, r.commit)
	args := []string{"build", "-trimpath", "-buildvcs=false", "-tags", "nodynamic", "-ldflags", stamp, "-o", path}
	for _, p := range asides {
		args = append(args, "-gcflags="+p+"=-l")
	}
	if _, err := command(ctx, t.environment(), "go", append(args, "./cmd/mudline")...); err != nil {
		return b, err
	}
	var err error
	if b.program, err = os.ReadFile(path); err != nil {
		return b, err
	}
	if b.parts, err = partsOf(ctx, t.environment(), "nodynamic", "./cmd/mudline"); err != nil {
		return b, err
	}
	b.licences, err = licences(b.parts)
	return b, err
}

func (t target) environment() []string {
	return append(os.Environ(), "CGO_ENABLED=0", "GOOS="+t.os, "GOARCH="+t.arch, "GOAMD64=v1", "GOARM64=v8.0")
}

// command runs a program and gives what it prints; the error tells what it said.
func command(ctx context.Context, environment []string, name string, args ...string) ([]byte, error) {
	cmd := exec.CommandContext(ctx, name, args...)
	cmd.Env = environment
	var said strings.Builder
	cmd.Stderr = &said
	out, err := cmd.Output()
	if err != nil {
		return nil, fmt.Errorf("%s: %w\n%s", cmd, err, said.String())
	}
	return out, nil
}

// makePapers lets the program write its man pages and completions.
func (r *release) makePapers(ctx context.Context) ([]file, error) {
	folder := filepath.Join(r.work, "papers")
	environment := append(os.Environ(), "CGO_ENABLED=0", fmt.Sprintf("SOURCE_DATE_EPOCH=%d", r.when.Unix()))
	if _, err := command(ctx, environment, "go", "run", "-tags", "nodynamic,papers", "-ldflags", "-X main.version="+r.version, "./cmd/mudline", "papers", folder); err != nil {
		return nil, err
	}
	var out []file
	err := filepath.WalkDir(folder, func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		rel, err := filepath.Rel(folder, path)
		if err != nil {
			return err
		}
		data, err := os.ReadFile(path)
		out = append(out, file{name: filepath.ToSlash(rel), data: data})
		return err
	})
	return out, err
}
