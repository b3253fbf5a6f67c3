package files

import (
	"errors"
	"io"
	"io/fs"
	"os"
	"slices"
	"syscall"

	"mudline/internal/words"
)

// ReadError says that a file cannot be read.
type ReadError struct {
	// File is its path.
	File string
	// TooLarge says that it is larger than what is read of its kind.
	TooLarge bool
	// What keeps it from being read.
	err error
}

// Error says what is wrong, and with which file.
func (e *ReadError) Error() string { return e.err.Error() }

// Unwrap gives what is wrong: a message, or the error of the disk.
func (e *ReadError) Unwrap() error { return e.err }

// Read reads an ordinary file of at most limit bytes. The error is a *ReadError.
func Read(path string, limit int64) ([]byte, error) {
	data, err := read(path, limit)
	if err != nil {
		var large tooLarge
		return nil, &ReadError{File: path, TooLarge: errors.As(err, &large), err: err}
	}
	return data, nil
}

func read(path string, limit int64) ([]byte, error) {
	info, err := os.Stat(path)
	if err != nil {
		return nil, err
	}
	if !info.Mode().IsRegular() {
		return nil, words.Say("file.not-ordinary", words.Name("file", path))
	}
	if info.Size() > limit {
		return nil, tooLarge{path, limit}
	}
	f, err := os.Open(path)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	data := make([]byte, 0, info.Size()+1)
	for int64(len(data)) <= limit {
		n, err := f.Read(data[len(data):cap(data)])
		data = data[:len(data)+n]
		if errors.Is(err, io.EOF) {
			return data, nil
		}
		if err != nil {
			return nil, words.Say("file.unreadable", words.Name("file", path), words.Because("why", err))
		}
		if len(data) == cap(data) {
			data = slices.Grow(data, len(data)+512) // it grew meanwhile
		}
	}
	return nil, tooLarge{path, limit}
}

// tooLarge is the error of a file that is larger than its kind is.
type tooLarge struct {
	path  string
	limit int64
}

func (e tooLarge) Error() string { return e.Unwrap().Error() }
func (e tooLarge) Unwrap() error {
	return words.Say("file.too-large", words.Name("file", e.path), words.Whole("most", e.limit))
}

// OfDisk says whether an error is the disk's or its permissions', as against a name that
// leads nowhere, or to what it should not.
func OfDisk(err error) bool {
	var at *fs.PathError
	var link *os.LinkError
	if !errors.As(err, &at) && !errors.As(err, &link) {
		return false
	}
	for _, wrong := range []error{fs.ErrNotExist, fs.ErrExist, fs.ErrInvalid, syscall.ENOTDIR, syscall.EISDIR, syscall.ENAMETOOLONG, syscall.ENOTEMPTY} {
		if errors.Is(err, wrong) {
			return false
		}
	}
	return true
}
