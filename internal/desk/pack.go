package desk

import (
	"archive/zip"
	"bytes"
	"errors"
	"path"
	"strings"
	"time"

	"mudline/imaging"
	"mudline/imaging/bare"
	"mudline/internal/reading"
	"mudline/internal/record"
	"mudline/internal/words"
)

// ReadingName is the file beside jar.yaml that holds the reading.
const ReadingName = "reading.json"

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
	own, err := p.own()
	if err != nil {
		return nil, err
	}
	photos := make([]NamedFile, len(p.Photos))
	for i, f := range p.Photos {
		if f.Data, err = bare.Photo(f.Data); err != nil {
			return nil, refused(f.Name, err)
		}
		photos[i] = f
	}
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	if err := write(z, "", own, photos); err != nil {
		return nil, err
	}
	if err := z.Close(); err != nil {
		return nil, err
	}
	return b.Bytes(), nil
}

// own are the files of a jar beside its photos.
func (p Pack) own() ([]NamedFile, error) {
	text, err := p.Record.YAML(record.FileName)
	if err != nil {
		return nil, err
	}
	own := []NamedFile{{record.FileName, text}}
	if p.Reading != nil {
		own = append(own, NamedFile{ReadingName, p.Reading})
	}
	return own, nil
}

// write puts the files of a jar into a zip, in a folder unless that is empty.
func write(z *zip.Writer, folder string, own, photos []NamedFile) error {
	seen := map[string]bool{}
	for i, f := range append(own, photos...) {
		if !plainName(f.Name) || seen[f.Name] {
			return words.Say("desk.bad-file-name", words.Name("file", f.Name))
		}
		seen[f.Name] = true
		method := zip.Deflate
		if i >= len(own) {
			method = zip.Store
		}
		w, err := z.CreateHeader(&zip.FileHeader{Name: path.Join(folder, f.Name), Method: method, Modified: time.Date(2000, 1, 1, 0, 0, 0, 0, time.UTC)})
		if err == nil {
			_, err = w.Write(f.Data)
		}
		if err != nil {
			return err
		}
	}
	return nil
}

// refused names the photo in a refusal of its bytes.
func refused(name string, err error) error {
	var r *imaging.Refusal
	if !errors.As(err, &r) {
		return err
	}
	return reading.Refuse(reading.RefusalCode(r.Code), words.In(name, r.Text), r.Remedy)
}

func plainName(name string) bool {
	return name != "" && name != "." && name != ".." && len(name) <= 255 && !strings.ContainsAny(name, "/\\\x00")
}
