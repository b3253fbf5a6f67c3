package main

import (
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"time"

	"github.com/spf13/pflag"

	"mudline/internal/compare"
	"mudline/internal/files"
	"mudline/internal/record"
	"mudline/internal/words"
)

// seriesFlags tell the times of photos that a camera took by itself.
type seriesFlags struct{ every, first string }

func (s *seriesFlags) add(f *pflag.FlagSet) {
	f.StringVar(&s.every, "every", "", "")
	f.StringVar(&s.first, "first", "", "")
}

// seriesSD is the standard deviation of a time told by an interval.
const seriesSD = 2 * time.Second

// apply gives each photo its time by its place among the names; a stated one stays.
func (s seriesFlags) apply(r *record.Record, photos *photoSet) error {
	if s.every == "" {
		if s.first != "" {
			return badInput(words.Say("command.do-give-interval"), words.Say("film.first-alone"))
		}
		return nil
	}
	every, _, err := record.ParseElapsed(s.every)
	if err != nil {
		return badOption("--every", err)
	}
	at := every
	if s.first != "" {
		if at, _, err = record.ParseElapsed(s.first); err != nil {
			return badOption("--first", err)
		}
	}
	names := make([]string, len(photos.paths))
	for i, p := range photos.paths {
		names[i] = filepath.Base(p)
	}
	slices.SortFunc(names, compare.Names)
	if last := at + time.Duration(len(names)-1)*every; last > record.MaxElapsed {
		return badInput(words.Say("command.do-check-interval"), words.Say("film.series-too-long", words.Name("every", s.every), words.Whole("photos", len(names)), words.Whole("days", int(record.MaxElapsed.Hours()/24))))
	}
	for i, name := range names {
		r.Edit(name, func(p *record.Photo) {
			if p.Elapsed == 0 {
				p.Elapsed, p.ElapsedSD = at+time.Duration(i)*every, seriesSD
			}
		})
	}
	return nil
}

// partFolder holds, within the folder of the results, what was made of the photos of a
// film until the reading is finished.
const partFolder = "film-part"

// partStore is a jar.Store in a folder.
type partStore struct {
	folder string
	made   bool // the folder of the results was made for it
}

// openParts gives the store beside the results that go into a folder, and says how
// much of it is there from a reading that was stopped.
func openParts(out string, stderr io.Writer, l *words.Language) (*partStore, error) {
	_, missing := os.Stat(out)
	s := &partStore{filepath.Join(out, partFolder), missing != nil}
	if err := os.MkdirAll(s.folder, 0o755); err != nil {
		return nil, badInput(words.Say("command.do-choose-another-folder-out"), words.Say("command.cannot-write-into", words.Name("folder", out), words.Because("why", err)))
	}
	files.Sweep(s.folder)
	if old, _ := filepath.Glob(filepath.Join(s.folder, "*.part")); len(old) > 0 {
		fmt.Fprintln(stderr, l.Text("command.note", words.Told("text", words.Say("film.going-on", words.Whole("photos", len(old)), words.Name("folder", s.folder)))))
	}
	return s, nil
}

// partBytes is more than the straightened front of any jar takes.
const partBytes = 16 << 20

func (s *partStore) path(key string) string { return filepath.Join(s.folder, key+".part") }

func (s *partStore) Load(key string) ([]byte, bool) {
	data, err := files.Read(s.path(key), partBytes)
	return data, err == nil
}

func (s *partStore) Save(key string, data []byte) error {
	return files.Write(s.path(key), func(w io.Writer) error { _, err := w.Write(data); return err })
}

// finish removes what is not needed any more, and nothing else.
func (s *partStore) finish() {
	old, _ := filepath.Glob(filepath.Join(s.folder, "*.part"))
	for _, f := range old {
		_ = os.Remove(f)
	}
	_ = os.Remove(s.folder) // only if it is empty
	if s.made {
		_ = os.Remove(filepath.Dir(s.folder))
	}
}
