package batch

import (
	"bytes"
	"context"
	"fmt"
	"image"
	"image/color"
	"image/jpeg"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"mudline/imaging"
	"mudline/internal/files"
	"mudline/internal/jar"
	"mudline/internal/reading"
	"mudline/internal/record"
)

// tree writes files below a new folder; a name that ends in a slash is a folder.
func tree(t testing.TB, list map[string]string) string {
	t.Helper()
	root := filepath.Join(t.TempDir(), "jars")
	for name, text := range list {
		p := filepath.Join(root, filepath.FromSlash(name))
		if strings.HasSuffix(name, "/") {
			require.NoError(t, os.MkdirAll(p, 0o755))
			continue
		}
		require.NoError(t, os.MkdirAll(filepath.Dir(p), 0o755))
		require.NoError(t, os.WriteFile(p, []byte(text), 0o644))
	}
	return root
}

func find(t testing.TB, root string, skip ...string) *Plan {
	t.Helper()
	p, err := Find(root, imaging.PureGo{}, skip...)
	require.NoError(t, err)
	return p
}

// sorted shows how a plan sorted its photos: ID, reason and photos.
func sorted(p *Plan) (out []string) {
	for _, j := range p.Jars {
		out = append(out, fmt.Sprintf("%s | %s | %s", j.ID, j.Why, strings.Join(j.Photos, " ")))
	}
	return out
}

// made is a made-up analysis: these tests are about batches, not about pictures.
// What it says hangs on the photos' bytes.
func made(ctx context.Context, list []jar.File, rec record.Record, opt jar.Options) (*jar.Result, error) {
	res := &jar.Result{Reading: reading.Reading{Version: 1, Jar: rec.Name, TempC: 20, TempFrom: "assumed", System: "usda", Engine: "go"}}
	sum := 0
	for i, f := range list {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		data, err := f.Data()
		if err != nil {
			return nil, err
		}
		switch text := string(data); {
		case text == "panic":
			panic("made to fail")
		case text == "refuse":
			return nil, &reading.Refusal{Code: reading.NoJar, Text: f.Name + " shows no jar", Remedy: "take the photo again"}
		}
		for _, b := range data {
			sum += int(b)
		}
		opt.Progress(i+1, len(list))
		res.Reading.Photos = append(res.Reading.Photos, reading.Photo{File: f.Name, ElapsedS: float64(60 * (i + 1)), ElapsedFrom: "name"})
	}
	sand := float64(sum % 80)
	res.Reading.Fractions = &reading.Fractions{Sand: reading.Estimate{Percent: sand, Low: sand, High: sand + 5},
		Silt: reading.Estimate{Percent: 80 - sand, Low: 70 - sand, High: 90 - sand}, Clay: reading.Estimate{Percent: 20, Low: 15, High: 25}}
	res.Reading.Class = &reading.Class{System: "usda", Name: "loam", Probability: 0.8}
	return res, nil
}

// rendered is a made-up report and a thumbnail.
func rendered(o Outcome) ([]files.File, error) {
	pic := image.NewRGBA(image.Rect(0, 0, 48, 64))
	for i := range pic.Pix {
		pic.Pix[i] = color.RGBA{150, 110, 80, 255}.R
	}
	var b bytes.Buffer
	if err := jpeg.Encode(&b, pic, nil); err != nil {
		return nil, err
	}
	return []files.File{{Name: ReportName, Data: []byte("<!DOCTYPE html><title>" + o.Jar.Folder + "</title>")}, {Name: ThumbName, Data: b.Bytes()}}, nil
}

func options(out string) Options {
	return Options{Out: out, Stamp: "test 1", Jobs: 2, Memory: MinMemory, Analyse: made, Render: rendered}
}

// results gives every file below a folder with its bytes, but for locks.
func results(t testing.TB, out string) map[string]string {
	t.Helper()
	all := map[string]string{}
	require.NoError(t, filepath.WalkDir(out, func(p string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || strings.HasSuffix(p, ".lock") {
			return err
		}
		rel, err := filepath.Rel(out, p)
		require.NoError(t, err)
		data, err := os.ReadFile(p)
		all[filepath.ToSlash(rel)] = string(data)
		return err
	}))
	return all
}

// many is a folder of n jars with two photos each.
func many(t testing.TB, n int) string {
	list := map[string]string{}
	for i := range n {
		list[fmt.Sprintf("plot-%03d/a_1min.jpg", i)] = fmt.Sprintf("photo %d", i)
		list[fmt.Sprintf("plot-%03d/b_2h.jpg", i)] = strings.Repeat("x", i+1)
	}
	return tree(t, list)
}

// imageOf is a plain picture.
func imageOf(w, h int) image.Image {
	return image.NewYCbCr(image.Rect(0, 0, w, h), image.YCbCrSubsampleRatio420)
}
