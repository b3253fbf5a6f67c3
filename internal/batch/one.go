package batch

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"slices"

	"mudline/internal/files"
	"mudline/internal/jar"
	"mudline/internal/reading"
	"mudline/internal/record"
	"mudline/internal/words"
)

// one reads one jar and writes its results. The error is that of writing them,
// or of ctx.
func (r *runner) one(ctx context.Context, j *Jar) (*done, error) {
	folder := filepath.Join(r.opt.Out, j.Folder)
	old := readDone(folder)
	files.Sweep(folder)
	d := &done{Inputs: r.inputs(j)}
	out := Outcome{Jar: j, Files: r.photos(j, d.Inputs[len(j.Records):])}
	status := r.analyse(ctx, &out)
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	list := r.render(&out, &status)
	d.Row = rowOf(j, resultReading(out.Result), out.Refusal, status)
	if status != StatusFault {
		r.hashRest(d.Inputs)
		d.Key = keyOf(r.opt.Stamp, j, d.Inputs)
	}
	for _, f := range list {
		d.Outputs = append(d.Outputs, output{f.Name, int64(len(f.Data))})
	}
	f, err := d.encode()
	if err != nil {
		return nil, err
	}
	if err := r.opt.write(folder, append(list, f)); err != nil {
		return nil, err
	}
	if old != nil {
		r.removeStale(folder, old, d)
	}
	return d, nil
}

func resultReading(res *jar.Result) *reading.Reading {
	if res == nil {
		return nil
	}
	return &res.Reading
}

// photos are a jar's photos for reading; what is read is hashed into inputs.
func (r *runner) photos(j *Jar, inputs []input) []jar.File {
	list := make([]jar.File, len(j.Photos))
	for i, rel := range j.Photos {
		list[i] = jar.File{Name: path.Base(rel), Data: func() ([]byte, error) {
			data, err := files.Read(r.plan.abs(rel), files.MaxPhotoBytes)
			if err != nil {
				return nil, unreadable(rel, err)
			}
			inputs[i].SHA256 = hashOf(data)
			return data, nil
		}}
	}
	return list
}

func unreadable(rel string, err error) *reading.Refusal {
	if errors.Is(err, fs.ErrNotExist) {
		return refuse(reading.UnreadableFile, words.Say("batch.gone-meanwhile", words.Name("file", rel)), words.Say("batch.put-back"))
	}
	var unread *files.ReadError
	if errors.As(err, &unread) && unread.TooLarge {
		return refuse(reading.TooLarge, words.Of(err), words.Say("do.reduce-photo"))
	}
	return refuse(reading.UnreadableFile, words.Say("batch.unreadable", words.Name("file", rel), words.Told("why", plainly(err))), words.Say("batch.copy-and-run"))
}

// hashRest hashes what the reading did not come to; what cannot be read stays
// without a hash, and the jar is read again the next time.
func (r *runner) hashRest(inputs []input) {
	for i := range inputs {
		if inputs[i].SHA256 == "" {
			if data, err := files.Read(r.plan.abs(inputs[i].Path), files.MaxPhotoBytes); err == nil {
				inputs[i].SHA256 = hashOf(data)
			}
		}
	}
}

// analyse reads a jar and gives its status; a panic is a fault of the program
// with this jar alone.
func (r *runner) analyse(ctx context.Context, out *Outcome) (status string) {
	defer recovered(out, &status)
	j := out.Jar
	if j.Bad != nil {
		out.Refusal = j.Bad
		return StatusRefused
	}
	opt := jar.Options{Engine: r.opt.Engine, Workers: 1, Progress: func(done, _ int) {
		r.mu.Lock()
		defer r.mu.Unlock()
		if done < len(j.Photos) { // the last one counts when the jar is finished
			r.progress(j, done)
		}
	}}
	res, err := r.opt.Analyse(ctx, out.Files, j.Record, opt)
	var refusal *reading.Refusal
	var mistake *record.Mistake
	switch {
	case errors.As(err, &refusal):
		out.Refusal = j.remedied(refusal)
		return StatusRefused
	case errors.As(err, &mistake):
		out.Refusal = badRecord(err)
		return StatusRefused
	case err != nil:
		out.Refusal = fault(err.Error())
		return StatusFault
	}
	if res.Reading.Jar == "" {
		res.Reading.Jar = j.Name
	}
	out.Result = res
	return StatusRead
}

func recovered(out *Outcome, status *string) {
	if p := recover(); p != nil {
		out.Result, out.Refusal = nil, fault(fmt.Sprint(p))
		*status = StatusFault
	}
}

func fault(text string) *reading.Refusal {
	return refuse(reading.ProgramFault, words.Say("batch.fault", words.Name("text", text)), words.Say("batch.report-fault"))
}

// render makes the files of a jar. Where that fails there is the reading alone.
func (r *runner) render(out *Outcome, status *string) []files.File {
	list, err := r.renderAll(out)
	if err == nil {
		return list
	}
	*status, out.Result, out.Refusal = StatusFault, nil, fault(err.Error())
	list, _ = readingFile(out)
	return list
}

func (r *runner) renderAll(out *Outcome) (list []files.File, err error) {
	defer func() {
		if p := recover(); p != nil {
			err = fmt.Errorf("%v", p)
		}
	}()
	if list, err = readingFile(out); err != nil || r.opt.Render == nil {
		return list, err
	}
	more, err := r.opt.Render(*out)
	return append(list, more...), err
}

// readingFile is reading.json: the reading, or the refusal.
func readingFile(out *Outcome) ([]files.File, error) {
	var b bytes.Buffer
	var err error
	if out.Result != nil {
		err = out.Result.Reading.Encode(&b)
	} else {
		err = reading.Refused(out.Refusal).Encode(&b)
	}
	return []files.File{{Name: reading.FileName, Data: b.Bytes()}}, err
}

// removeStale removes what an earlier run wrote and this one did not.
func (r *runner) removeStale(folder string, old, d *done) {
	for _, o := range old.Outputs {
		if !slices.ContainsFunc(d.Outputs, func(n output) bool { return n.Name == o.Name }) && filepath.Base(o.Name) == o.Name {
			os.Remove(filepath.Join(folder, o.Name))
		}
	}
}
