package main

import (
	"archive/tar"
	"archive/zip"
	"bytes"
	"compress/gzip"
	"context"
	"crypto/sha256"
	"fmt"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"mudline/internal/page"
)

// documents are what goes beside a program: readme, licences, papers.
func (r *release) documents(licences []byte) ([]file, error) {
	out := []file{{name: "LICENCES-OF-PARTS.txt", data: licences}}
	for _, name := range []string{"LICENSE", "README.md"} {
		data, err := os.ReadFile(name)
		if err != nil {
			return nil, err
		}
		out = append(out, file{name: name, data: data})
	}
	return out, nil
}

// archive packs the program for a person to unpack: zip for Windows, else tar.gz.
func (r *release) archive(b built) error {
	files, err := r.documents(b.licences)
	if err != nil {
		return err
	}
	files = append(append(files, r.papers...), file{name: b.name(), data: b.program, program: true})
	folder := fmt.Sprintf("mudline-%s-%s", r.version, b.target)
	if b.os == "windows" {
		return r.write(folder+".zip", func() ([]byte, error) { return zipped(under(folder, files), r.when) })
	}
	return r.write(folder+".tar.gz", func() ([]byte, error) { return tarGz(under(folder, files), r.when) })
}

// page packs the static site.
func (r *release) page(ctx context.Context) error {
	site, err := page.Files()
	if err != nil {
		return err
	}
	parts, err := partsOfPage(ctx)
	if err != nil {
		return err
	}
	text, err := licences(parts)
	if err != nil {
		return err
	}
	files, err := r.documents(text)
	if err != nil {
		return err
	}
	for name, data := range site {
		files = append(files, file{name: "site/" + name, data: data})
	}
	folder := fmt.Sprintf("mudline-%s-page", r.version)
	return r.write(folder+".tar.gz", func() ([]byte, error) { return tarGz(under(folder, files), r.when) })
}

// write writes one file of the release.
func (r *release) write(name string, data func() ([]byte, error)) error {
	content, err := data()
	if err != nil {
		return err
	}
	return os.WriteFile(filepath.Join(r.out, name), content, 0o644)
}

// checksums lists the SHA-256 of every file, as sha256sum -c reads it.
func (r *release) checksums() error {
	entries, err := os.ReadDir(r.out)
	if err != nil {
		return err
	}
	var b bytes.Buffer
	for _, e := range entries { // in order of name
		data, err := os.ReadFile(filepath.Join(r.out, e.Name()))
		if err != nil {
			return err
		}
		fmt.Fprintf(&b, "%x  %s\n", sha256.Sum256(data), e.Name())
	}
	return r.write("SHA256SUMS", func() ([]byte, error) { return b.Bytes(), nil })
}

// under puts files into a folder, in order of name.
func under(folder string, files []file) []file {
	out := slices.Clone(files)
	for i := range out {
		out[i].name = path.Join(folder, out[i].name)
	}
	slices.SortFunc(out, func(a, b file) int { return strings.Compare(a.name, b.name) })
	return out
}

func (f file) mode() int64 {
	if f.program {
		return 0o755
	}
	return 0o644
}

// tarred is a tar of files, with their folders, that belong to no one in particular.
func tarred(files []file, when time.Time) ([]byte, error) {
	var b bytes.Buffer
	t := tar.NewWriter(&b)
	made := map[string]bool{".": true}
	add := func(h *tar.Header, data []byte) error {
		h.ModTime, h.Format = when, tar.FormatPAX
		if err := t.WriteHeader(h); err != nil {
			return err
		}
		_, err := t.Write(data)
		return err
	}
	var folders func(name string) error
	folders = func(name string) error {
		if made[name] {
			return nil
		}
		if err := folders(path.Dir(name)); err != nil {
			return err
		}
		made[name] = true
		return add(&tar.Header{Typeflag: tar.TypeDir, Name: name + "/", Mode: 0o755}, nil)
	}
	for _, f := range files {
		if err := folders(path.Dir(f.name)); err != nil {
			return nil, err
		}
		if err := add(&tar.Header{Typeflag: tar.TypeReg, Name: f.name, Mode: f.mode(), Size: int64(len(f.data))}, f.data); err != nil {
			return nil, err
		}
	}
	err := t.Close()
	return b.Bytes(), err
}

func tarGz(files []file, when time.Time) ([]byte, error) {
	data, err := tarred(files, when)
	if err != nil {
		return nil, err
	}
	return gzipped(data)
}

func gzipped(data []byte) ([]byte, error) {
	var b bytes.Buffer
	z, err := gzip.NewWriterLevel(&b, gzip.BestCompression)
	if err != nil {
		return nil, err
	}
	if _, err := z.Write(data); err != nil {
		return nil, err
	}
	err = z.Close()
	return b.Bytes(), err
}

func zipped(files []file, when time.Time) ([]byte, error) {
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	for _, f := range files {
		h := &zip.FileHeader{Name: f.name, Method: zip.Deflate, Modified: when}
		h.SetMode(os.FileMode(f.mode()))
		w, err := z.CreateHeader(h)
		if err != nil {
			return nil, err
		}
		if _, err := w.Write(f.data); err != nil {
			return nil, err
		}
	}
	err := z.Close()
	return b.Bytes(), err
}
