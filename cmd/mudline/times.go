package main

import (
	"crypto/rand"
	"fmt"
	"io"
	"os"
	"strconv"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"mudline/internal/calendar"
	"mudline/internal/files"
	"mudline/internal/record"
	"mudline/internal/report"
	"mudline/internal/words"
	"mudline/texture"
)

// timesOptions are the options of the times command.
type timesOptions struct {
	waterDepth, temp, fill, soil, shaken, name, calendar string
	photos                                               int
	film, json                                           bool
}

const (
	minPhotos, maxPhotos = 1, texture.MostMoments
	minFill, maxFill     = 0.02, 0.6
)

func timesCommand() *cobra.Command {
	var o timesOptions
	cmd := &cobra.Command{
		Use: "times",
		Example: `  mudline times --water-depth 130mm --temp 18C
  mudline times --water-depth "5 1/8 in" --fill 1/5 --photos 5 --calendar reminders.ics`,
		Args: func(_ *cobra.Command, args []string) error {
			if len(args) > 0 {
				return badInput(words.Say("command.do-mudline-times-help-lists"), words.Say("command.times-takes-options-only", words.Name("given", args[0])))
			}
			return nil
		},
		RunE: func(cmd *cobra.Command, _ []string) error {
			if o.film {
				return filmTimes(cmd, o)
			}
			return times(cmd, o)
		},
	}
	f := cmd.Flags()
	f.StringVar(&o.waterDepth, "water-depth", "", "")
	f.StringVar(&o.temp, "temp", "", "")
	f.StringVar(&o.fill, "fill", "", "")
	f.StringVar(&o.soil, "soil", "", "")
	f.BoolVar(&o.film, "film", false, "")
	f.IntVar(&o.photos, "photos", 3, "")
	f.StringVar(&o.shaken, "shaken", "", "")
	f.StringVar(&o.name, "name", "", "")
	f.BoolVar(&o.json, "json", false, "")
	f.StringVar(&o.calendar, "calendar", "", "")
	return cmd
}

func times(cmd *cobra.Command, o timesOptions) error {
	plan, show, err := o.plan()
	if err != nil {
		return err
	}
	show.Language, show.Columns = spoken(cmd), columnsOf(cmd.OutOrStdout())
	start, err := o.start(time.Now())
	if err != nil {
		return err
	}
	if err := mayReplace(cmd, o.calendar); err != nil {
		return err
	}
	if o.calendar != "" {
		if err := writeCalendar(o.calendar, events(plan, o.name, start, show.Language)); err != nil {
			return err
		}
	}
	if o.json {
		err = writeTimesJSON(cmd.OutOrStdout(), plan, start)
	} else {
		err = report.WriteTimes(cmd.OutOrStdout(), plan, start, show)
	}
	if err != nil {
		return err
	}
	if o.calendar != "" {
		_, err = fmt.Fprintf(cmd.ErrOrStderr(), "\n%s\n", show.Language.Text("command.reminders-in", words.Name("file", o.calendar)))
	}
	return err
}

// start is when the jar is set down; zero if nobody asked for a clock time.
func (o timesOptions) start(now time.Time) (time.Time, error) {
	if o.shaken == "" {
		if o.calendar == "" {
			return time.Time{}, nil
		}
		return now.Truncate(time.Second), nil
	}
	m, err := record.ParseMoment(o.shaken)
	if err != nil {
		return time.Time{}, badOption("--shaken", err)
	}
	if m.HasOffset {
		return m.Time, nil
	}
	y, mo, d := m.Time.Date()
	h, mi, s := m.Time.Clock()
	return time.Date(y, mo, d, h, mi, s, 0, time.Local), nil
}

// share reads how full the jar is of soil, as a share of the water depth; 0 if
// that was not given.
func (o timesOptions) share(depthMM float64) (float64, error) {
	var share float64
	given := "--fill " + o.fill
	switch {
	case o.fill != "" && o.soil != "":
		return 0, badInput(words.Say("command.do-give-one"), words.Say("command.fill-soil-say-same"))
	case o.fill != "":
		var err error
		if share, err = parseShare(o.fill); err != nil {
			return 0, badInput(words.Say("command.do-write-example-1-5"), ofOption("--fill", err))
		}
	case o.soil != "":
		mm, _, err := record.ParseLength(o.soil)
		if err != nil {
			return 0, badOption("--soil", err)
		}
		share, given = mm/depthMM, "--soil "+o.soil
	default:
		return 0, nil
	}
	if share < minFill || share > maxFill {
		return 0, badInput(words.Say("command.do-measure-loose-dry-soil", words.Whole("depthmm", minFill*depthMM), words.Whole("depthmmb", maxFill*depthMM)), words.Say("command.water-depth-outside", words.Name("given", given), words.Whole("share", 100*share), words.Whole("minfill", 100*minFill), words.Whole("maxfill", 100*maxFill)))
	}
	return share, nil
}

// parseShare reads "1/5", "20%" or "0.2".
func parseShare(s string) (float64, error) {
	text, percent := strings.CutSuffix(strings.TrimSpace(s), "%")
	top, bottom, isFraction := strings.Cut(text, "/")
	v, err := strconv.ParseFloat(strings.TrimSpace(top), 64)
	if err != nil {
		return 0, words.Say("command.no-share", words.Name("given", s))
	}
	if isFraction {
		d, err := strconv.ParseFloat(strings.TrimSpace(bottom), 64)
		if err != nil || d <= 0 {
			return 0, words.Say("command.no-share", words.Name("given", s))
		}
		v /= d
	}
	if percent {
		v /= 100
	}
	if !(v >= 0 && v <= 1) {
		return 0, words.Say("command.outside-0-1", words.Name("given", s))
	}
	return v, nil
}

// events are the reminders for a plan.
func events(plan report.Times, name string, start time.Time, l *words.Language) []calendar.Event {
	out := make([]calendar.Event, len(plan.Photos))
	for i, p := range plan.Photos {
		out[i] = calendar.Photo(name, start, p, l)
	}
	return out
}

// writeCalendar writes the reminders whole or not at all.
func writeCalendar(path string, events []calendar.Event) error {
	if info, err := os.Stat(path); err == nil && !info.Mode().IsRegular() {
		return badInput(words.Say("command.do-name-file"), words.Say("command.no-ordinary-file", words.Name("path", path)))
	}
	text := calendar.Encode(events, time.Now(), rand.Text())
	if err := files.Write(path, func(w io.Writer) error { _, err := w.Write(text); return err }); err != nil {
		return badInput(words.Say("command.do-choose-another-file-calendar"), words.Say("command.cannot-write", words.Name("path", path), words.Because("why", err)))
	}
	return nil
}
