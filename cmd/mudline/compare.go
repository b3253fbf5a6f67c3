package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"image"
	"io/fs"
	"os"
	"path/filepath"

	"github.com/spf13/cobra"

	"mudline/internal/compare"
	"mudline/internal/engine"
	"mudline/internal/files"
	"mudline/internal/jar"
	"mudline/internal/reading"
	"mudline/internal/record"
	"mudline/internal/report"
	"mudline/internal/words"
)

// compareOptions are the options of the compare command.
type compareOptions struct {
	sort, report  string
	format, chart string
	json, csv     bool
}

func (a app) compareCommand() *cobra.Command {
	var o compareOptions
	cmd := &cobra.Command{
		Use: "compare",
		Example: `  mudline compare plot-7/ plot-9/ plot-12/ --sort clay
  mudline compare plot-7-read/ plot-9-read/reading.json --csv`,
		Args: func(_ *cobra.Command, args []string) error {
			if len(args) < 2 {
				return badInput(words.Say("command.do-mudline-compare-folder-folder"), words.Say("command.two-jars-more-needed", words.Whole("n", len(args))))
			}
			return nil
		},
		RunE: func(cmd *cobra.Command, args []string) error { return a.compare(cmd, args, o) },
	}
	f := cmd.Flags()
	f.StringVar(&o.sort, "sort", compare.ByDifference, "")
	f.StringVar(&o.report, "report", "", "")
	f.StringVar(&o.format, "format", "", "")
	f.StringVar(&o.chart, "chart", report.ComparedCharts[0], "")
	f.BoolVar(&o.json, "json", false, "")
	f.BoolVar(&o.csv, "csv", false, "")
	return cmd
}

func (a app) compare(cmd *cobra.Command, paths []string, o compareOptions) error {
	if o.json && o.csv {
		return badInput(words.Say("command.do-choose-one"), words.Say("command.json-csv-exclude-each"))
	}
	if err := o.check(); err != nil {
		return err
	}
	if o.format == "" && cmd.Flags().Changed("chart") {
		return badInput(words.Say("command.do-add-format-svg-format"), words.Say("command.chart-needs-form-be"))
	}
	if err := mayReplace(cmd, o.report); err != nil {
		return err
	}
	if _, err := compare.Of(nil, o.sort); err != nil {
		return badOption("--sort", err)
	}
	sources, err := openSources(cmd, paths)
	if err != nil {
		return err
	}
	jars, pictures, err := a.readSources(cmd, sources)
	if err != nil {
		return err
	}
	c, err := compare.Of(jars, o.sort)
	if err != nil {
		return err
	}
	if err := o.write(cmd, c, jars, pictures); err != nil {
		return err
	}
	return refusedJars(c)
}

// refusalOf makes a refusal of one jar, beside which others stand, of any other error.
func refusalOf(err error) *reading.Refusal {
	var mistake *record.Mistake
	var unread *files.ReadError
	switch {
	case errors.As(err, &mistake):
		return reading.Refuse(reading.StatedValue, words.Of(err), words.Say("command.do-correct-in", words.Name("file", record.FileName)))
	case errors.As(err, &unread), files.OfDisk(err):
		return reading.Refuse(reading.UnreadableFile, words.Of(err), words.Say("command.do-see-disk"))
	}
	return reading.Refuse(reading.ProgramFault, words.Of(err), words.Say("command.do-report-fault"))
}

// refusedJars is the refusal to end with when jars could not be read, or a fault of the
// program at one of them.
func refusedJars(c compare.Comparison) error {
	var names []string
	failed := 0
	for _, r := range c.Jars {
		if r.Refused != nil {
			names = append(names, r.Name)
			if r.Refused.Code == reading.ProgramFault {
				failed++
			}
		}
	}
	switch {
	case len(names) == 0:
		return nil
	case failed > 0:
		return words.Say("command.program-failed", words.Told("jars", countJars(failed)))
	}
	return reading.Refuse(reading.NotRead, words.Say("command.jars-not-read", words.Whole("some", len(names)), words.Whole("all", len(c.Jars)), words.Names("list", "", names)),
		words.Say("command.do-see-table"))
}

// source is one path of the comparison: photos to read, or a jar done already.
type source struct {
	jar    compare.Jar
	photos *photoSet
	rec    *record.Record
	// picture is the jar as its last photo shows it, small; nil without one.
	picture image.Image
}

// strayFile is a file that is no reading, and is not called one.
type strayFile struct{ error }

func (s strayFile) Unwrap() error { return s.error }

// openSources looks at every path before any photo is read, so that a mistake in
// the last shows at once. Stray files are left out where jars enough remain.
func openSources(cmd *cobra.Command, paths []string) ([]source, error) {
	var out []source
	var strays []strayFile
	seen := map[string]string{}
	for _, path := range paths {
		place := placeOf(path)
		if earlier, ok := seen[place]; ok {
			if earlier != path {
				return nil, badInput(words.Say("command.do-name-each-jar-once"), words.Say("command.same-jar", words.Name("earlier", earlier), words.Name("path", path)))
			}
			return nil, badInput(words.Say("command.do-name-each-jar-once"), words.Say("command.named-twice", words.Name("path", path)))
		}
		seen[place] = path
		s, err := openSource(cmd, path)
		var refusal *reading.Refusal
		var stray strayFile
		switch {
		case errors.As(err, &stray):
			strays = append(strays, stray)
			continue
		case errors.As(err, &refusal):
			s.jar = compare.Jar{Name: nameOf(path), Refused: refusal}
		case err != nil:
			return nil, err
		}
		s.jar.Source = path
		out = append(out, s)
	}
	if len(strays) > 0 && len(out) < 2 {
		return nil, strays[0]
	}
	for _, s := range strays {
		fmt.Fprintln(cmd.ErrOrStderr(), spoken(cmd).Text("command.left-out", words.Because("why", s)))
	}
	return out, nil
}

// placeOf is where a path leads: the same for a folder, the reading in it and a link.
func placeOf(path string) string {
	place, err := filepath.Abs(path)
	if err != nil {
		place = filepath.Clean(path)
	}
	if led, err := filepath.EvalSymlinks(place); err == nil {
		place = led
	}
	if filepath.Base(place) == reading.FileName {
		place = filepath.Dir(place)
	}
	return place
}

func openSource(cmd *cobra.Command, path string) (s source, err error) {
	info, err := os.Stat(path)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return s, badInput(words.Say("command.do-name-folders-photos-readings"), words.Say("command.does-not-exist", words.Name("path", path)))
	case err != nil:
		return s, badInput(words.Message{}, words.Say("command.cannot-read", words.Name("path", path), words.Because("why", err)))
	case !info.IsDir() && files.IsPhoto(filepath.Base(path)):
		return s, strayFile{badInput(words.Say("command.do-photos-jar-into-folder"), words.Say("command.single-photo", words.Name("path", path)))}
	case !info.IsDir():
		s.jar, err = readReading(path)
		var input *inputError
		if errors.As(err, &input) && filepath.Base(path) != reading.FileName {
			err = strayFile{err}
		}
		return s, err
	}
	s.photos, err = findPhotos([]string{path})
	var none *reading.Refusal
	if errors.As(err, &none) {
		file := filepath.Join(path, reading.FileName)
		if _, statErr := os.Stat(file); statErr == nil {
			s.photos = nil
			s.jar, err = readReading(file)
			return s, err
		}
		err = reading.Refuse(none.Code, none.Message(), words.Then(none.Help(), words.Say("command.do-or-folders-within")))
	}
	if err != nil {
		return source{}, err
	}
	s.rec, err = s.photos.record(cmd.ErrOrStderr(), spoken(cmd))
	return s, err
}

// readReading reads a reading.json; one that holds a refusal is a *reading.Refusal.
func readReading(path string) (compare.Jar, error) {
	data, err := files.Read(path, reading.MaxBytes)
	if err != nil {
		return compare.Jar{}, badInput(words.Message{}, words.Say("as-it-is", words.Because("text", err)))
	}
	r, err := reading.Decode(bytes.TrimPrefix(data, []byte("\ufeff"))) // some editors write it
	var refusal *reading.Refusal
	if errors.As(err, &refusal) {
		return compare.Jar{}, refusal
	}
	if err != nil {
		return compare.Jar{}, badInput(words.Say("command.do-name-reading-json-mudline"), words.Say("of-file", words.Name("file", path), words.Because("text", err)))
	}
	name := r.Jar
	if name == "" {
		name = nameOf(path)
	}
	return compare.Jar{Name: name, Reading: r}, nil
}

// nameOf names a jar after its folder.
func nameOf(path string) string {
	if filepath.Base(path) == reading.FileName {
		path = filepath.Dir(path)
	}
	if abs, err := filepath.Abs(path); err == nil {
		path = abs
	}
	return filepath.Base(path)
}

// readSources reads the photos of the jars that are not read yet; pictures are those of
// the jars by their sources.
func (a app) readSources(cmd *cobra.Command, sources []source) (out []compare.Jar, pictures map[string]image.Image, err error) {
	total, done := 0, 0
	for _, s := range sources {
		if s.photos != nil {
			total += len(s.photos.paths)
		}
	}
	bar := newProgress(cmd.ErrOrStderr(), spoken(cmd))
	defer bar.finish()
	pictures = map[string]image.Image{}
	for _, s := range sources {
		if s.photos != nil {
			if err := a.readSource(cmd.Context(), &s, func(n, _ int) { bar.step(done+n, total) }); err != nil {
				return nil, nil, err
			}
			done += len(s.photos.paths)
		}
		if s.picture != nil {
			pictures[s.jar.Source] = s.picture
		}
		out = append(out, s.jar)
	}
	return out, pictures, nil
}

// readSource fills in the jar of a source. What is wrong with one jar is no
// reason to lose the others; only an interruption ends the work.
func (a app) readSource(ctx context.Context, s *source, step func(done, total int)) error {
	s.jar.Name = s.rec.Name
	if s.jar.Name == "" {
		s.jar.Name = s.photos.name()
	}
	res, err := a.analyse(ctx, s.photos.files(), *s.rec, jar.Options{Engine: engine.Default(), Progress: step})
	if ctx.Err() != nil {
		return ctx.Err()
	}
	var refusal *reading.Refusal
	switch {
	case err == nil:
		s.jar.Reading = &res.Reading
		if n := len(res.Scenes); n > 0 && res.Scenes[n-1].Picture != nil {
			s.picture = thumbnail(jarOf(res.Scenes[n-1]))
		}
	case errors.As(err, &refusal):
		s.jar.Refused = refusal
	default:
		s.jar.Refused = refusalOf(err)
	}
	return nil
}
