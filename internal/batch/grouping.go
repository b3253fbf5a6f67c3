package batch

import (
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"path"
	"path/filepath"
	"strings"

	"mudline/imaging"
	"mudline/internal/files"
	"mudline/internal/sorting"
	"mudline/internal/words"
)

// groupingName is the hidden file among the results that keeps how photos were
// sorted by likeness, since every one of them has to be opened for it.
const groupingName = ".grouping.json"

// grouping is how photos were sorted by time and likeness.
type grouping struct {
	Version int             `json:"version"`
	Engine  string          `json:"engine"`
	Inputs  []input         `json:"inputs"` // by size, time and inode
	Groups  []sorting.Group `json:"groups"`
	Left    []unlike        `json:"left"`
	Notes   []words.Message `json:"notes,omitempty"`
}

// groupingVersion changes with what clusters does, and with what is said of it.
const groupingVersion = 4

// unlike is a photo in no group; Nearest is one that it resembles, if any.
type unlike struct {
	Path    string        `json:"path"`
	Said    words.Message `json:"said"`
	Todo    words.Message `json:"todo"`
	Nearest string        `json:"nearest,omitempty"`
}

// byLikeness sorts the rest by time and likeness.
func (s *sorter) byLikeness() {
	if len(s.rest) == 0 {
		return
	}
	g := &grouping{Version: groupingVersion, Engine: s.eng.Name()}
	for _, file := range s.rest {
		g.Inputs = append(g.Inputs, inputOf(s.Root, file))
	}
	if kept := s.recall(g); kept != nil {
		g = kept
	} else {
		s.group(g)
	}
	s.grouped = g
	in := map[string]string{}
	number := 0
	s.Notes = append(s.Notes, g.Notes...)
	for _, one := range g.Groups {
		if one.Name != "" {
			j := s.jar(one.Name, one.Why)
			j.Photos = append(j.Photos, one.Photos...)
			continue
		}
		number++
		for s.jars[sorting.Key(fmt.Sprintf("jar %d", number))] != nil {
			number++ // a name that is taken
		}
		j := s.jar(fmt.Sprintf("jar %d", number), one.Why)
		j.Photos = one.Photos
		for _, file := range one.Photos {
			in[file] = j.Name
		}
	}
	for _, l := range g.Left {
		if name := in[l.Nearest]; name != "" {
			l.Said = words.Say("batch.looks-like", words.Told("said", l.Said), words.Name("jar", name))
		}
		s.leave(l.Path, l.Said, l.Todo)
	}
}

// recall gives the grouping of an earlier run over the same photos.
func (p *planner) recall(now *grouping) *grouping {
	for _, folder := range p.results {
		data, err := os.ReadFile(filepath.Join(folder, groupingName))
		var g grouping
		if err != nil || json.Unmarshal(data, &g) != nil || g.Version != now.Version || g.Engine != now.Engine || len(g.Inputs) != len(now.Inputs) {
			continue
		}
		same := true
		for i, in := range g.Inputs {
			same = same && in.Path == now.Inputs[i].Path && in.same(now.Inputs[i])
		}
		if same {
			return &g
		}
	}
	return nil
}

// keep writes the grouping for the next run; no matter if that fails.
func (g *grouping) keep(folder string) {
	if data, err := json.Marshal(g); err == nil {
		_ = files.Write(filepath.Join(folder, groupingName), func(w io.Writer) error { _, err := w.Write(data); return err })
	}
}

// group opens the photos and sorts them.
func (s *sorter) group(g *grouping) {
	var shots []sorting.Shot
	for _, in := range g.Inputs {
		one, bad := s.open(in.Path)
		if bad != nil {
			g.Left = append(g.Left, *bad)
			continue
		}
		shots = append(shots, one)
	}
	found := sorting.Sort(shots)
	g.Groups, g.Notes = found.Groups, found.Notes
	for _, l := range found.Left {
		g.Left = append(g.Left, unlike{Path: l.Path, Said: l.Said, Nearest: l.Nearest,
			Todo: words.Say("batch.name-or-list", words.Name("example", "plot-7_2h"+path.Ext(l.Path)), words.Name("record", "plot-7"+ownRecord))})
	}
}

// open looks at one photo, or says why it cannot be opened.
func (s *sorter) open(file string) (sorting.Shot, *unlike) {
	data, err := files.Read(s.abs(file), files.MaxPhotoBytes)
	if err != nil {
		return sorting.Shot{}, &unlike{Path: file, Said: plainly(err), Todo: words.Say("batch.copy-again")}
	}
	photo, err := imaging.Open(s.eng, file, data)
	if err != nil {
		return sorting.Shot{}, &unlike{Path: file, Said: without(file, err), Todo: words.Say("batch.copy-or-leave")}
	}
	return sorting.ShotOf(file, photo), nil
}

// without is an error that does not name the file again.
func without(file string, err error) words.Message {
	var bad *imaging.Refusal
	if errors.As(err, &bad) {
		if inner, ok := bad.Text.Arg("text").(words.Message); ok && bad.Text.Key == "of-file" {
			return inner
		}
		return bad.Text
	}
	return words.Say("as-it-is", words.Name("text", strings.TrimPrefix(err.Error(), file+": ")))
}
