package desk

import (
	"archive/zip"
	"bytes"
	"encoding/json"
	"fmt"
	"strings"

	"mudline/imaging/bare"
	"mudline/internal/reading"
	"mudline/internal/record"
	"mudline/internal/words"
)

// Backup writes jars into one file, a folder each, as a batch is read from. The file is
// handed out piece by piece, so that it need not lie in memory as a whole.
type Backup struct {
	piece bytes.Buffer
	zip   *zip.Writer
	used  map[string]bool
}

// NewBackup begins a file of jars.
func NewBackup() *Backup {
	b := &Backup{used: map[string]bool{}}
	b.zip = zip.NewWriter(&b.piece)
	return b
}

// Add writes a jar, as Pack.Write does, and gives the next piece of the file. A photo that
// is none is left out and named: one of them must not cost all jars.
func (b *Backup) Add(name string, p Pack) (piece []byte, left []string, err error) {
	own, err := p.own()
	if err != nil {
		return nil, nil, err
	}
	var photos []NamedFile
	for _, f := range p.Photos {
		if f.Data, err = bare.Photo(f.Data); err != nil {
			left = append(left, f.Name)
			continue
		}
		photos = append(photos, f)
	}
	if err := write(b.zip, b.folder(name), own, photos); err != nil {
		return nil, nil, err
	}
	piece, err = b.next(b.zip.Flush())
	return piece, left, err
}

// End gives the last piece.
func (b *Backup) End() ([]byte, error) { return b.next(b.zip.Close()) }

func (b *Backup) next(err error) ([]byte, error) {
	out := bytes.Clone(b.piece.Bytes())
	b.piece.Reset()
	return out, err
}

// folder is a folder of its own for a jar, of letters that every file system takes.
func (b *Backup) folder(name string) string {
	plain := strings.Trim(strings.Map(func(r rune) rune {
		if r < ' ' || strings.ContainsRune(`<>:"/\|?*`, r) {
			return '-'
		}
		return r
	}, name), ". -~")
	if runes := []rune(plain); len(runes) > 60 {
		plain = strings.TrimRight(string(runes[:60]), ". ")
	}
	if plain == "" {
		plain = "jar"
	}
	for n := 1; ; n++ {
		try := plain
		if n > 1 {
			try = fmt.Sprintf("%s-%d", plain, n)
		}
		if key := strings.ToLower(try); !b.used[key] {
			b.used[key] = true
			return try
		}
	}
}

// packOf is a jar as a page holds it: the record and the reading as JSON, the reading
// empty where there is none.
func packOf(rec, read []byte, photos []NamedFile) (Pack, error) {
	t, err := record.TreeFromJSON(rec)
	if err != nil {
		return Pack{}, err
	}
	p := Pack{Record: t, Photos: photos}
	if len(read) > 0 {
		if err := json.Unmarshal(read, new(reading.Reading)); err != nil {
			return Pack{}, words.Say("desk.bad-reading")
		}
		p.Reading = read
	}
	return p, nil
}

// BackUp adds a jar to the backup that is being made, and begins one where none is.
func (d *Desk) BackUp(rec, read []byte, photos []NamedFile) (piece []byte, left []string, err error) {
	p, err := packOf(rec, read, photos)
	if err != nil {
		return nil, nil, err
	}
	if d.backup == nil {
		d.backup = NewBackup()
	}
	name, _ := p.Record["name"].(string)
	return d.backup.Add(name, p)
}

// EndBackUp ends it and gives its last piece. Begun or not, the next is a new one.
func (d *Desk) EndBackUp() ([]byte, error) {
	b := d.backup
	d.backup = nil
	if b == nil {
		b = NewBackup()
	}
	return b.End()
}
