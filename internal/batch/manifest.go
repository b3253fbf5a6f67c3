package batch

import (
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"mudline/internal/words"
)

// manifest says what a folder of results holds: batch.json for a whole batch,
// shard-K-of-N.json for a part of one.
type manifest struct {
	Version int `json:"version"`
	// Program is Options.Stamp.
	Program string `json:"program"`
	// Plan stands for the jars of the whole batch and how they were sorted.
	Plan  string `json:"plan"`
	Shard string `json:"shard"`
	// Total is how many jars the whole batch has, Missing how many of this
	// part have no results yet.
	Total   int     `json:"total"`
	Missing int     `json:"missing"`
	Jars    []entry `json:"jars"`
	Left    []Left  `json:"not_sorted,omitempty"`
	// Language is that of the index page; empty for English.
	Language string `json:"language,omitempty"`
	// Gone are results of jars that are not in the batch: no table has them.
	Gone []Gone `json:"gone,omitempty"`
}

// entry is one jar in a manifest. Index is its place in the whole batch, Key
// stands for the content it was read from.
type entry struct {
	Index  int    `json:"index"`
	ID     string `json:"id"`
	Folder string `json:"folder"`
	Status string `json:"status"`
	Key    string `json:"key"`
}

const manifestVersion = 2

func manifestName(s Shard) string {
	if s == whole {
		return "batch.json"
	}
	return fmt.Sprintf("shard-%d-of-%d.json", s.K, s.N)
}

// digest stands for a plan: which jars there are, and how they were sorted.
func (p *Plan) digest() string {
	var b strings.Builder
	for _, j := range p.Jars {
		fmt.Fprintf(&b, "%q %q %q %q\n", j.ID, j.Name, j.Folder, j.Photos)
	}
	return hashOf([]byte(b.String()))
}

func (r *runner) manifest() *manifest {
	m := &manifest{Version: manifestVersion, Program: r.opt.Stamp, Plan: r.plan.digest(), Shard: r.opt.Shard.String(), Total: len(r.plan.Jars), Jars: []entry{}, Gone: r.gone}
	index := map[string]int{}
	for i, j := range r.plan.Jars {
		index[j.ID] = i
	}
	for _, j := range r.opt.Shard.Of(r.plan.Jars) {
		res, ok := r.have[j.ID]
		if !ok {
			m.Missing++
			continue
		}
		m.Jars = append(m.Jars, entry{index[j.ID], j.ID, j.Folder, res.Status, res.key})
	}
	m.Left = r.plan.Left
	if r.opt.Language != nil {
		m.Language = r.opt.Language.Tag()
	}
	return m
}

func (m *manifest) encode() ([]byte, error) {
	data, err := json.MarshalIndent(m, "", " ")
	return append(data, '\n'), err
}

func readManifest(path string) (*manifest, error) {
	data, err := os.ReadFile(path)
	if err != nil {
		return nil, err
	}
	var m manifest
	if err := json.Unmarshal(data, &m); err != nil {
		return nil, words.Say("batch.no-list", words.Name("file", path), words.Because("why", err))
	}
	if m.Version != manifestVersion {
		return nil, words.Say("batch.list-version", words.Name("file", path), words.Whole("version", m.Version), words.Whole("known", manifestVersion))
	}
	for _, e := range m.Jars {
		if e.Folder == "" || filepath.Base(e.Folder) != e.Folder || e.Folder == ".." || e.Folder == "." {
			return nil, words.Say("batch.no-folder-name", words.Name("file", path), words.Name("given", e.Folder))
		}
	}
	return &m, nil
}
