// Command accuracy reads every rendered jar below the folders it is given,
// compares the readings with each jar's truth.json and prints tables: jar by
// jar, photo by photo, and the figures the project holds itself to.
package main

import (
	"context"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"time"

	"mudline/imaging"
	"mudline/internal/engine"
	"mudline/internal/jar"
	"mudline/internal/jartest"
	"mudline/internal/record"
)

func main() {
	photos := flag.Bool("photos", false, "print a line for every photo")
	single := flag.Bool("single", false, "read every photo by itself")
	flag.Parse()
	if err := run(flag.Args(), *photos, *single); err != nil {
		fmt.Fprintln(os.Stderr, "accuracy:", err)
		os.Exit(1)
	}
}

func run(roots []string, photos, single bool) error {
	var truths []*jartest.Truth
	for _, root := range roots {
		ts, err := jartest.ReadTruths(root)
		if err != nil {
			return err
		}
		truths = append(truths, ts...)
	}
	if len(truths) == 0 {
		return fmt.Errorf("no truth.json found below %v", roots)
	}
	eng := engine.Default()
	fmt.Printf("engine %s, %d jars, rendered\n", eng.Name(), len(truths))
	var sum summary
	start := time.Now()
	for _, t := range truths {
		for _, part := range parts(t, single) {
			res, err := readTruth(part, eng)
			sum.add(part, res, err, photos)
		}
	}
	sum.print()
	fmt.Printf("%.2f s a jar\n", time.Since(start).Seconds()/float64(len(truths)))
	return nil
}

// parts is the jar whole, or one jar for each of its photos.
func parts(t *jartest.Truth, single bool) []*jartest.Truth {
	if !single {
		return []*jartest.Truth{t}
	}
	var out []*jartest.Truth
	for i := range t.Photos {
		one := *t
		one.Photos = t.Photos[i : i+1]
		out = append(out, &one)
	}
	return out
}

// readTruth reads a jar as a person would who knows its depth and temperature.
func readTruth(t *jartest.Truth, eng imaging.Engine) (*jar.Result, error) {
	shaken, err := record.ParseMoment(t.ShakeTime)
	if err != nil {
		return nil, err
	}
	rec := record.Record{Name: t.Name, WaterDepthMM: t.WaterHeightMM, TempC: &t.TempC, Shaken: shaken}
	var files []jar.File
	for _, p := range t.Photos {
		path := filepath.Join(t.Dir, p.File)
		files = append(files, jar.File{Name: p.File, Data: func() ([]byte, error) { return os.ReadFile(path) }})
	}
	return jar.Analyse(context.Background(), files, rec, jar.Options{Engine: eng})
}
