// Command mutants changes the program on purpose, one place at a time, and counts how many
// of the changes a package's tests notice. What lives on shows where a test asserts little,
// or that the change makes no difference.
//
//	go run ./internal/mutants [-n 40] [-seed 1] [-first "-run=Quick"] [-flags "-short"] FOLDER...
//
// With -again FILE, what an earlier run printed, only what lived on then is tried.
//
// The files are left as they are: each change is built by an overlay.
package main

import (
	"context"
	"encoding/json"
	"errors"
	"flag"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"time"
)

func main() {
	count := flag.Int("n", 40, "changes `tried` in each folder, drawn at random")
	seed := flag.Uint64("seed", 1, "which are drawn")
	flags := flag.String("flags", "-short", "handed to go test")
	first := flag.String("first", "", "handed to go test before that: only what lives on is tested by -flags")
	again := flag.String("again", "", "a `file` with what an earlier run printed: only what lived on is tried")
	limit := flag.Duration("limit", 5*time.Minute, "a test that takes longer has noticed")
	flag.Parse()
	if flag.NArg() == 0 {
		flag.Usage()
		os.Exit(2)
	}
	earlier, err := os.ReadFile(*again)
	if err != nil && *again != "" {
		fmt.Fprintln(os.Stderr, "mutants:", err)
		os.Exit(1)
	}
	for _, folder := range flag.Args() {
		t := trial{folder: folder, runs: [][]string{strings.Fields(*flags)}, limit: *limit, earlier: string(earlier)}
		if *first != "" {
			t.runs = [][]string{strings.Fields(*first), strings.Fields(*flags)}
		}
		if err := t.run(*count, *seed); err != nil {
			fmt.Fprintf(os.Stderr, "mutants: %s: %v\n", folder, err)
			os.Exit(1)
		}
	}
}

// trial is the changes of one folder.
type trial struct {
	folder       string
	runs         [][]string // of flags, each a run of go test; the last is the whole
	limit        time.Duration
	earlier      string // what an earlier run printed; empty: all changes are tried
	alive, noted int
	unbuilt      int
}

// run tries count of the folder's changes and prints those that live on.
func (t *trial) run(count int, seed uint64) error {
	if out, err := t.test("", t.runs[len(t.runs)-1]); err != nil {
		return fmt.Errorf("its tests fail without a change: %w\n%s", err, out)
	}
	all, err := changes(t.folder)
	if err != nil {
		return err
	}
	rand.New(rand.NewPCG(seed, seed)).Shuffle(len(all), func(i, j int) { all[i], all[j] = all[j], all[i] })
	possible := len(all)
	for _, c := range all {
		if t.alive+t.noted == count {
			break
		}
		if t.earlier != "" && !strings.Contains(t.earlier, livesOn(c)) {
			continue
		}
		if err := t.try(c); err != nil {
			return err
		}
	}
	fmt.Printf("%s: %d of %d changes noticed, %d alive (of %d possible; %d did not build)\n",
		t.folder, t.noted, t.noted+t.alive, t.alive, possible, t.unbuilt)
	return nil
}

// try builds one change and runs the tests.
func (t *trial) try(c change) error {
	dir, err := os.MkdirTemp("", "mutants")
	if err != nil {
		return err
	}
	defer os.RemoveAll(dir)
	changed, original := filepath.Join(dir, "changed.go.txt"), c.path
	overlay, err := json.Marshal(map[string]any{"Replace": map[string]string{original: changed}})
	if err != nil {
		return err
	}
	list := filepath.Join(dir, "overlay.json")
	if err := errors.Join(os.WriteFile(changed, c.source, 0o644), os.WriteFile(list, overlay, 0o644)); err != nil {
		return err
	}
	var out string
	for _, flags := range t.runs {
		if out, err = t.test(list, flags); err != nil {
			break
		}
	}
	switch {
	case err == nil:
		t.alive++
		fmt.Print(livesOn(c))
	case strings.Contains(out, "[build failed]"), strings.Contains(out, "[setup failed]"):
		t.unbuilt++
	default:
		t.noted++
	}
	return nil
}

// livesOn is the line printed of a change that nothing noticed.
func livesOn(c change) string { return fmt.Sprintf("alive  %s\n", c) }

// test runs the folder's tests, with an overlay where one is named.
func (t *trial) test(overlay string, flags []string) (string, error) {
	// Tests that never end must end themselves: go, stopped, would leave them running.
	ctx, cancel := context.WithTimeout(context.Background(), t.limit+5*time.Minute)
	defer cancel()
	args := append([]string{"test", "-count=1", "-failfast", "-timeout", t.limit.String()}, flags...)
	if overlay != "" {
		args = append(args, "-overlay", overlay)
	}
	out, err := exec.CommandContext(ctx, "go", append(args, "./"+filepath.ToSlash(t.folder))...).CombinedOutput()
	return string(out), err
}
