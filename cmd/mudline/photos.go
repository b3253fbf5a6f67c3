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
	"mudline/internal/words"
)

// photoSet is the photos of one jar on disk.
type photoSet struct {
	paths []string
	// folder holds all photos; empty where they lie in several.
	folder string
	// whole says that the folder was named and not its photos.
	whole bool
}

// mustExist is the mistake of naming what is not there, with what to do.
func mustExist(path string, todo words.Message) error {
	if _, err := os.Stat(path); errors.Is(err, fs.ErrNotExist) {
		return badInput(todo, words.Say("command.does-not-exist", words.Name("path", path)))
	}
	return nil
}

// findPhotos looks up the folder or the photos named on the command line.
func findPhotos(paths []string) (*photoSet, error) {
	set := &photoSet{}
	for i, path := range paths {
		info, err := os.Stat(path)
		if errors.Is(err, fs.ErrNotExist) {
			return nil, badInput(words.Say("command.do-name-folder-photos-photos"), words.Say("command.does-not-exist", words.Name("path", path)))
		}
		if err != nil {
			return nil, badInput(words.Message{}, words.Say("command.cannot-read", words.Name("path", path), words.Because("why", err)))
		}
		if !info.IsDir() {
			set.add(path, i == 0)
			continue
		}
		if len(paths) > 1 {
			return nil, badInput(words.Say("command.do-read-jar-at-time", words.ShellPath("path", path)), words.Say("command.folder-among-photos", words.Name("path", path)))
		}
		set.folder, set.whole = path, true
		if set.paths, err = photosIn(path); err != nil {
			return nil, badInput(words.Message{}, words.Say("command.cannot-read", words.Name("path", path), words.Because("why", err)))
		}
	}
	if len(set.paths) == 0 {
		return nil, noPhotosIn(set.folder)
	}
	return set, set.unique()
}

// noPhotosIn is the refusal of a folder without photos: of what it holds instead.
func noPhotosIn(folder string) error {
	entries, _ := os.ReadDir(folder) // it was read before
	jars, other := "", ""
	for _, e := range entries {
		name := e.Name()
		switch {
		case strings.HasPrefix(name, ".") || !e.IsDir() && (name == record.FileName || name == reading.FileName):
		case e.IsDir():
			if inner, err := photosIn(filepath.Join(folder, name)); err == nil && len(inner) > 0 && jars == "" {
				jars = filepath.Join(folder, name)
			}
		case other == "":
			other = name
		}
	}
	put := words.Say("command.do-put-photos-there", words.Names("forms", "", files.Extensions))
	switch {
	case jars != "":
		return reading.Refuse(reading.NoPhotos, words.Say("command.holds-folders-of-photos", words.Name("folder", folder)),
			words.Say("command.do-one-or-batch", words.ShellPath("one", jars), words.ShellPath("all", folder)))
	case other != "":
		return reading.Refuse(reading.NoPhotos, words.Say("command.holds-other-files", words.Name("folder", folder), words.Name("file", other)), put)
	}
	return reading.Refuse(reading.NoPhotos, words.Say("command.holds-no-photos", words.Name("folder", folder)), put)
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
			return badInput(words.Say("command.do-rename-one"), words.Say("command.have-same-file-name", words.Name("other", other), words.Name("p", p)))
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
	return "", words.Say("command.none-of-the-photos", words.Name("file", file), words.Name("list", strings.Join(names, ", ")))
}

// record reads the jar.yaml beside the photos, or gives an empty record.
func (s *photoSet) record(stderr io.Writer, l *words.Language) (*record.Record, error) {
	if s.folder == "" {
		fmt.Fprintln(stderr, l.Text("command.several-folders", words.Name("file", record.FileName)))
		return &record.Record{}, nil
	}
	path := filepath.Join(s.folder, record.FileName)
	data, err := files.Read(path, record.MaxBytes)
	missing := errors.Is(err, fs.ErrNotExist)
	if other := s.misnamed(); other != "" {
		said := words.Say("command.misnamed", words.Name("file", filepath.Join(s.folder, other)), words.Name("record", record.FileName))
		if missing { // what stands there is not to be passed over without the person knowing
			return nil, badInput(words.Say("command.do-rename-record", words.Name("record", record.FileName)), said)
		}
		fmt.Fprintln(stderr, l.Text("command.note", words.Told("text", said)))
	}
	if missing {
		return &record.Record{}, nil
	}
	if err != nil {
		return nil, badInput(words.Message{}, words.Say("as-it-is", words.Because("text", err)))
	}
	r, err := record.Parse(path, data)
	if err != nil {
		return nil, &inputError{err, words.Say("command.do-mudline-new-help-shows", words.Name("file", record.FileName))}
	}
	if !s.whole {
		return r, nil
	}
	for file := range r.Photos {
		if _, err := s.find(file); err != nil {
			return nil, badInput(words.Say("command.do-correct-name-before-those"), words.Say("command.of-photos", words.Name("path", path), words.Because("why", err)))
		}
	}
	return r, nil
}

// misnamed is a file beside the photos that looks like a record by another name; empty
// where there is none.
func (s *photoSet) misnamed() string {
	entries, err := os.ReadDir(s.folder)
	if err != nil {
		return ""
	}
	for _, e := range entries {
		if !e.IsDir() && record.Misnamed(e.Name()) {
			return e.Name()
		}
	}
	return ""
}

// files are the photos as the pipeline takes them: read when they are needed.
func (s *photoSet) files() []jar.File {
	out := make([]jar.File, len(s.paths))
	for i, p := range s.paths {
		out[i] = jar.File{Name: filepath.Base(p), Data: func() ([]byte, error) {
			data, err := files.Read(p, files.MaxPhotoBytes)
			var unread *files.ReadError
			if errors.As(err, &unread) && unread.TooLarge {
				err = reading.Refuse(reading.TooLarge, words.Of(err), words.Say("do.reduce-photo"))
			}
			return data, err
		}}
	}
	return out
}
