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
			return Summary{}, fmt.Errorf("%s: %s was not copied", out, e.Folder)
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
				return nil, fmt.Errorf("%s says it is part %q: was it renamed?", filepath.Join(folder, e.Name()), list.Shard)
			}
			parts = append(parts, part{folder, list, shard})
		}
		if len(parts) == n {
			return nil, fmt.Errorf("%s holds no part of a batch: there is no shard-K-of-N.json in it, which mudline batch --shard writes as it ends", folder)
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
			return nil, fmt.Errorf("part %s is there twice, in %s and in %s: leave one out", p.shard, parts[i-1].folder, p.folder)
		}
		if p.list.Missing > 0 {
			return nil, fmt.Errorf("part %s in %s is not finished: %d of its jars have no results; run it again", p.shard, p.folder, p.list.Missing)
		}
		for _, e := range p.list.Jars {
			if other, ok := owner[e.ID]; ok {
				return nil, fmt.Errorf("%s is in part %s (%s) and in part %s (%s): leave one out", e.ID, other.shard, other.folder, p.shard, p.folder)
			}
			owner[e.ID] = p
			all.Jars = append(all.Jars, e)
		}
	}
	if missing := gaps(parts); len(missing) > 0 {
		return nil, fmt.Errorf("parts are missing: %s of %d; run them, then merge again", strings.Join(missing, ", "), first.shard.N)
	}
	slices.SortFunc(all.Jars, func(a, b entry) int { return a.Index - b.Index })
	if len(all.Jars) != all.Total {
		return nil, fmt.Errorf("the parts hold %d jars, the batch has %d", len(all.Jars), all.Total)
	}
	return &all, nil
}

// fits says why a shard is not of the same batch.
func (p part) fits(o part) error {
	a, b := p.list, o.list
	switch {
	case p.shard.N != o.shard.N:
		return fmt.Errorf("%s holds a part of %d, %s one of %d: merge parts of one splitting", p.folder, p.shard.N, o.folder, o.shard.N)
	case a.Program != b.Program:
		return fmt.Errorf("the parts were read by different programs or with different options: %s in %s, %s in %s; read one of them again", a.Program, p.folder, b.Program, o.folder)
	case a.Plan != b.Plan || a.Total != b.Total:
		return fmt.Errorf("the parts %s (%s) and %s (%s) are not of the same folder of photos, or it changed between the runs; run the older one again", p.shard, p.folder, o.shard, o.folder)
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
		return fmt.Errorf("the results in %s are not those that its list tells of: run that part again", from)
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
			return fmt.Errorf("%s: %q is not the name of a file", from, o.Name)
		}
		data, err := os.ReadFile(filepath.Join(from, o.Name))
		if errors.Is(err, fs.ErrNotExist) {
			return fmt.Errorf("%s is missing from %s: run that part again", o.Name, from)
		}
		if err != nil {
			return err
		}
		if o.Name != doneName && int64(len(data)) != o.Size {
			return fmt.Errorf("%s was changed after it was written: run that part again", filepath.Join(from, o.Name))
		}
		list = append(list, files.File{Name: o.Name, Data: data})
	}
	if err := files.WriteAll(to, list); err != nil {
		return &WriteError{to, err}
	}
	return nil
}
