package page

import (
	"bytes"
	"log"
	"os"
	"path/filepath"
	"testing"

	"mudline/internal/browsertest"
)

func TestMain(m *testing.M) { os.Exit(run(m)) }

// run gives the browser a camera that looks at a settling jar.
func run(m *testing.M) int {
	names, err := filepath.Glob(filepath.Join("..", "..", "testdata", "film", "*.jpg"))
	if err != nil || len(names) == 0 {
		log.Print("the film of testdata is missing: ", err)
		return 1
	}
	var film bytes.Buffer
	// Every frame is another picture: the last round through the film has other
	// steps than the first at one frequency (the table that the encoder of
	// image/jpeg writes first).
	const rounds, step = 13, 27
	for round := range rounds {
		for _, n := range names {
			data, err := os.ReadFile(n)
			if err != nil {
				log.Print(err)
				return 1
			}
			data[step] += byte(round)
			film.Write(data)
		}
	}
	dir, err := os.MkdirTemp("", "film")
	if err != nil {
		log.Print(err)
		return 1
	}
	defer os.RemoveAll(dir)
	file := filepath.Join(dir, "film.mjpeg")
	if err := os.WriteFile(file, film.Bytes(), 0o644); err != nil {
		log.Print(err)
		return 1
	}
	browsertest.CameraShows(file)
	return browsertest.Run(m)
}
