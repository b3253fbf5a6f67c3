package desk

import (
	"errors"
	"path"

	"mudline/imaging"
	"mudline/internal/jar"
	"mudline/internal/reading"
	"mudline/internal/record"
	"mudline/internal/sorting"
	"mudline/internal/words"
)

// Glance decodes a photo, or takes the picture a browser decoded, without looking for a
// jar in it. The error is a *reading.Refusal where the file cannot be used.
func (d *Desk) Glance(file string, data []byte, decoded *jar.Decoded) (Opened, error) {
	p, err := d.decode(file, data, decoded)
	if err != nil {
		return Opened{}, err
	}
	return openedAs(path.Base(file), p), nil
}

// Regard is Glance at a photo that is to be sorted: what may tell its jar is kept.
func (d *Desk) Regard(file string, data []byte, decoded *jar.Decoded) (Opened, error) {
	p, err := d.decode(file, data, decoded)
	if err != nil {
		return Opened{}, err
	}
	if d.shots == nil {
		d.shots = map[string]sorting.Shot{}
	}
	d.shots[file] = sorting.ShotOf(file, p)
	return openedAs(path.Base(file), p), nil
}

func (d *Desk) decode(file string, data []byte, decoded *jar.Decoded) (p *imaging.Photo, err error) {
	name := path.Base(file)
	if decoded != nil {
		p, err = imaging.OpenDecoded(name, data, decoded.Picture, decoded.Full)
	} else {
		p, err = imaging.Open(d.engine, name, data)
	}
	var r *imaging.Refusal
	if errors.As(err, &r) {
		return nil, reading.Refuse(reading.RefusalCode(r.Code), r.Text, r.Remedy)
	}
	return p, err
}

// sortRequest names the photos to be sorted by their paths, with slashes and without the
// folder that was chosen; each has been regarded.
type sortRequest struct {
	Files []string `json:"files"`
}

// sortAnswer is the photos by jar. Name is empty where nothing tells it.
type sortAnswer struct {
	Jars  []sortedJar `json:"jars"`
	Left  []leftPhoto `json:"left"`
	Notes []string    `json:"notes"`
}

type sortedJar struct {
	Name   string   `json:"name"`
	Why    string   `json:"why"`
	Photos []string `json:"photos"`
}

// leftPhoto is a photo in no jar; Like is a sorted one that it resembles, if any.
type leftPhoto struct {
	File string `json:"file"`
	Said string `json:"said"`
	Like string `json:"like,omitempty"`
}

// sortPhotos sorts as a batch does: a folder is a jar; loose photos go by their names, and
// where those say nothing as package sorting tells. Then all that was regarded is forgotten.
func sortPhotos(d *Desk, in sortRequest) (any, error) {
	s := jarSorter{at: map[string]int{}, out: sortAnswer{Jars: []sortedJar{}, Left: []leftPhoto{}, Notes: []string{}}}
	var rest []sorting.Shot
	for _, file := range in.Files {
		shot, ok := d.shots[file]
		if !ok {
			return nil, words.Say("desk.not-open", words.Name("file", file))
		}
		stem := record.Stem(path.Base(file))
		switch dir := path.Dir(file); {
		case dir != ".":
			s.add("/"+dir, sortedJar{path.Base(dir), d.sentence(words.Say("sorting.folder")), []string{file}})
		case stem != "":
			s.add(sorting.Key(stem), sortedJar{stem, d.sentence(words.Say("sorting.name")), []string{file}})
		default:
			rest = append(rest, shot)
		}
	}
	d.shots = nil
	found := sorting.Sort(rest)
	for _, g := range found.Groups {
		s.add(sorting.Key(g.Name), sortedJar{g.Name, d.sentence(g.Why), g.Photos})
	}
	for _, l := range found.Left {
		s.out.Left = append(s.out.Left, leftPhoto{l.Path, d.sentence(l.Said), l.Nearest})
	}
	for _, n := range found.Notes {
		s.out.Notes = append(s.out.Notes, d.sentence(n))
	}
	return s.out, nil
}

// jarSorter puts what has one key into one jar.
type jarSorter struct {
	out sortAnswer
	at  map[string]int
}

func (s *jarSorter) add(key string, j sortedJar) {
	if i, known := s.at[key]; known && key != "" {
		s.out.Jars[i].Photos = append(s.out.Jars[i].Photos, j.Photos...)
		return
	}
	s.at[key] = len(s.out.Jars)
	s.out.Jars = append(s.out.Jars, j)
}

// keysOf gives names of jars as they are compared, so that a page can tell which jar a
// photo's name means.
func keysOf(_ *Desk, names []string) (any, error) {
	keys := make([]string, len(names))
	for i, n := range names {
		keys[i] = sorting.Key(n)
	}
	return keys, nil
}
