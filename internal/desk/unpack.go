package desk

import (
	"archive/zip"
	"bytes"
	"io"
	"io/fs"
	"maps"
	"path"
	"slices"
	"strings"

	"mudline/internal/files"
	"mudline/internal/record"
	"mudline/internal/words"
)

// The limits on a file of jars, so that a small one cannot claim all memory: photos hardly
// become smaller in a zip, so what unpacks to many times its size is none.
const (
	maxPackBytes  = 1 << 30 // of one jar
	maxPackFiles  = 100     // of one jar
	maxPacks      = 1000
	maxPackGrowth = 20
	packAllowance = 16 << 20 // for a jar.yaml and a reading.json that say little at length
)

// mayUnpackTo is how many bytes files of a size may unpack to.
func mayUnpackTo(size int64) int64 {
	return min(maxPackBytes, maxPackGrowth*size+packAllowance)
}

// Bundle is a file that holds jars: a zip in which each folder is one, as the zip of one
// jar and a backup of all of them are. A record beside folders of jars holds what is the
// same for all of them, as in a batch.
type Bundle struct {
	// Folders are those of its jars, in their order; "." is the top.
	Folders []string
	inside  map[string][]*zip.File
	common  record.Tree
}

// OpenBundle opens a file of jars; nothing of it but its list of files is read yet.
func OpenBundle(r io.ReaderAt, size int64) (*Bundle, error) {
	z, err := zip.NewReader(r, size)
	if err != nil {
		return nil, words.Say("desk.no-jar-file")
	}
	b := &Bundle{inside: map[string][]*zip.File{}}
	for _, f := range z.File {
		name, folder := path.Base(f.Name), path.Dir(f.Name)
		if f.FileInfo().IsDir() || !fs.ValidPath(f.Name) || strings.HasPrefix(name, ".") || strings.HasPrefix(f.Name, "__MACOSX/") ||
			name != record.FileName && name != ReadingName && !files.IsPhoto(name) {
			continue
		}
		if b.inside[folder] = append(b.inside[folder], f); len(b.inside[folder]) > maxPackFiles {
			return nil, words.Say("desk.too-many-files", words.Whole("files", len(b.inside[folder])), words.Whole("most", maxPackFiles))
		}
	}
	maps.DeleteFunc(b.inside, func(_ string, list []*zip.File) bool {
		return !slices.ContainsFunc(list, func(f *zip.File) bool { return path.Base(f.Name) != ReadingName })
	})
	if err := b.takeCommon(); err != nil {
		return nil, err
	}
	b.Folders = slices.Sorted(maps.Keys(b.inside))
	switch {
	case len(b.Folders) == 0:
		return nil, words.Say("desk.nothing-in-file")
	case len(b.Folders) > maxPacks:
		return nil, words.Say("desk.too-many-jars", words.Whole("jars", len(b.Folders)), words.Whole("most", maxPacks))
	}
	return b, nil
}

// takeCommon takes a record that lies alone above the folders of jars.
func (b *Bundle) takeCommon() error {
	for folder, list := range b.inside {
		above := folder == "." && len(b.inside) > 1
		for other := range b.inside {
			above = above || strings.HasPrefix(other, folder+"/")
		}
		if !above || slices.ContainsFunc(list, func(f *zip.File) bool { return files.IsPhoto(path.Base(f.Name)) }) {
			continue
		}
		p, err := unpack(list)
		if err != nil {
			return err
		}
		b.common = p.Record
		delete(b.common, "name")
		delete(b.common, "photos")
		delete(b.inside, folder)
		return nil
	}
	return nil
}

// ReadPack opens a file that holds one jar.
func ReadPack(data []byte) (Pack, error) {
	b, err := OpenBundle(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		return Pack{}, err
	}
	if len(b.Folders) > 1 {
		return Pack{}, words.Say("desk.several-folders")
	}
	return b.Jar(b.Folders[0])
}

// Jar reads a jar of the bundle.
func (b *Bundle) Jar(folder string) (Pack, error) {
	p, err := unpack(b.inside[folder])
	if err != nil {
		return p, err
	}
	for k, v := range b.common {
		if _, own := p.Record[k]; !own {
			p.Record[k] = v
		}
	}
	return p, nil
}

func unpack(list []*zip.File) (Pack, error) {
	p := Pack{Record: record.Tree{}}
	size := int64(0)
	for _, f := range list {
		size += int64(f.CompressedSize64)
	}
	limit := mayUnpackTo(size)
	left := limit
	for _, f := range list {
		name := path.Base(f.Name)
		content, err := unzip(f, &left)
		if err != nil {
			return Pack{}, err
		}
		if left < 0 {
			return Pack{}, words.Say("desk.unpacks-too-large", words.Whole("mb", int(limit>>20)))
		}
		switch name {
		case record.FileName:
			if p.Record, err = record.ParseTree(name, content); err != nil {
				return Pack{}, err
			}
		case ReadingName:
			p.Reading = content
		default:
			p.Photos = append(p.Photos, NamedFile{name, content})
		}
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
