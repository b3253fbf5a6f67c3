// Release makes everything that people install mudline from: archives, packages, a
// container image, the static page, a bill of materials and checksums. The same source
// gives the same bytes: nothing in them hangs on the clock, the machine or the order of a
// folder. "make release" calls it.
package main

import (
	"context"
	"flag"
	"fmt"
	"os"
	"os/signal"
	"strings"
	"time"
)

// release is one release in the making.
type release struct {
	version, commit string
	when            time.Time // of the commit; the time of every file
	out, work       string    // folders: what is handed out, and what is only needed on the way
	nfpm            string    // the packager, as "go run" takes it
	papers          []file    // man pages and completions
}

// target is what a program is built for.
type target struct{ os, arch string }

func (t target) String() string { return t.os + "-" + t.arch }

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
	defer stop()
	if err := run(ctx, os.Args[1:]); err != nil {
		fmt.Fprintln(os.Stderr, "error:", err)
		os.Exit(1)
	}
}

func run(ctx context.Context, args []string) error {
	f := flag.NewFlagSet("release", flag.ContinueOnError)
	var r release
	f.StringVar(&r.version, "version", "0.0.0", "the version, without v")
	f.StringVar(&r.commit, "commit", "", "the commit it is made from")
	f.StringVar(&r.out, "out", "dist", "the folder for the release; it is emptied first")
	f.StringVar(&r.nfpm, "nfpm", "", "the packager, as go run takes it; without it there is no .deb and no .rpm")
	epoch := f.Int64("epoch", 0, "the commit's time, in seconds since 1970")
	platforms := f.String("platforms", "linux/amd64 linux/arm64 darwin/amd64 darwin/arm64 windows/amd64 windows/arm64", "what to build for")
	if err := f.Parse(args); err != nil {
		return err
	}
	r.when = time.Unix(*epoch, 0).UTC()
	var targets []target
	for _, p := range strings.Fields(*platforms) {
		system, arch, ok := strings.Cut(p, "/")
		if !ok {
			return fmt.Errorf("%q is no platform: write system/processor", p)
		}
		targets = append(targets, target{system, arch})
	}
	return r.make(ctx, targets)
}

// make builds all of it into r.out.
func (r *release) make(ctx context.Context, targets []target) error {
	for _, err := range []error{os.RemoveAll(r.out), os.MkdirAll(r.out, 0o755)} {
		if err != nil {
			return err
		}
	}
	work, err := os.MkdirTemp("", "release-")
	if err != nil {
		return err
	}
	defer os.RemoveAll(work)
	r.work = work
	if r.papers, err = r.makePapers(ctx); err != nil {
		return err
	}
	var linux []built
	for _, t := range targets {
		b, err := r.build(ctx, t)
		if err != nil {
			return fmt.Errorf("%s: %w", t, err)
		}
		if err := r.archive(b); err != nil {
			return fmt.Errorf("%s: %w", t, err)
		}
		if err := r.bill(b); err != nil {
			return fmt.Errorf("%s: %w", t, err)
		}
		if t.os == "linux" {
			linux = append(linux, b)
			if err := r.packages(ctx, b); err != nil {
				return fmt.Errorf("%s: %w", t, err)
			}
		}
		fmt.Printf("%-14s %4.1f MB\n", t, float64(len(b.program))/1e6)
	}
	if len(linux) > 0 {
		if err := r.image(linux); err != nil {
			return fmt.Errorf("image: %w", err)
		}
	}
	if err := r.page(ctx); err != nil {
		return fmt.Errorf("page: %w", err)
	}
	return r.checksums()
}
