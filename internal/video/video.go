// Package video takes single pictures out of a film with an installed ffmpeg.
package video

import (
	"context"
	"errors"
	"math"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"time"

	"mudline/internal/words"
)

// ErrNoProgram says that ffmpeg is not installed.
var ErrNoProgram = errors.New("ffmpeg is not installed")

// Is says whether a file is a film, by its name.
func Is(name string) bool {
	switch strings.ToLower(filepath.Ext(name)) {
	case ".mp4", ".mov", ".m4v", ".mkv", ".webm", ".avi", ".3gp":
		return true
	}
	return false
}

// Span is the real time of a film: when after shaking its first picture was taken, and
// how long it was from that to the last.
type Span struct{ Began, Lasts time.Duration }

// Picture is one picture of a film.
type Picture struct {
	// Elapsed is the time since shaking, and SD its standard deviation: it was taken
	// somewhere in the span that one picture of the film stands for.
	Elapsed, SD time.Duration
	// InFilm is where in the film it stands.
	InFilm time.Duration
}

// Moments are up to n pictures of a film of so many pictures, evenly spread in the
// logarithm of the time since shaking, none of them twice. length is that of the film
// as it is played.
func Moments(s Span, length time.Duration, pictures, n int) []Picture {
	if pictures < 1 || n < 1 || length <= 0 || s.Lasts <= 0 {
		return nil
	}
	step := s.Lasts.Seconds() / float64(max(pictures-1, 1))
	first := math.Max(s.Began.Seconds(), 1)
	last := s.Began.Seconds() + s.Lasts.Seconds()
	var out []Picture
	before := -1
	for i := range n {
		at := first * math.Pow(last/first, float64(i)/float64(max(n-1, 1)))
		k := min(int(math.Round((at-s.Began.Seconds())/step)), pictures-1)
		if k <= before {
			continue
		}
		before = k
		out = append(out, Picture{
			Elapsed: s.Began + seconds(float64(k)*step),
			SD:      seconds(math.Max(1, step/math.Sqrt(12))),
			InFilm:  time.Duration((float64(k) + 0.25) / float64(pictures) * float64(length)),
		})
	}
	if len(out) > 0 && out[0].Elapsed <= 0 {
		out = out[1:]
	}
	return out
}

func seconds(s float64) time.Duration { return time.Duration(s * float64(time.Second)) }

// Measure gives how long a film is as it is played, and how many pictures it has.
func Measure(ctx context.Context, path string) (length time.Duration, pictures int, err error) {
	out, err := run(ctx, "ffprobe", "-v", "error", "-select_streams", "v:0", "-show_entries", "stream=avg_frame_rate,nb_frames:format=duration", "-of", "default=noprint_wrappers=1", path)
	if err != nil {
		return 0, 0, err
	}
	said := map[string]string{}
	for _, line := range strings.Split(out, "\n") {
		if key, value, ok := strings.Cut(strings.TrimSpace(line), "="); ok {
			said[key] = value
		}
	}
	long, _ := strconv.ParseFloat(said["duration"], 64)
	over, under, _ := strings.Cut(said["avg_frame_rate"], "/")
	a, _ := strconv.ParseFloat(over, 64)
	b, _ := strconv.ParseFloat(under, 64)
	count, _ := strconv.Atoi(said["nb_frames"])
	if count == 0 && b > 0 {
		count = int(math.Round(long * a / b))
	}
	if !(long > 0) || count < 1 {
		return 0, 0, words.Say("film.none-in-file", words.Name("file", filepath.Base(path)))
	}
	return seconds(long), count, nil
}

// Take writes one picture of a film as a JPEG file.
func Take(ctx context.Context, path string, p Picture, to string) error {
	_, err := run(ctx, "ffmpeg", "-v", "error", "-nostdin", "-y", "-ss", strconv.FormatFloat(p.InFilm.Seconds(), 'f', 4, 64), "-i", path, "-frames:v", "1", "-q:v", "2", to)
	return err
}

func run(ctx context.Context, name string, args ...string) (string, error) {
	program, err := exec.LookPath(name)
	if err != nil {
		return "", ErrNoProgram
	}
	var said, wrong strings.Builder
	cmd := exec.CommandContext(ctx, program, args...)
	cmd.Stdout, cmd.Stderr = &said, &wrong
	if err := cmd.Run(); err != nil {
		if ctx.Err() != nil {
			return "", ctx.Err()
		}
		line, _, _ := strings.Cut(strings.TrimSpace(wrong.String()), "\n")
		return "", words.Say("film.cannot-read", words.Name("file", filepath.Base(args[len(args)-1])), words.Name("why", line))
	}
	return said.String(), nil
}
