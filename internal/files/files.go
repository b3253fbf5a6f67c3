// Package files knows which files are photos, reads them within bounds, and
// writes files whole or not at all.
package files

import (
	"errors"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"
)

// MaxPhotoBytes is the largest photo file that is read.
const MaxPhotoBytes = 256 << 20

// Extensions are those of photo files, in lower case.
var Extensions = []string{".jpg", ".jpeg", ".png", ".webp", ".tif", ".tiff", ".heic", ".heif"}

// drawn ends the names of pictures that this program drew: they are no photos.
var drawn = []string{".read.png", ".read.jpg"}

// IsPhoto says whether a file of this name is taken for a photo: no hidden file
// and none that this program drew.
func IsPhoto(name string) bool {
	lower := strings.ToLower(name)
	for _, suffix := range drawn {
		if strings.HasSuffix(lower, suffix) {
			return false
		}
	}
	return !strings.HasPrefix(name, ".") && slices.Contains(Extensions, filepath.Ext(lower))
}

// File is one file to write.
type File struct {
	// Name is without folder.
	Name string
	Data []byte
}

// tempPrefix begins the names of files that are being written; they are hidden.
const tempPrefix = ".mudline-"

// WriteAll writes every file under a temporary name first and renames them, in
// their order, only when all are on the disk: what is seen under its name is
// whole, and a failure before that leaves nothing behind. The folder is made if
// it is missing.
func WriteAll(folder string, list []File) (err error) {
	_, statErr := os.Stat(folder)
	if err := os.MkdirAll(folder, 0o755); err != nil {
		return err
	}
	var temps []string
	defer func() {
		for _, t := range temps {
			os.Remove(t)
		}
		if err != nil && errors.Is(statErr, os.ErrNotExist) {
			os.Remove(folder) // only if it is empty
		}
	}()
	for _, f := range list {
		temp, err := writeTemp(folder, func(w io.Writer) error { _, err := w.Write(f.Data); return err })
		if temp != "" {
			temps = append(temps, temp)
		}
		if err != nil {
			return err
		}
	}
	for i, f := range list {
		if err := os.Rename(temps[i], filepath.Join(folder, f.Name)); err != nil {
			return err
		}
	}
	return nil
}

// Write writes one file, as it is made by fill, whole or not at all.
func Write(path string, fill func(io.Writer) error) error {
	temp, err := writeTemp(filepath.Dir(path), fill)
	if temp != "" {
		defer os.Remove(temp)
	}
	if err != nil {
		return err
	}
	return os.Rename(temp, path)
}

func writeTemp(folder string, fill func(io.Writer) error) (path string, err error) {
	f, err := os.CreateTemp(folder, tempPrefix+"*")
	if err != nil {
		return "", err
	}
	err = fill(f)
	return f.Name(), errors.Join(err, f.Chmod(0o644), f.Sync(), f.Close())
}

// Sweep removes what a killed process left half written in a folder. Nothing
// else may be writing there.
func Sweep(folder string) {
	entries, _ := os.ReadDir(folder)
	for _, e := range entries {
		if strings.HasPrefix(e.Name(), tempPrefix) {
			os.Remove(filepath.Join(folder, e.Name()))
		}
	}
}
