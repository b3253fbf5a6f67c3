package desk

import (
	"archive/zip"
	"bytes"
	"errors"
	"io"
	"path"
	"strings"
	"time"

	"mudline/imaging"
	"mudline/imaging/bare"
	"mudline/internal/files"
	"mudline/internal/reading"
	"mudline/internal/record"
	"mudline/internal/words"
)

// ReadingName is the file beside jar.yaml that holds the reading.
const ReadingName = "reading.json"

// The limits on a jar file, so that a small one cannot claim all memory: photos hardly
// become smaller in a zip, so what unpacks to many times its size is none.
const (
	maxPackBytes  = 1 << 30
	maxPackFiles  = 100
	maxPackGrowth = 20
	packAllowance = 16 << 20 // for a jar.yaml and a reading.json that say little at length
)

// mayUnpackTo is how many bytes a file of a size may unpack to.
func mayUnpackTo(size int) int64 {
	return min(maxPackBytes, maxPackGrowth*int64(size)+packAllowance)
}

// Pack is one jar in one file: a zip of the folder that mudline read takes.
type Pack struct {
	Record  record.Tree
	Photos  []NamedFile
	Reading []byte // reading.json; nil without a reading
}

// NamedFile is a file of a pack; Name has no folder.
type NamedFile struct {
	Name string
	Data []byte
}

// Write makes the zip: the same bytes for the same pack. Of the photos goes in what
// the reading needs: not where they were taken, nor by whose camera (package bare). They
// are stored as they are, since they are compressed already. The error is a
// *reading.Refusal for a photo that is none.
func (p Pack) Write() ([]byte, error) {
	text, err := p.Record.YAML(record.FileName)
	if err != nil {
		return nil, err
	}
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	own := []NamedFile{{record.FileName, text}}
	if p.Reading != nil {
		own = append(own, NamedFile{ReadingName, p.Reading})
	}
	seen := map[string]bool{}
	for i, f := range append(own, p.Photos...) {
		if i >= len(own) {
			if f.Data, err = bare.Photo(f.Data); err != nil {
				return nil, refused(f.Name, err)
			}
		}
		if !plainName(f.Name) || seen[f.Name] {
			return nil, words.Say("desk.bad-file-name", words.Name("file", f.Name))
		}
		seen[f.Name] = true
		method := zip.Deflate
		if i >= len(own) {
			method = zip.Store
		}
		w, err := z.CreateHeader(&zip.FileHeader{Name: f.Name, Method: method, Modified: time.Date(2000, 1, 1, 0, 0, 0, 0, time.UTC)})
		if err == nil {
			_, err = w.Write(f.Data)
		}
		if err != nil {
			return nil, err
		}
	}
	if err := z.Close(); err != nil {
		return nil, err
	}
	return b.Bytes(), nil
}

// refused names the photo in a refusal of its bytes.
func refused(name string, err error) error {
	var r *imaging.Refusal
	if !errors.As(err, &r) {
		return err
	}
	return reading.Refuse(r.Code, words.In(name, r.Text), r.Remedy)
}

func plainName(name string) bool {
	return name != "" && name != "." && name != ".." && len(name) <= 255 && !strings.ContainsAny(name, "/\\\x00")
}

// ReadPack opens a jar file: a zip whose files lie at its top or in one folder.
// Files that are no part of a jar are left out.
func ReadPack(data []byte) (Pack, error) {
	z, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		return Pack{}, words.Say("desk.no-jar-file")
	}
	if len(z.File) > maxPackFiles {
		return Pack{}, words.Say("desk.too-many-files", words.Whole("files", len(z.File)), words.Whole("most", maxPackFiles))
	}
	p := Pack{Record: record.Tree{}}
	limit := mayUnpackTo(len(data))
	left := limit
	folder, any := "", false
	for _, f := range z.File {
		name := path.Base(f.Name)
		if f.FileInfo().IsDir() || strings.HasPrefix(name, ".") || strings.HasPrefix(f.Name, "__MACOSX/") {
			continue
		}
		if dir := path.Dir(f.Name); !any {
			folder, any = dir, true
		} else if dir != folder {
			return Pack{}, words.Say("desk.several-folders")
		}
		content, err := unzip(f, &left)
		if err != nil {
			return Pack{}, err
		}
		if left < 0 {
			return Pack{}, words.Say("desk.unpacks-too-large", words.Whole("mb", limit>>20))
		}
		switch {
		case name == record.FileName:
			if p.Record, err = record.ParseTree(name, content); err != nil {
				return Pack{}, err
			}
		case name == ReadingName:
			p.Reading = content
		case files.IsPhoto(name):
			p.Photos = append(p.Photos, NamedFile{name, content})
		}
	}
	if len(p.Photos) == 0 && len(p.Record) == 0 {
		return Pack{}, words.Say("desk.nothing-in-file")
	}
	return p, nil
}

// unzip reads one file, one byte at most beyond what is left; left turns negative then.
func unzip(f *zip.File, left *int64) ([]byte, error) {
	r, err := f.Open()
	if err != nil {
		return nil, words.Say("desk.file-damaged", words.Name("file", f.Name))
	}
	defer r.Close()
	content, err := io.ReadAll(io.LimitReader(r, *left+1))
	if err != nil {
		return nil, words.Say("desk.file-damaged", words.Name("file", f.Name))
	}
	*left -= int64(len(content))
	return content, nil
}
