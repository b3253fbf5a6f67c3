package main

import (
	"bytes"
	"errors"
	"fmt"
	"image/png"
	"os"
	"path/filepath"
	"strings"

	"mudline/internal/jar"
	"mudline/internal/reading"
	"mudline/internal/report"
)

// writeResult writes the annotated photos and reading.json into a folder: all
// of them or none. The folder is made if it is missing.
func writeResult(folder string, res *jar.Result, show report.Options) error {
	files, err := resultFiles(res, show)
	if err != nil {
		return err
	}
	if err := writeAll(folder, files); err != nil {
		return badInput("choose another folder with --out", "cannot write into %s: %w", folder, err)
	}
	return nil
}

// outFile is one file to write.
type outFile struct {
	name string
	data []byte
}

func resultFiles(res *jar.Result, show report.Options) ([]outFile, error) {
	var text bytes.Buffer
	if err := res.Reading.Encode(&text); err != nil {
		return nil, err
	}
	files := []outFile{{"reading.json", text.Bytes()}}
	used := map[string]bool{}
	for _, s := range res.Scenes {
		photo, ok := photoOf(res.Reading, s.File)
		if !ok || s.Picture == nil {
			continue
		}
		var b bytes.Buffer
		pic := report.Annotate(report.Scene(s.Picture, s.Frame, photo, res.Reading, show))
		if err := png.Encode(&b, pic); err != nil {
			return nil, fmt.Errorf("drawing %s: %w", s.File, err)
		}
		name := strings.TrimSuffix(s.File, filepath.Ext(s.File)) + readSuffix
		if used[name] {
			name = s.File + readSuffix
		}
		used[name] = true
		files = append(files, outFile{name, b.Bytes()})
	}
	return files, nil
}

func photoOf(r reading.Reading, file string) (reading.Photo, bool) {
	for _, p := range r.Photos {
		if p.File == file {
			return p, true
		}
	}
	return reading.Photo{}, false
}

// writeAll writes every file under a temporary name first and renames them only
// when all are written, so that a failure leaves nothing behind.
func writeAll(folder string, files []outFile) (err error) {
	_, statErr := os.Stat(folder)
	if err := os.MkdirAll(folder, 0o755); err != nil {
		return err
	}
	var temps []string
	defer func() {
		for _, t := range temps {
			os.Remove(t)
		}
		if err != nil && errors.Is(statErr, os.ErrNotExist) {
			os.Remove(folder) // only if it is empty
		}
	}()
	for _, f := range files {
		temp, err := writeTemp(folder, f.data)
		if temp != "" {
			temps = append(temps, temp)
		}
		if err != nil {
			return err
		}
	}
	for i, f := range files {
		if err := os.Rename(temps[i], filepath.Join(folder, f.name)); err != nil {
			return err
		}
	}
	return nil
}

func writeTemp(folder string, data []byte) (path string, err error) {
	f, err := os.CreateTemp(folder, ".mudline-*")
	if err != nil {
		return "", err
	}
	_, err = f.Write(data)
	return f.Name(), errors.Join(err, f.Chmod(0o644), f.Close())
}
