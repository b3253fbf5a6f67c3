package record

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"

	"mudline/internal/words"
)

// ErrExists says that a record is there already; it is never overwritten.
var ErrExists = errors.New("there already; it was not touched")

// WriteStarter writes a jar.yaml, commented in a language, into a folder that exists
// and gives its path. It appears whole or not at all, and never replaces a file.
func WriteStarter(l *words.Language, folder, name, photo string) (path string, err error) {
	path = filepath.Join(folder, FileName)
	if _, err := os.Lstat(path); err == nil {
		return "", words.Say("record.exists", words.Name("path", path), words.Because("why", ErrExists))
	}
	tmp, err := writeTemp(path, []byte(Starter(l, name, photo)), 0o644)
	if err != nil {
		return "", err
	}
	defer os.Remove(tmp)
	// A hard link, unlike a rename, fails where the name is taken meanwhile.
	if err := os.Link(tmp, path); errors.Is(err, fs.ErrExist) {
		return "", words.Say("record.exists", words.Name("path", path), words.Because("why", ErrExists))
	} else if err == nil {
		return path, nil
	}
	// Some memory cards know no links.
	if err := os.Rename(tmp, path); err != nil {
		return "", words.Say("record.cannot-write", words.Name("path", path), words.Because("why", err))
	}
	return path, nil
}

// Replace writes a record anew, whole or not at all, keeping its permissions.
// Where the path is a link, the file it leads to is written.
func Replace(path string, data []byte) error {
	target, err := filepath.EvalSymlinks(path)
	if err != nil {
		return words.Say("record.cannot-write", words.Name("path", path), words.Because("why", err))
	}
	info, err := os.Stat(target)
	if err != nil {
		return words.Say("record.cannot-write", words.Name("path", path), words.Because("why", err))
	}
	tmp, err := writeTemp(target, data, info.Mode().Perm())
	if err != nil {
		return err
	}
	defer os.Remove(tmp)
	if err := os.Rename(tmp, target); err != nil {
		return words.Say("record.cannot-write", words.Name("path", path), words.Because("why", err))
	}
	return nil
}

// writeTemp writes a temporary file beside path and gives its name.
func writeTemp(path string, data []byte, mode fs.FileMode) (string, error) {
	tmp, err := os.CreateTemp(filepath.Dir(path), ".jar-*.yaml")
	if err != nil {
		return "", words.Say("record.cannot-write-into", words.Name("path", filepath.Dir(path)), words.Because("why", err))
	}
	_, err = tmp.Write(data)
	if err = errors.Join(err, tmp.Chmod(mode), tmp.Sync(), tmp.Close()); err != nil {
		os.Remove(tmp.Name())
		return "", words.Say("record.cannot-write", words.Name("path", path), words.Because("why", err))
	}
	return tmp.Name(), nil
}
