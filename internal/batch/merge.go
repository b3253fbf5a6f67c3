package batch

import (
	"cmp"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"mudline/internal/files"
	"mudline/internal/words"
)

// part is the results of one shard.
type part struct {
	folder string
	list   *manifest
	shard  Shard
}

// Merge joins the shards of a batch, wherever their results lie, into the folder
// out, as one run over all jars would have left it. Folders may hold one shard or
// several; out may be one of them. It refuses shards of different programs or
// batches, two of the same jars, and gaps.
func Merge(folders []string, out string) (Summary, error) {
	parts, err := findParts(folders)
	if err != nil {
		return Summary{}, err
	}
	all, err := join(parts)
	if err != nil {
		return Summary{}, err
	}
	if err := os.MkdirAll(out, 0o755); err != nil {
		return Summary{}, &WriteError{out, err}
	}
	release, err := lock(out, whole)
	if err != nil {
		return Summary{}, err
	}
	defer release()
	here := map[string]bool{}
	for _, e := range all.Jars {
		here[folded(e.Folder)] = true
	}
	all.Gone = goneFrom(out, here)
	language, err := words.Find(cmp.Or(all.Language, "en"))
	if err != nil {
		return Summary{}, err
	}
	t := tables{lang: language, out: out, left: all.Left, gone: all.Gone}
	summary := Summary{Jars: all.Total, Gone: all.Gone}
	for _, p := range parts {
		for _, e := range p.list.Jars {
			if err := copyJar(filepath.Join(p.folder, e.Folder), filepath.Join(out, e.Folder), e); err != nil {
				return Summary{}, err
			}
		}
	}
	for _, e := range all.Jars {
		d := readDone(filepath.Join(out, e.Folder))
		if d == nil {
			return Summary{}, words.Say("batch.not-copied", words.Name("folder", out), words.Name("jar", e.Folder))
		}
		t.rows = append(t.rows, d.Row)
		summary.count(d.Row)
	}
	return summary, saveAll(t, all, whole)
}

// findParts reads the lists of all shards in the folders.
func findParts(folders []string) ([]part, error) {
	var parts []part
	for _, folder := range folders {
		entries, err := os.ReadDir(folder)
		if err != nil {
			return nil, err
		}
		n := len(parts)
		for _, e := range entries {
			if !strings.HasPrefix(e.Name(), "shard-") || filepath.Ext(e.Name()) != ".json" {
				continue
			}
			list, err := readManifest(filepath.Join(folder, e.Name()))
			if err != nil {
				return nil, err
			}
			shard, err := ParseShard(list.Shard)
			if err != nil || e.Name() != manifestName(shard) {
				return nil, words.Say("batch.part-renamed", words.Name("file", filepath.Join(folder, e.Name())), words.Name("part", list.Shard))
			}
			parts = append(parts, part{folder, list, shard})
		}
		if len(parts) == n {
			return nil, words.Say("batch.no-parts", words.Name("folder", folder))
		}
	}
	slices.SortFunc(parts, func(a, b part) int { return a.shard.K - b.shard.K })
	return parts, nil
}

// join makes the list of the whole batch out of its shards', or says why they do
// not make one.
func join(parts []part) (*manifest, error) {
	first := parts[0]
	all := *first.list
	all.Shard, all.Jars = whole.String(), []entry{}
	owner := map[string]part{}
	for i, p := range parts {
		if err := first.fits(p); err != nil {
			return nil, err
		}
		if i > 0 && parts[i-1].shard == p.shard {
			return nil, words.Say("batch.part-twice", words.Name("part", p.shard.String()), words.Name("folder", parts[i-1].folder), words.Name("other", p.folder))
		}
		if p.list.Missing > 0 {
			return nil, words.Say("batch.part-unfinished", words.Name("part", p.shard.String()), words.Name("folder", p.folder), words.Whole("n", p.list.Missing))
		}
		for _, e := range p.list.Jars {
			if other, ok := owner[e.ID]; ok {
				return nil, words.Say("batch.jar-twice", words.Name("jar", e.ID), words.Name("part", other.shard.String()), words.Name("folder", other.folder), words.Name("other_part", p.shard.String()), words.Name("other", p.folder))
			}
			owner[e.ID] = p
			all.Jars = append(all.Jars, e)
		}
	}
	if missing := gaps(parts); len(missing) > 0 {
		return nil, words.Say("batch.parts-missing", words.Name("missing", strings.Join(missing, ", ")), words.Whole("all", first.shard.N))
	}
	slices.SortFunc(all.Jars, func(a, b entry) int { return a.Index - b.Index })
	if len(all.Jars) != all.Total {
		return nil, words.Say("batch.parts-too-few", words.Whole("n", len(all.Jars)), words.Whole("all", all.Total))
	}
	return &all, nil
}

// fits says why a shard is not of the same batch.
func (p part) fits(o part) error {
	a, b := p.list, o.list
	switch {
	case p.shard.N != o.shard.N:
		return words.Say("batch.parts-split-otherwise", words.Name("folder", p.folder), words.Whole("all", p.shard.N), words.Name("other", o.folder), words.Whole("other_all", o.shard.N))
	case a.Program != b.Program:
		return words.Say("batch.parts-read-otherwise", words.Name("program", a.Program), words.Name("folder", p.folder), words.Name("other_program", b.Program), words.Name("other", o.folder))
	case a.Plan != b.Plan || a.Total != b.Total:
		return words.Say("batch.parts-of-other-photos", words.Name("part", p.shard.String()), words.Name("folder", p.folder), words.Name("other_part", o.shard.String()), words.Name("other", o.folder))
	}
	return nil
}

func gaps(parts []part) (missing []string) {
	there := map[int]bool{}
	for _, p := range parts {
		there[p.shard.K] = true
	}
	for k := 1; k <= parts[0].shard.N; k++ {
		if !there[k] {
			missing = append(missing, fmt.Sprint(k))
		}
	}
	return missing
}

// copyJar copies the results of one jar, and checks that they are those its list
// tells of.
func copyJar(from, to string, e entry) error {
	d := readDone(from)
	if d == nil || d.Key != e.Key || d.Row.ID != e.ID {
		return words.Say("batch.results-unlisted", words.Name("folder", from))
	}
	if a, err := filepath.EvalSymlinks(from); err == nil {
		if b, err := filepath.EvalSymlinks(to); err == nil && a == b {
			return nil
		}
	}
	var list []files.File
	names := append([]output{}, d.Outputs...)
	for _, o := range append(names, output{Name: doneName}) {
		if filepath.Base(o.Name) != o.Name {
			return words.Say("batch.no-file-name", words.Name("folder", from), words.Name("given", o.Name))
		}
		data, err := os.ReadFile(filepath.Join(from, o.Name))
		if errors.Is(err, fs.ErrNotExist) {
			return words.Say("batch.file-missing", words.Name("file", o.Name), words.Name("folder", from))
		}
		if err != nil {
			return err
		}
		if o.Name != doneName && int64(len(data)) != o.Size {
			return words.Say("batch.file-changed", words.Name("file", filepath.Join(from, o.Name)))
		}
		list = append(list, files.File{Name: o.Name, Data: data})
	}
	if err := files.WriteAll(to, list); err != nil {
		return &WriteError{to, err}
	}
	return nil
}
