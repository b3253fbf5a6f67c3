// Package batch reads a folder of jars: it sorts the photos into jars, reads
// them side by side within a stated memory, keeps what is finished through any
// interruption, and joins what several machines have read.
package batch

import (
	"errors"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"

	"mudline/imaging"
	"mudline/internal/files"
	"mudline/internal/reading"
	"mudline/internal/record"
	"mudline/internal/words"
)

// Jar is one jar of a batch. Paths are relative to the batch's folder, with
// slashes.
type Jar struct {
	// ID is the jar's place in the batch: its folder with a slash behind it, or
	// the name under which loose photos were sorted.
	ID string
	// Name is what people call it.
	Name string
	// Folder is the folder for its results, unique within the batch.
	Folder string
	// Why says what its photos were grouped by.
	Why words.Message
	// Photos are its files in order of name.
	Photos []string
	// Records are the records that were read for it, its own first.
	Records []string
	// Record is what is stated of it.
	Record record.Record
	// Bad says why its record cannot be used; nil where it can.
	Bad *reading.Refusal
}

// Left is a photo or folder that is in no jar, why, and what to do.
type Left struct {
	Path string        `json:"path"`
	Said words.Message `json:"said"`
	Todo words.Message `json:"todo"`
}

// Plan is how the photos of a folder are sorted into jars.
type Plan struct {
	// Root is the folder.
	Root string
	// Jars are in order of ID, numbers in it as numbers.
	Jars []Jar
	Left []Left
	// Notes say what else was found.
	Notes []words.Message

	records map[string]input // as they were when they were parsed
	grouped *grouping        // nil where nothing was sorted by likeness
}

// maxDepth is how deep folders are looked into.
const maxDepth = 12

// ownRecord ends the name of a record that names its jar: NAME.jar.yaml.
const ownRecord = "." + record.FileName

// RecordError says that the record for all jars cannot be used.
type RecordError struct{ Err error }

// Error is that of the record.
func (e *RecordError) Error() string { return e.Err.Error() }

// Unwrap gives the cause.
func (e *RecordError) Unwrap() error { return e.Err }

// planner collects a plan.
type planner struct {
	Plan
	results []string      // folders of results
	skip    []os.FileInfo // the same
	eng     imaging.Engine
	linked  []string // where links to folders lead
	common  *record.Record
}

// Find sorts what lies in root into jars. Every folder below root that holds
// photos is a jar; photos in root itself are sorted by the records that name
// them, their names, and where the names say nothing by time and likeness. The
// folders of results are left out.
func Find(root string, eng imaging.Engine, results ...string) (*Plan, error) {
	info, err := os.Stat(root)
	if err != nil {
		return nil, words.In(root, plainly(err))
	}
	if !info.IsDir() {
		return nil, words.Say("batch.no-folder", words.Name("folder", root))
	}
	p := &planner{Plan: Plan{Root: root, records: map[string]input{}}, eng: eng, results: results}
	for _, s := range results {
		if info, err := os.Stat(s); err == nil {
			p.skip = append(p.skip, info)
		}
	}
	if err := p.walk("", 0); err != nil {
		return nil, err
	}
	p.name()
	p.copies()
	return &p.Plan, nil
}

// abs is where a path of the plan lies.
func (p *Plan) abs(rel string) string { return filepath.Join(p.Root, filepath.FromSlash(rel)) }

// walk looks into a folder. In the batch's own folder photos are sorted, any
// other with photos is a jar.
func (p *planner) walk(dir string, depth int) error {
	entries, err := os.ReadDir(p.abs(dir))
	if err != nil {
		if depth == 0 {
			return err
		}
		p.leave(dir, words.Say("batch.folder-shut", words.Told("why", plainly(err))), words.Say("batch.open-folder"))
		return nil
	}
	var photos, records, folders []string
	for _, e := range entries {
		rel := path.Join(dir, e.Name())
		switch isDir := p.isFolder(rel, e); {
		case strings.HasPrefix(e.Name(), "."):
		case isDir:
			folders = append(folders, rel)
		case e.Type()&fs.ModeSymlink != 0 && p.isLinkedFolder(rel):
		case files.IsPhoto(e.Name()):
			photos = append(photos, rel)
		case e.Name() == record.FileName || strings.HasSuffix(e.Name(), ownRecord):
			records = append(records, rel)
		case record.Misnamed(e.Name()):
			p.Notes = append(p.Notes, words.Say("batch.misnamed", words.Name("file", rel), words.Name("record", record.FileName), words.Name("own", ownRecord)))
		}
	}
	if depth == 0 {
		err = p.loose(photos, records)
	} else if len(photos) > 0 {
		p.folderJar(dir, photos, records)
	} else if len(folders) == 0 {
		p.Notes = append(p.Notes, words.Say("batch.no-photos-in", words.Name("folder", dir+"/")))
	}
	for _, f := range folders {
		if depth == maxDepth {
			p.leave(f, words.Say("batch.too-deep"), words.Say("batch.move-up"))
		} else if err == nil {
			err = p.walk(f, depth+1)
		}
	}
	return err
}

// isFolder says whether an entry is a folder to look into; a link to one counts
// where it leads out of the batch.
func (p *planner) isFolder(rel string, e fs.DirEntry) bool {
	if strings.HasPrefix(e.Name(), ".") || !e.IsDir() && e.Type()&fs.ModeSymlink == 0 {
		return false
	}
	info, err := os.Stat(p.abs(rel))
	if err != nil || !info.IsDir() || slices.ContainsFunc(p.skip, func(s os.FileInfo) bool { return os.SameFile(s, info) }) {
		return false
	}
	if e.IsDir() {
		_, err := os.Stat(filepath.Join(p.abs(rel), manifestName(whole)))
		return err != nil // results of another batch
	}
	return p.follow(rel)
}

func (p *planner) isLinkedFolder(rel string) bool {
	info, err := os.Stat(p.abs(rel))
	return err == nil && info.IsDir()
}

// follow says whether a link to a folder leads to somewhere that is not looked
// into anyway.
func (p *planner) follow(rel string) bool {
	target, err := filepath.EvalSymlinks(p.abs(rel))
	root, err2 := filepath.EvalSymlinks(p.Root)
	if err := errors.Join(err, err2); err != nil {
		return false
	}
	target, root = absolute(target), absolute(root)
	for _, other := range append([]string{root}, p.linked...) {
		if within(target, other) || within(other, target) {
			p.Notes = append(p.Notes, words.Say("batch.link", words.Name("file", rel)))
			return false
		}
	}
	p.linked = append(p.linked, target)
	return true
}

func absolute(p string) string {
	if abs, err := filepath.Abs(p); err == nil {
		return abs
	}
	return p
}

func within(inner, outer string) bool {
	rel, err := filepath.Rel(outer, inner)
	return err == nil && rel != ".." && !strings.HasPrefix(rel, ".."+string(filepath.Separator))
}

func (p *planner) leave(path string, said, todo words.Message) {
	p.Left = append(p.Left, Left{path, said, todo})
}

// folderJar makes a jar of a folder with photos.
func (p *planner) folderJar(dir string, photos, records []string) {
	j := Jar{ID: dir + "/", Name: path.Base(dir), Why: whyFolder, Photos: photos}
	for _, r := range records {
		if path.Base(r) == record.FileName {
			p.state(&j, r)
		} else {
			p.Notes = append(p.Notes, words.Say("batch.record-unused", words.Name("file", r), words.Name("record", record.FileName)))
		}
	}
	p.add(j)
}

// state reads a jar's own record.
func (p *planner) state(j *Jar, rel string) {
	j.Records = append(j.Records, rel)
	rec, err := p.parse(rel)
	if err != nil {
		j.Bad = badRecord(err)
		return
	}
	for file := range rec.Photos {
		if !slices.ContainsFunc(j.Photos, func(p string) bool { return path.Base(p) == file }) {
			j.Bad = badRecord(words.Say("batch.not-of-jar", words.Name("record", rel), words.Name("file", file)))
		}
	}
	j.Record = *rec
	if rec.Name != "" {
		j.Name = rec.Name
	}
}

func badRecord(err error) *reading.Refusal {
	return refuse(reading.BadRecord, words.Of(err), words.Say("batch.correct-record", words.Name("record", record.FileName)))
}

func (p *planner) parse(rel string) (*record.Record, error) {
	in := inputOf(p.Root, rel)
	data, err := files.Read(p.abs(rel), record.MaxBytes)
	if err != nil {
		return nil, words.Say("batch.unreadable", words.Name("file", rel), words.Told("why", plainly(err)))
	}
	in.SHA256 = hashOf(data)
	p.records[rel] = in
	return record.Parse(rel, data)
}

// add puts a jar into the plan, with what is stated for all of them.
func (p *planner) add(j Jar) {
	if p.common != nil {
		j.Records = append(j.Records, record.FileName)
		inherit(&j, p.common)
	}
	slices.Sort(j.Photos)
	p.Jars = append(p.Jars, j)
}

// inherit fills in what a jar's own record does not state.
func inherit(j *Jar, common *record.Record) {
	r := &j.Record
	r.TakeShared(common)
	for _, rel := range j.Photos {
		file := path.Base(rel)
		if stated, ok := common.Photos[file]; ok && rel == file {
			if _, own := r.Photos[file]; !own {
				r.Edit(file, func(p *record.Photo) { *p = stated })
			}
		}
	}
}

// name puts the jars in order and gives each a folder of its own.
func (p *planner) name() {
	inOrder(p.Jars)
	slices.SortStableFunc(p.Left, func(a, b Left) int { return strings.Compare(a.Path, b.Path) })
	names := newNames()
	for i := range p.Jars {
		p.Jars[i].Folder = names.folder(p.Jars[i].Name)
	}
}

// plainly is an error without the path that the message around it names.
func plainly(err error) words.Message {
	var at *fs.PathError
	if errors.As(err, &at) {
		err = at.Err
	}
	return words.Of(err)
}
