package batch

import (
	"cmp"
	"maps"
	"os"
	"path"
	"slices"
	"strings"
	"time"

	"mudline/internal/files"
	"mudline/internal/reading"
	"mudline/internal/record"
	"mudline/internal/words"
)

// copies deals with photos that are there twice: within a jar one of them is
// left out, and where two jars share some a note says so.
func (p *planner) copies() {
	ofSize := map[int64]int{}
	size := map[string]int64{}
	for i := range p.Jars {
		for _, rel := range p.Jars[i].Photos {
			if info, err := os.Stat(p.abs(rel)); err == nil && info.Size() > 0 {
				size[rel] = info.Size()
				ofSize[info.Size()]++
			}
		}
	}
	owner := map[string]*Jar{} // of a photo, by its content
	for i := range p.Jars {
		j := &p.Jars[i]
		same := map[string][]string{}
		shared := map[*Jar]string{}
		for _, rel := range j.Photos {
			if ofSize[size[rel]] < 2 { // no need to read it
				continue
			}
			data, err := files.Read(p.abs(rel), files.MaxPhotoBytes)
			if err != nil {
				continue
			}
			hash := hashOf(data)
			same[hash] = append(same[hash], rel)
			if other := owner[hash]; other == nil {
				owner[hash] = j
			} else if other != j && shared[other] == "" {
				shared[other] = rel
				p.Notes = append(p.Notes, words.Say("batch.photo-of-two", words.Name("jar", other.Called()), words.Name("other", j.Called()), words.Name("file", rel)))
			}
		}
		for _, list := range slices.SortedFunc(maps.Values(same), func(a, b []string) int { return strings.Compare(a[0], b[0]) }) {
			p.leaveCopies(j, list)
		}
	}
}

// leaveCopies keeps one of several files that are the same photo: that of which
// the record or the name says most. Where they are said to be of several times,
// one of them is wrong.
func (p *planner) leaveCopies(j *Jar, same []string) {
	if len(same) < 2 {
		return
	}
	slices.SortStableFunc(same, func(a, b string) int {
		return cmp.Or(cmp.Compare(told(j, b), told(j, a)), cmp.Compare(len(a), len(b)), strings.Compare(a, b))
	})
	kept := path.Base(same[0])
	for _, rel := range same[1:] {
		if a, b := saidOf(j, kept), saidOf(j, path.Base(rel)); a != b && b != 0 && j.Bad == nil {
			j.Bad = refuse(reading.SamePhoto, words.Say("batch.same-photo-twice", words.Name("file", kept), words.Name("other", path.Base(rel)), words.After("elapsed", a), words.After("other_elapsed", b)), words.Say("batch.right-photo"))
			return
		}
	}
	for _, rel := range same[1:] {
		delete(j.Record.Photos, path.Base(rel))
	}
	j.Photos = slices.DeleteFunc(slices.Clone(j.Photos), func(rel string) bool { return slices.Contains(same[1:], rel) })
	p.Notes = append(p.Notes, words.Say("batch.copy-left-out", words.Names("files", "", same[1:]), words.Name("kept", same[0])))
}

// told is how much is known of a photo beside the picture.
func told(j *Jar, rel string) int {
	if _, ok := j.Record.Photos[path.Base(rel)]; ok {
		return 2
	}
	if saidOf(j, path.Base(rel)) != 0 {
		return 1
	}
	return 0
}

// saidOf is the time that the record or the name gives a photo; 0 where neither
// does.
func saidOf(j *Jar, file string) time.Duration {
	if s := j.Record.Photos[file]; s.Elapsed != 0 {
		return s.Elapsed
	}
	t, _, _ := record.ElapsedFromName(file)
	return t
}
