package batch

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"mudline/internal/files"
)

// doneName is the file that says, in a jar's folder of results, that they are
// complete, and what they were made from. It is written last.
const doneName = "done.json"

// done is what doneName holds.
type done struct {
	Version int `json:"version"`
	// Key stands for all that the results depend on; empty where they shall be
	// made anew the next time.
	Key     string   `json:"key"`
	Inputs  []input  `json:"inputs"`
	Outputs []output `json:"outputs"`
	Row     Row      `json:"row"`
}

const doneVersion = 2

// input is a file that was read. Size, time and inode are the cheap sign that it
// is the same still; the hash is the proof.
type input struct {
	Path    string `json:"path"`
	Size    int64  `json:"size"`
	MTimeNS int64  `json:"mtime_ns"`
	Inode   uint64 `json:"inode,omitempty"`
	SHA256  string `json:"sha256"`
}

// output is a file that was written.
type output struct {
	Name string `json:"name"`
	Size int64  `json:"size"`
}

func hashOf(data []byte) string {
	sum := sha256.Sum256(data)
	return hex.EncodeToString(sum[:])
}

// inputOf is a file as it lies there, not hashed yet.
func inputOf(root, rel string) input {
	in := input{Path: rel}
	if info, err := os.Stat(filepath.Join(root, filepath.FromSlash(rel))); err == nil {
		in.Size, in.MTimeNS, in.Inode = info.Size(), info.ModTime().UnixNano(), inode(info)
	}
	return in
}

// same says whether two look the same without reading them.
func (in input) same(o input) bool {
	return in.Size == o.Size && in.MTimeNS == o.MTimeNS && in.Inode == o.Inode
}

// keyOf stands for a jar's photos and records by content, their names, the
// program and its options.
func keyOf(stamp string, j *Jar, inputs []input) string {
	var b strings.Builder
	fmt.Fprintf(&b, "%d %q %q %q %q\n", doneVersion, stamp, j.ID, j.Name, j.Folder)
	for _, in := range inputs {
		if in.SHA256 == "" {
			return ""
		}
		fmt.Fprintf(&b, "%q %s\n", in.Path, in.SHA256)
	}
	return hashOf([]byte(b.String()))
}

// readDone reads what is known of finished results; nil where there are none.
func readDone(folder string) *done {
	data, err := os.ReadFile(filepath.Join(folder, doneName))
	if err != nil {
		return nil
	}
	var d done
	if json.Unmarshal(data, &d) != nil || d.Version != doneVersion {
		return nil
	}
	return &d
}

func (d *done) encode() (files.File, error) {
	d.Version = doneVersion
	data, err := json.Marshal(d)
	return files.File{Name: doneName, Data: append(data, '\n')}, err
}

// finished gives a jar's results where they are complete and made from the
// photos and records as they are now. What was touched is hashed; what is
// recheck, too.
func (r *runner) finished(j *Jar) *done {
	folder := filepath.Join(r.opt.Out, j.Folder)
	d := readDone(folder)
	if d == nil || d.Key == "" || len(d.Inputs) != len(j.Photos)+len(j.Records) {
		return nil
	}
	touched := false
	for i, now := range r.inputs(j) {
		old := &d.Inputs[i]
		if old.Path != now.Path {
			return nil
		}
		if now.SHA256 == "" && (r.opt.Recheck || !old.same(now)) {
			data, err := files.Read(r.plan.abs(now.Path), files.MaxPhotoBytes)
			if err != nil {
				return nil
			}
			now.SHA256 = hashOf(data)
		}
		if now.SHA256 != "" && now.SHA256 != old.SHA256 {
			return nil
		}
		touched = touched || !old.same(now)
		now.SHA256 = old.SHA256
		*old = now
	}
	if keyOf(r.opt.Stamp, j, d.Inputs) != d.Key {
		return nil
	}
	for _, out := range d.Outputs {
		if info, err := os.Stat(filepath.Join(folder, out.Name)); err != nil || info.Size() != out.Size {
			return nil
		}
	}
	if touched { // so that it need not be hashed again; no matter if it fails
		if f, err := d.encode(); err == nil {
			_ = r.opt.write(folder, []files.File{f})
		}
	}
	return d
}

// inputs are a jar's files as they are now: its records with their hashes, its
// photos without.
func (r *runner) inputs(j *Jar) []input {
	var list []input
	for _, rel := range j.Records {
		list = append(list, r.plan.records[rel])
	}
	for _, rel := range j.Photos {
		list = append(list, inputOf(r.plan.Root, rel))
	}
	return list
}
