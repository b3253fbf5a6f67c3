package main

import (
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"

	"github.com/spf13/cobra"

	"mudline/internal/advice"
	"mudline/internal/engine"
	"mudline/internal/jar"
	"mudline/internal/reading"
	"mudline/internal/record"
	"mudline/internal/report"
	"mudline/internal/video"
	"mudline/internal/words"
)

// readOptions are the options of the read command.
type readOptions struct {
	stated  statedFlags
	series  seriesFlags
	film    filmFlags
	json    bool
	out     string
	explain bool
	pieces  pieceFlags
}

func (a app) readCommand() *cobra.Command {
	var o readOptions
	cmd := &cobra.Command{
		Use: "read",
		Example: `  mudline read plot-7/
  mudline read plot-7/ --water-depth "5 1/8 in" --temp 68F --out plot-7-read/
  mudline read a_1min.jpg b_2h.jpg c_2d.jpg --json
  mudline read plot-7/ --line b_2h.jpg:deposit-top=1147px
  mudline read plot-7/ --report plot-7.html
  mudline read plot-7/ --report plot-7.html --language es
  mudline read plot-7/ --format svg --chart triangle > triangle.svg`,
		Args: func(_ *cobra.Command, args []string) error {
			if len(args) == 0 {
				return badInput(words.Say("command.do-mudline-read-folder-mudline"), words.Say("command.no-photos-named"))
			}
			return nil
		},
		RunE: func(cmd *cobra.Command, args []string) error { return a.read(cmd, args, o) },
	}
	f := cmd.Flags()
	o.stated.add(f)
	o.series.add(f)
	o.film.add(f)
	f.BoolVar(&o.json, "json", false, "")
	f.StringVar(&o.out, "out", "", "")
	f.BoolVar(&o.explain, "explain", false, "")
	o.pieces.add(f)
	return cmd
}

func (a app) read(cmd *cobra.Command, paths []string, o readOptions) error {
	if err := o.pieces.check(o.json); err != nil {
		return err
	}
	if err := o.mayWrite(cmd); err != nil {
		return err
	}
	photos, rec, done, err := o.photosOf(cmd, paths)
	defer done()
	if err != nil {
		return err
	}
	if err := o.stated.apply(rec, photos); err != nil {
		return err
	}
	if err := o.series.apply(rec, photos); err != nil {
		return err
	}
	opt := jar.Options{Engine: engine.Default()}
	if o.out != "" && len(photos.paths) >= jar.FilmFrom {
		if err := mayReplace(cmd, inFolder(o.out, filmOutputs[:]...)...); err != nil {
			return err
		}
		parts, err := openParts(o.out, cmd.ErrOrStderr(), spoken(cmd))
		if err != nil {
			return err
		}
		opt.Store = parts
		defer func() {
			if cmd.Context().Err() == nil {
				parts.finish()
			}
		}()
	}
	show := report.Options{Explain: o.explain, Inches: rec.Inches, Fahrenheit: rec.Fahrenheit, Language: spoken(cmd), Columns: columnsOf(cmd.OutOrStdout())}
	bar := newProgress(cmd.ErrOrStderr(), spoken(cmd))
	opt.Progress = bar.step
	res, err := a.analyse(cmd.Context(), photos.files(), *rec, opt)
	bar.finish()
	if err != nil {
		return o.refused(cmd, photos, *rec, show, err)
	}
	if res.Reading.Jar == "" {
		res.Reading.Jar = photos.name()
	}
	if o.out != "" {
		if err := writeResult(o.out, res, show); err != nil {
			return err
		}
	}
	printed, err := o.pieces.write(cmd.OutOrStdout(), report.ReportInput{Result: *res, Cautions: advice.Cautions(), Options: show}, o.out)
	if err != nil {
		return err
	}
	if !printed {
		if err := write(cmd.OutOrStdout(), res.Reading, o.json, show); err != nil {
			return err
		}
	}
	return o.tellFiles(cmd.ErrOrStderr(), spoken(cmd))
}

// mayWrite looks whether the files to write are free, or the program's own.
func (o readOptions) mayWrite(cmd *cobra.Command) error {
	names := []string{reading.FileName}
	if o.pieces.format != "" {
		names = append(names, o.pieces.fileName())
	}
	return mayReplace(cmd, append(inFolder(o.out, names...), o.pieces.report)...)
}

// photosOf finds the photos and what is recorded of their jar; those of a film are taken
// out of it, and removed by done.
func (o readOptions) photosOf(cmd *cobra.Command, paths []string) (photos *photoSet, rec *record.Record, done func(), err error) {
	done = func() {}
	film, err := o.film.isFilm(paths)
	if err != nil {
		return nil, nil, done, err
	}
	var times map[string]video.Picture
	if film {
		folder, err := os.MkdirTemp("", "mudline-")
		if err != nil {
			return nil, nil, done, err
		}
		done = func() { _ = os.RemoveAll(folder) }
		photos, times, err = o.film.takePictures(cmd.Context(), paths[0], folder)
		if err != nil {
			return nil, nil, done, err
		}
	} else if photos, err = findPhotos(paths); err != nil {
		return nil, nil, done, err
	}
	if rec, err = photos.record(cmd.ErrOrStderr(), spoken(cmd)); err != nil {
		return nil, nil, done, err
	}
	tell(rec, times)
	return photos, rec, done, nil
}

// refused writes the report of a refused jar where one was asked for, and gives
// back the refusal.
func (o readOptions) refused(cmd *cobra.Command, photos *photoSet, rec record.Record, show report.Options, err error) error {
	var refusal *reading.Refusal
	if !errors.As(err, &refusal) || !o.pieces.wanted() {
		return err
	}
	name := rec.Name
	if name == "" {
		name = photos.name()
	}
	in := report.RefusedInput(name, refusal, photos.files(), show)
	in.Cautions = advice.Cautions()
	_, failed := o.pieces.write(cmd.OutOrStdout(), in, o.out)
	return errors.Join(err, failed)
}

// tellFiles says which files were written.
func (o readOptions) tellFiles(w io.Writer, l *words.Language) (err error) {
	if o.out != "" {
		_, err = fmt.Fprintf(w, "\n%s\n", l.Text("command.files-in", words.Name("folder", o.out)))
	}
	if o.out != "" && o.pieces.format != "" && err == nil {
		_, err = fmt.Fprintln(w, l.Text("command.the-piece-is", words.Name("form", o.pieces.format), words.Name("file", filepath.Join(o.out, o.pieces.fileName()))))
	}
	if o.pieces.report != "" && err == nil {
		_, err = fmt.Fprintln(w, l.Text("command.the-report-is", words.Name("file", o.pieces.report)))
	}
	return err
}

func write(w io.Writer, r reading.Reading, asJSON bool, show report.Options) error {
	if asJSON {
		return r.Encode(w)
	}
	return report.WriteTable(w, r, show)
}
