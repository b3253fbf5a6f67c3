package main

import (
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// slurmScript gives the SLURM script of the help on folders, for other folders.
func slurmScript(t *testing.T, jars, results string) string {
	text, err := helpFiles.ReadFile("help/en/topics/folders.txt")
	require.NoError(t, err)
	block := regexp.MustCompile(`(?ms)^SLURM array.*?\n\n((?:    .*\n)+?)\n    sbatch`).FindSubmatch(text)
	require.NotNil(t, block, "the help shows a script for a SLURM array")
	script := regexp.MustCompile(`(?m)^    `).ReplaceAllString(string(block[1]), "")
	return strings.NewReplacer("/data/jars-read", results, "/data/jars", jars).Replace(script)
}

// The script is one that a shell takes.
func TestTheScriptForSLURMIsOne(t *testing.T) {
	script := slurmScript(t, "jars", "results")
	assert.True(t, strings.HasPrefix(script, "#!/bin/bash\n#SBATCH "), script)
	assert.Contains(t, script, "mudline batch jars --out results")
	bash, err := exec.LookPath("bash")
	if err != nil {
		t.Skip("bash is not on this machine")
	}
	cmd := exec.Command(bash, "-n")
	cmd.Stdin = strings.NewReader(script)
	out, err := cmd.CombinedOutput()
	require.NoError(t, err, string(out))
}

// Where SLURM is installed and runs, the script is given to it as it stands in the help,
// and its parts, merged, are the same bytes as one run.
func TestSLURMGivesWhatOneRunGives(t *testing.T) {
	for _, tool := range []string{"sbatch", "sinfo", "go"} {
		if _, err := exec.LookPath(tool); err != nil {
			t.Skipf("%s is not on this machine: the script is not run by SLURM", tool)
		}
	}
	if out, err := exec.Command("sinfo", "--noheader").CombinedOutput(); err != nil || len(out) == 0 {
		t.Skipf("no SLURM answers on this machine: %s", out)
	}
	manyPictures(t)
	dir := t.TempDir() // which every node of the partition must see
	program := filepath.Join(dir, "mudline")
	run := func(name string, args ...string) {
		cmd := exec.Command(name, args...)
		cmd.Dir, cmd.Env = dir, append(os.Environ(), "PATH="+dir+":"+os.Getenv("PATH"))
		out, err := cmd.CombinedOutput()
		require.NoError(t, err, string(out))
	}
	here, err := os.Getwd()
	require.NoError(t, err)
	run("go", "build", "-C", here, "-o", program, ".")
	jars := filepath.Join(here, "..", "..", "samples")
	parts, single := filepath.Join(dir, "parts"), filepath.Join(dir, "one")
	require.NoError(t, os.WriteFile(filepath.Join(dir, "read.sbatch"), []byte(slurmScript(t, jars, parts)), 0o755))
	run("sbatch", "--wait", "--array=1-3", "--cpus-per-task=1", "--mem=2500M", "read.sbatch")
	run(program, "merge", parts)
	run(program, "batch", jars, "--out", single)
	for _, name := range []string{"results.csv", "results.jsonl", "index.html"} {
		want, err := os.ReadFile(filepath.Join(single, name))
		require.NoError(t, err)
		got, err := os.ReadFile(filepath.Join(parts, name))
		require.NoError(t, err)
		assert.Equal(t, string(want), string(got), name)
	}
}
