// Command accuracy reads every rendered jar below the folders it is given,
// compares the readings with each jar's truth.json and prints, folder by folder,
// the figures the project holds itself to: unaided, with all true lines placed as
// a person would place them, and with only floor, water and deposit top placed.
package main

import (
	"flag"
	"fmt"
	"os"
	"time"

	"mudline/internal/engine"
	"mudline/internal/jartest"
)

func main() {
	var o options
	flag.BoolVar(&o.photos, "photos", false, "print a line for every photo")
	flag.BoolVar(&o.single, "single", false, "read every photo by itself")
	flag.BoolVar(&o.unaided, "unaided", false, "leave out the readings with lines placed")
	in := flag.String("light", "", "see the photos in another light or by another camera: dim, lamp, rough, ...")
	series := flag.Int("series", 0, "settle so many soils in place of reading pictures, and read films of them")
	moments := flag.Int("moments", 36, "of each such film")
	flag.Parse()
	if *series > 0 {
		if err := runSeries(*series, *moments); err != nil {
			fmt.Fprintln(os.Stderr, "accuracy:", err)
			os.Exit(1)
		}
		return
	}
	if *in != "" {
		var err error
		if o.light, err = lightNamed(*in); err != nil {
			fmt.Fprintln(os.Stderr, "accuracy:", err)
			os.Exit(2)
		}
	}
	roots := flag.Args()
	if len(roots) == 0 {
		roots = []string{"testdata/jars"}
	}
	for _, root := range roots {
		if err := run(root, o); err != nil {
			fmt.Fprintln(os.Stderr, "accuracy:", err)
			os.Exit(1)
		}
	}
}

type options struct {
	photos, single, unaided bool
	light                   *light // nil for photos as they are
}

func run(root string, o options) error {
	truths, err := jartest.ReadTruths(root)
	if err != nil {
		return err
	}
	if len(truths) == 0 {
		return fmt.Errorf("no truth.json found below %s", root)
	}
	eng := engine.Default()
	fmt.Printf("%s: engine %s, %d jars, rendered", root, eng.Name(), len(truths))
	if o.light != nil {
		fmt.Printf(", changed afterwards: %s", o.light.name)
	}
	fmt.Println()
	asked := modes
	if o.unaided {
		asked = modes[:1]
	}
	sums := make([]summary, len(asked))
	start := time.Now()
	for _, t := range truths {
		for _, part := range parts(t, o.single) {
			for i, got := range readIn(asked, part, eng, o.light) {
				sums[i].add(part, got, o.photos)
			}
		}
	}
	for i := range asked {
		fmt.Printf("\n== %s: %s\n", root, asked[i].name)
		sums[i].print()
	}
	fmt.Printf("\n%.2f s a jar\n\n", time.Since(start).Seconds()/float64(len(truths)))
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
