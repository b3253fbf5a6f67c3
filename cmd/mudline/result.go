package main

import (
	"bytes"
	"fmt"
	"image/png"
	"path/filepath"
	"strings"

	"mudline/internal/files"
	"mudline/internal/jar"
	"mudline/internal/reading"
	"mudline/internal/report"
	"mudline/internal/words"
)

// writeResult writes the annotated photos and reading.json into a folder: all
// of them or none. The folder is made if it is missing.
func writeResult(folder string, res *jar.Result, show report.Options) error {
	list, err := resultFiles(res, show)
	if err != nil {
		return err
	}
	if err := files.WriteAll(folder, list); err != nil {
		return badInput(words.Say("command.do-choose-another-folder-out"), words.Say("command.cannot-write-into", words.Name("folder", folder), words.Because("why", err)))
	}
	return nil
}

func resultFiles(res *jar.Result, show report.Options) ([]files.File, error) {
	var text bytes.Buffer
	if err := res.Reading.Encode(&text); err != nil {
		return nil, err
	}
	list := []files.File{{Name: reading.FileName, Data: text.Bytes()}}
	film, err := filmFiles(res, show)
	if err != nil {
		return nil, err
	}
	list = append(list, film...)
	used := map[string]bool{}
	for _, s := range res.Scenes {
		photo, ok := photoOf(res.Reading, s.File)
		if !ok || s.Picture == nil {
			continue
		}
		var b bytes.Buffer
		pic := report.Annotate(report.Scene(s.Picture, s.Frame, photo, res.Reading, show))
		if err := png.Encode(&b, pic); err != nil {
			return nil, fmt.Errorf("drawing %s: %w", s.File, err)
		}
		name := drawnName(s.File, ".read.png", used)
		list = append(list, files.File{Name: name, Data: b.Bytes()})
	}
	return list, nil
}

// filmOutputs are what --out writes of a film besides.
var filmOutputs = [...]string{"film.png", "film.svg", "settling.apng"}

// filmFiles are the settling picture and the animation of a film.
func filmFiles(res *jar.Result, show report.Options) (list []files.File, err error) {
	if _, err := report.Chart("film", *res, show); err != nil {
		return nil, nil // none, or too short
	}
	for _, f := range []struct {
		name string
		draw func(*bytes.Buffer) error
	}{
		{filmOutputs[0], func(b *bytes.Buffer) error { return report.ChartPNG(b, "film", *res, show) }},
		{filmOutputs[1], func(b *bytes.Buffer) error { return report.ChartSVG(b, "film", *res, show) }},
		{filmOutputs[2], func(b *bytes.Buffer) error { return report.Animation(b, *res, show.Language) }},
	} {
		var b bytes.Buffer
		if err := f.draw(&b); err != nil {
			return nil, fmt.Errorf("drawing %s: %w", f.name, err)
		}
		list = append(list, files.File{Name: f.name, Data: b.Bytes()})
	}
	return list, nil
}

// drawnName is the name of an annotated photo.
func drawnName(file, suffix string, used map[string]bool) string {
	name := strings.TrimSuffix(file, filepath.Ext(file)) + suffix
	if used[name] {
		name = file + suffix
	}
	used[name] = true
	return name
}

func photoOf(r reading.Reading, file string) (reading.Photo, bool) {
	for _, p := range r.Photos {
		if p.File == file {
			return p, true
		}
	}
	return reading.Photo{}, false
}
