package batch

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"mudline/internal/files"
)

// Gone is results whose jar is in the batch no more: its photos were removed, or
// its folder has another name. They are in no table, and stay until somebody
// asks for their removal.
type Gone struct {
	ID     string `json:"id"`
	Name   string `json:"name"`
	Folder string `json:"folder"`
}

// Gone finds results in out of jars that are not in the plan. What lies in a
// folder that could not be opened is not gone.
func (p *Plan) Gone(out string) []Gone {
	here := map[string]bool{}
	for _, j := range p.Jars {
		here[folded(j.Folder)] = true
	}
	return slices.DeleteFunc(goneFrom(out, here), func(g Gone) bool {
		return slices.ContainsFunc(p.Left, func(l Left) bool { return strings.HasPrefix(g.ID, l.Path+"/") })
	})
}

// goneFrom finds results in folders other than those of the jars that are here.
func goneFrom(out string, here map[string]bool) (list []Gone) {
	entries, _ := os.ReadDir(out)
	for _, e := range entries {
		if !e.IsDir() || here[folded(e.Name())] {
			continue
		}
		if d := readDone(filepath.Join(out, e.Name())); d != nil {
			list = append(list, Gone{d.Row.ID, d.Row.Name, e.Name()})
		}
	}
	return list
}

// ours says whether any of the jars has results in the folder already.
func (r *runner) ours(jars []*Jar) bool {
	return slices.ContainsFunc(jars, func(j *Jar) bool { return readDone(filepath.Join(r.opt.Out, j.Folder)) != nil })
}

// remove deletes what a batch wrote for the jar, its list last, and the folder
// where nothing else is in it.
func (g Gone) remove(out string) error {
	folder := filepath.Join(out, g.Folder)
	d := readDone(folder)
	if d == nil {
		return nil
	}
	files.Sweep(folder)
	for _, o := range append(d.Outputs, output{Name: doneName}) {
		if filepath.Base(o.Name) != o.Name {
			continue
		}
		if err := os.Remove(filepath.Join(folder, o.Name)); err != nil && !errors.Is(err, fs.ErrNotExist) {
			return &WriteError{folder, err}
		}
	}
	os.Remove(folder) // only if it is empty
	return nil
}

// prune removes the results of all jars that are gone.
func (r *runner) prune() error {
	for len(r.gone) > 0 {
		if err := r.gone[0].remove(r.opt.Out); err != nil {
			return err
		}
		r.gone = r.gone[1:]
		r.pruned++
	}
	return nil
}
