package main

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"mudline/internal/files"
	"mudline/internal/jar"
	"mudline/internal/reading"
	"mudline/internal/record"
)

// photoSet is the photos of one jar on disk.
type photoSet struct {
	paths []string
	// folder holds all photos; empty where they lie in several.
	folder string
	// whole says that the folder was named and not its photos.
	whole bool
}

// findPhotos looks up the folder or the photos named on the command line.
func findPhotos(paths []string) (*photoSet, error) {
	set := &photoSet{}
	for i, path := range paths {
		info, err := os.Stat(path)
		if errors.Is(err, fs.ErrNotExist) {
			return nil, badInput("name a folder of photos, or the photos", "%s does not exist", path)
		}
		if err != nil {
			return nil, badInput("", "cannot read %s: %w", path, err)
		}
		if !info.IsDir() {
			set.add(path, i == 0)
			continue
		}
		if len(paths) > 1 {
			return nil, badInput("read one jar at a time: mudline read "+path, "%s is a folder: name one folder, or photos only", path)
		}
		set.folder, set.whole = path, true
		if set.paths, err = photosIn(path); err != nil {
			return nil, badInput("", "cannot read %s: %w", path, err)
		}
	}
	if len(set.paths) == 0 {
		return nil, &reading.Refusal{Code: reading.NoPhotos, Text: fmt.Sprintf("%s holds no photos", set.folder),
			Remedy: "put the jar's photos there (" + strings.Join(files.Extensions, ", ") + "), or name the photos themselves"}
	}
	return set, set.unique()
}

// add puts one photo into the set.
func (s *photoSet) add(path string, first bool) {
	s.paths = append(s.paths, path)
	if dir := filepath.Dir(path); first {
		s.folder = dir
	} else if s.folder != dir {
		s.folder = ""
	}
}

// unique refuses two photos of one file name: the reading could not tell which
// is meant.
func (s *photoSet) unique() error {
	seen := map[string]string{}
	for _, p := range s.paths {
		if other, ok := seen[filepath.Base(p)]; ok {
			return badInput("rename one of them", "%s and %s have the same file name", other, p)
		}
		seen[filepath.Base(p)] = p
	}
	return nil
}

func photosIn(folder string) ([]string, error) {
	entries, err := os.ReadDir(folder)
	if err != nil {
		return nil, err
	}
	var out []string
	for _, e := range entries {
		if !e.IsDir() && files.IsPhoto(e.Name()) {
			out = append(out, filepath.Join(folder, e.Name()))
		}
	}
	return out, nil
}

// name is what the jar is called when nobody named it: its folder.
func (s *photoSet) name() string {
	if abs, err := filepath.Abs(s.folder); err == nil && s.folder != "" {
		return filepath.Base(abs)
	}
	return "jar"
}

// find gives the file name of the photo a person means.
func (s *photoSet) find(file string) (string, error) {
	var names []string
	for _, p := range s.paths {
		if p == file || filepath.Base(p) == file {
			return filepath.Base(p), nil
		}
		names = append(names, filepath.Base(p))
	}
	return "", fmt.Errorf("%q is none of the photos: %s", file, strings.Join(names, ", "))
}

// record reads the jar.yaml beside the photos, or gives an empty record.
func (s *photoSet) record(stderr io.Writer) (*record.Record, error) {
	if s.folder == "" {
		fmt.Fprintf(stderr, "note: the photos lie in several folders, so no %s is used\n", record.FileName)
		return &record.Record{}, nil
	}
	path := filepath.Join(s.folder, record.FileName)
	data, err := files.Read(path, record.MaxBytes)
	if errors.Is(err, fs.ErrNotExist) {
		return &record.Record{}, nil
	}
	if err != nil {
		return nil, badInput("", "%w", err)
	}
	r, err := record.Parse(path, data)
	if err != nil {
		return nil, &inputError{err, "mudline new --help shows the keys of " + record.FileName}
	}
	if !s.whole {
		return r, nil
	}
	for file := range r.Photos {
		if _, err := s.find(file); err != nil {
			return nil, badInput("correct the name, or put # before those lines", "%s: photos: %w", path, err)
		}
	}
	return r, nil
}

// files are the photos as the pipeline takes them: read when they are needed.
func (s *photoSet) files() []jar.File {
	out := make([]jar.File, len(s.paths))
	for i, p := range s.paths {
		out[i] = jar.File{Name: filepath.Base(p), Data: func() ([]byte, error) {
			return files.Read(p, files.MaxPhotoBytes)
		}}
	}
	return out
}
