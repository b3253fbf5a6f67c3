package main

import (
	"archive/tar"
	"archive/zip"
	"bytes"
	"compress/gzip"
	"encoding/json"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// made gives the file of a release whose name ends so; without a release the test is left
// out, since one takes minutes to make (make release-check).
func made(t *testing.T, ending string) []byte {
	t.Helper()
	folder := os.Getenv("MUDLINE_RELEASE")
	if folder == "" {
		t.Skip("MUDLINE_RELEASE names no release")
	}
	names, err := filepath.Glob(filepath.Join(folder, "*"+ending))
	require.NoError(t, err)
	require.Len(t, names, 1, ending)
	data, err := os.ReadFile(names[0])
	require.NoError(t, err)
	return data
}

// untar gives the files of a tar by name, and checks that all of it is of one time and owner.
func untar(t *testing.T, data []byte) map[string][]byte {
	files := map[string][]byte{}
	var when time.Time
	for r := tar.NewReader(bytes.NewReader(data)); ; {
		h, err := r.Next()
		if err == io.EOF {
			return files
		}
		require.NoError(t, err)
		if when.IsZero() {
			when = h.ModTime
		}
		assert.True(t, when.Equal(h.ModTime), h.Name)
		assert.Zero(t, h.Uid+h.Gid, h.Name)
		if h.Typeflag == tar.TypeReg {
			files[h.Name], err = io.ReadAll(r)
			require.NoError(t, err)
		}
	}
}

func gunzip(t *testing.T, data []byte) []byte {
	z, err := gzip.NewReader(bytes.NewReader(data))
	require.NoError(t, err)
	plain, err := io.ReadAll(z)
	require.NoError(t, err)
	return plain
}

// runs runs a program without PATH, home or anything else of this machine, and reads a sample.
func runs(t *testing.T, program []byte) {
	t.Helper()
	file := filepath.Join(t.TempDir(), "mudline")
	require.NoError(t, os.WriteFile(file, program, 0o755))
	runsAs(t, file)
}

func runsAs(t *testing.T, name string, before ...string) {
	t.Helper()
	run := func(args ...string) []byte {
		cmd := exec.Command(name, append(before, args...)...)
		cmd.Env = []string{"PATH="}
		out, err := cmd.CombinedOutput()
		require.NoError(t, err, string(out))
		return out
	}
	var about struct{ Version, Commit string }
	require.NoError(t, json.Unmarshal(run("version", "--json"), &about))
	assert.Regexp(t, `^\d+\.\d+\.\d+`, about.Version)
	assert.Regexp(t, `^[0-9a-f]{40}$`, about.Commit)
	assert.Contains(t, string(run("--version")), about.Commit[:12])
	assert.Contains(t, string(run("classify", "--sand", "40", "--clay", "20")), "loam")
	site := t.TempDir()
	if len(before) == 0 {
		run("page", "--write", site)
		assert.FileExists(t, filepath.Join(site, "mudline.wasm.gz"))
	}
}

// here is the ending of what is made for this machine.
func here(ending string) string { return fmt.Sprintf("linux-%s%s", runtime.GOARCH, ending) }

func TestTheArchiveRunsFromAnEmptyPath(t *testing.T) {
	files := untar(t, gunzip(t, made(t, here(".tar.gz"))))
	byName := map[string][]byte{}
	for name, data := range files {
		_, inside, _ := strings.Cut(name, "/")
		byName[inside] = data
	}
	for _, name := range []string{"LICENSE", "README.md", "LICENCES-OF-PARTS.txt", "man/mudline-read.1", "man/mudline.1",
		"completions/bash/mudline", "completions/zsh/_mudline", "completions/fish/mudline.fish", "completions/windows/mudline.ps1"} {
		assert.NotEmpty(t, byName[name], name)
	}
	assert.Contains(t, string(byName["LICENCES-OF-PARTS.txt"]), "LESSER GENERAL PUBLIC LICENSE")
	// 26.7 MB with the sheet, the film, texts and help in three languages, and the page; the goal is 20.
	assert.Less(t, len(byName["mudline"]), 27_000_000)
	runs(t, byName["mudline"])
}

func TestTheZipHoldsAProgramForWindows(t *testing.T) {
	data := made(t, "windows-amd64.zip")
	z, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	require.NoError(t, err)
	for _, f := range z.File {
		if path.Base(f.Name) == "mudline.exe" {
			r, err := f.Open()
			require.NoError(t, err)
			head := make([]byte, 2)
			_, err = io.ReadFull(r, head)
			require.NoError(t, err)
			assert.Equal(t, "MZ", string(head))
			return
		}
	}
	t.Fatal("there is no mudline.exe in it")
}

// The package is installed by dpkg itself into a root of its own, and the program run there.
func TestTheDebIsInstalled(t *testing.T) {
	made(t, here(".deb"))
	if _, err := exec.LookPath("dpkg"); err != nil {
		t.Skip("dpkg is not on this machine")
	}
	root := t.TempDir()
	for _, folder := range []string{"info", "updates", "triggers"} {
		require.NoError(t, os.MkdirAll(filepath.Join(root, "var/lib/dpkg", folder), 0o755))
	}
	require.NoError(t, os.WriteFile(filepath.Join(root, "var/lib/dpkg/status"), nil, 0o644))
	names, err := filepath.Glob(filepath.Join(os.Getenv("MUDLINE_RELEASE"), "*"+here(".deb")))
	require.NoError(t, err)
	out, err := exec.Command("dpkg", "--root="+root, "--force-not-root", "--force-script-chrootless", "--log=/dev/null", "-i", names[0]).CombinedOutput()
	require.NoError(t, err, string(out))
	status, err := os.ReadFile(filepath.Join(root, "var/lib/dpkg/status"))
	require.NoError(t, err)
	assert.Contains(t, string(status), "Package: mudline\nStatus: install ok installed")
	for _, name := range []string{"usr/share/doc/mudline/copyright", "usr/share/man/man1/mudline.1.gz", "usr/share/bash-completion/completions/mudline"} {
		assert.FileExists(t, filepath.Join(root, name))
	}
	runsAs(t, filepath.Join(root, "usr/bin/mudline"))
}

// An .rpm cannot be installed without rpm; where that is missing its head is looked at.
func TestTheRPMIsOne(t *testing.T) {
	data := made(t, here(".rpm"))
	assert.Equal(t, "\xed\xab\xee\xdb\x03", string(data[:5]), "the lead of RPM version 3 (LSB core, package file format)")
	assert.Contains(t, string(data[:96]), "mudline-")
	rpm, err := exec.LookPath("rpm")
	if err != nil {
		t.Log("rpm is not on this machine: the package is not opened")
		return
	}
	file := filepath.Join(t.TempDir(), "a.rpm")
	require.NoError(t, os.WriteFile(file, data, 0o644))
	out, err := exec.Command(rpm, "-qpl", "--nosignature", file).CombinedOutput()
	require.NoError(t, err, string(out))
	assert.Contains(t, string(out), "/usr/bin/mudline\n")
}

// Every blob of the image is what its digest says; its one layer holds the program and its
// papers, and the program runs in it, with nothing else there where chroot is allowed.
func TestTheImageHoldsTheProgram(t *testing.T) {
	files := untar(t, made(t, "-image.tar"))
	for name, data := range files {
		if sum, ok := strings.CutPrefix(name, "blobs/sha256/"); ok {
			assert.Equal(t, sum, digest(data))
		}
	}
	blob := func(d descriptor) []byte {
		data := files["blobs/sha256/"+strings.TrimPrefix(d.Digest, "sha256:")]
		require.Len(t, data, d.Size)
		return data
	}
	type index struct{ Manifests []descriptor }
	read := func(data []byte, v any) { require.NoError(t, json.Unmarshal(data, v)) }
	var top, all index
	read(files["index.json"], &top)
	require.Len(t, top.Manifests, 1)
	read(blob(top.Manifests[0]), &all)
	for _, d := range all.Manifests {
		var manifest struct {
			Config descriptor
			Layers []descriptor
		}
		var config struct {
			Architecture string
			Config       struct {
				User       string
				Entrypoint []string
			}
			RootFS struct {
				DiffIDs []string `json:"diff_ids"`
			}
		}
		read(blob(d), &manifest)
		read(blob(manifest.Config), &config)
		assert.Equal(t, d.Platform.Architecture, config.Architecture)
		assert.Equal(t, nobody, config.Config.User)
		require.Len(t, manifest.Layers, 1)
		plain := gunzip(t, blob(manifest.Layers[0]))
		require.Equal(t, []string{"sha256:" + digest(plain)}, config.RootFS.DiffIDs)
		inside := untar(t, plain)
		var names []string
		for name := range inside {
			names = append(names, name)
		}
		assert.ElementsMatch(t, []string{"etc/passwd", "usr/bin/mudline", "usr/share/doc/mudline/LICENSE",
			"usr/share/doc/mudline/README.md", "usr/share/doc/mudline/LICENCES-OF-PARTS.txt"}, names)
		if config.Architecture != runtime.GOARCH {
			continue
		}
		runs(t, inside["usr/bin/mudline"])
		chroot, err := exec.LookPath("chroot")
		if err != nil || os.Geteuid() != 0 {
			t.Log("chroot is not allowed here: the program ran outside of the image's own root")
			continue
		}
		root := t.TempDir()
		require.NoError(t, os.Chmod(root, 0o755))
		for name, data := range inside {
			file := filepath.Join(root, name)
			require.NoError(t, os.MkdirAll(filepath.Dir(file), 0o755))
			require.NoError(t, os.WriteFile(file, data, 0o755))
		}
		runsAs(t, chroot, "--userspec="+nobody, root, config.Config.Entrypoint[0])
	}
}

func TestThePageIsPacked(t *testing.T) {
	files := untar(t, gunzip(t, made(t, "-page.tar.gz")))
	found := map[string]bool{}
	for name := range files {
		_, inside, _ := strings.Cut(name, "/")
		found[inside] = true
	}
	for _, name := range []string{"site/index.html", "site/mudline.wasm.gz", "site/sw.js", "LICENSE", "LICENCES-OF-PARTS.txt"} {
		assert.True(t, found[name], name)
	}
}

// The bill names every module that "go version -m" finds in the program.
func TestTheBillIsWhatGoSays(t *testing.T) {
	var bill struct {
		BOMFormat  string
		Components []struct{ PURL string }
	}
	require.NoError(t, json.Unmarshal(made(t, here(".cdx.json")), &bill))
	assert.Equal(t, "CycloneDX", bill.BOMFormat)
	listed := map[string]bool{}
	for _, c := range bill.Components {
		listed[c.PURL] = true
	}
	for name, data := range untar(t, gunzip(t, made(t, here(".tar.gz")))) {
		if path.Base(name) != "mudline" || strings.Contains(name, "completions") {
			continue
		}
		file := filepath.Join(t.TempDir(), "mudline")
		require.NoError(t, os.WriteFile(file, data, 0o755))
		out, err := exec.Command("go", "version", "-m", file).Output()
		require.NoError(t, err)
		n := 0
		for line := range strings.Lines(string(out)) {
			if f := strings.Fields(line); len(f) >= 3 && f[0] == "dep" {
				n++
				assert.True(t, listed[fmt.Sprintf("pkg:golang/%s@%s", f[1], f[2])], line)
			}
		}
		assert.Equal(t, n+1, len(bill.Components), "and Go's own library")
		return
	}
	t.Fatal("there is no program in the archive")
}
