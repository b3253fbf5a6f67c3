package main

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"time"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"mudline/internal/jar"
	"mudline/internal/record"
	"mudline/internal/report"
	"mudline/internal/video"
	"mudline/internal/words"
	"mudline/texture"
)

// filmFlags tell the real time of a film that a camera put together by itself.
type filmFlags struct{ began, lasts string }

func (f *filmFlags) add(flags *pflag.FlagSet) {
	flags.StringVar(&f.began, "began", "", "")
	flags.StringVar(&f.lasts, "lasts", "", "")
}

// filmPictures is how many pictures are taken out of a film.
const filmPictures = 40

// span reads the options. Without them a film is refused: the times in its file are
// those of the film, not of the settling.
func (f filmFlags) span(path string) (s video.Span, err error) {
	if f.began == "" || f.lasts == "" {
		return s, badInput(words.Say("command.do-state-both"), words.Say("film.no-times", words.Name("file", filepath.Base(path))))
	}
	if s.Began, _, err = record.ParseElapsed(f.began); err != nil {
		return s, badOption("--began", err)
	}
	if s.Lasts, _, err = record.ParseElapsed(f.lasts); err != nil {
		return s, badOption("--lasts", err)
	}
	if s.Began+s.Lasts > record.MaxElapsed {
		return s, badInput(words.Say("command.do-check-lasts"), words.Say("film.too-long", words.Whole("days", int(record.MaxElapsed.Hours()/24))))
	}
	return s, nil
}

// isFilm says whether the one path given is a film. Options of films are refused
// without one.
func (f filmFlags) isFilm(paths []string) (bool, error) {
	films := 0
	for _, p := range paths {
		if video.Is(p) {
			films++
		}
	}
	switch {
	case films > 0 && len(paths) > 1:
		return false, badInput(words.Say("command.do-read-film-alone"), words.Say("film.with-others"))
	case films == 0 && (f.began != "" || f.lasts != ""):
		return false, badInput(words.Say("command.do-name-film"), words.Say("film.none-named"))
	}
	return films == 1, nil
}

// takePictures takes the pictures out of a film into a folder, and gives them as the
// photos of a jar with the times they were taken at.
func (f filmFlags) takePictures(ctx context.Context, path, folder string) (*photoSet, map[string]video.Picture, error) {
	span, err := f.span(path)
	if err != nil {
		return nil, nil, err
	}
	if _, err := os.Stat(path); err != nil {
		return nil, nil, badInput(words.Say("command.do-check-name"), words.Say("film.not-there", words.Name("file", path)))
	}
	length, pictures, err := video.Measure(ctx, path)
	if err != nil {
		return nil, nil, filmError(err)
	}
	set := &photoSet{folder: filepath.Dir(path)}
	stem := strings.TrimSuffix(filepath.Base(path), filepath.Ext(path))
	times := map[string]video.Picture{}
	for i, p := range video.Moments(span, length, pictures, filmPictures) {
		to := filepath.Join(folder, fmt.Sprintf("%s-%03d.jpg", stem, i+1))
		if err := video.Take(ctx, path, p, to); err != nil {
			return nil, nil, filmError(err)
		}
		if _, err := os.Stat(to); err != nil {
			continue // the film ends a picture earlier than it says
		}
		set.paths = append(set.paths, to)
		times[filepath.Base(to)] = p
	}
	if len(set.paths) == 0 {
		return nil, nil, badInput(words.Say("command.do-check-film"), words.Say("film.no-picture", words.Name("file", filepath.Base(path))))
	}
	return set, times, nil
}

func filmError(err error) error {
	if errors.Is(err, video.ErrNoProgram) {
		return badInput(words.Say("command.do-install-ffmpeg"), words.Say("film.no-ffmpeg"))
	}
	if errors.Is(err, context.Canceled) {
		return err
	}
	return badInput(words.Say("command.do-check-film"), words.Of(err))
}

// tell states the times of the pictures.
func tell(r *record.Record, times map[string]video.Picture) {
	for name, p := range times {
		r.Edit(name, func(photo *record.Photo) { photo.Elapsed, photo.ElapsedSD = p.Elapsed, p.SD })
	}
}

// How many photos the plan of a film may have.
const fewestFilmed, usualFilmed, mostFilmed = jar.FilmFrom, 40, 200

// filmPlan is the plan of a film of n photos.
func filmPlan(n int) report.FilmPlan {
	var p report.FilmPlan
	for _, s := range texture.FilmMoments(n) {
		p.Moments = append(p.Moments, time.Duration(s*float64(time.Second)))
	}
	return p
}

// filmTimes prints the plan of a film.
func filmTimes(cmd *cobra.Command, o timesOptions) error {
	n := usualFilmed
	if cmd.Flags().Changed("photos") {
		n = o.photos
	}
	if n < fewestFilmed || n > mostFilmed {
		return outside("--photos", n, fewestFilmed, mostFilmed)
	}
	if o.calendar != "" {
		return badInput(words.Say("command.do-leave-one-out"), words.Say("film.no-calendar"))
	}
	start, err := o.start(time.Now())
	if err != nil {
		return err
	}
	if o.json {
		return writeFilmJSON(cmd.OutOrStdout(), filmPlan(n), start)
	}
	return report.WriteFilm(cmd.OutOrStdout(), filmPlan(n), start, report.Options{Language: spoken(cmd), Columns: columnsOf(cmd.OutOrStdout())})
}
