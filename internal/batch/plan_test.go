package batch

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"mudline/imaging"
	"mudline/internal/reading"
	"mudline/internal/record"
)

func TestFoldersAreJars(t *testing.T) {
	root := tree(t, map[string]string{"plot 7/a_1min.jpg": "", "plot 7/b_2h.HEIC": "", "plot 7/notes.txt": "", "plot 7/.hidden.jpg": "",
		"plot 7/a_1min.read.png": "", "class a/plot 1/x_1min.jpg": "", "empty/": "", ".trash/x_1min.jpg": "", "plot 7/jar.yaml": "name: By the brook\n"})
	p := find(t, root)
	assert.Equal(t, []string{"class a/plot 1/ | in a folder of their own | class a/plot 1/x_1min.jpg",
		"plot 7/ | in a folder of their own | plot 7/a_1min.jpg plot 7/b_2h.HEIC"}, sorted(p))
	assert.Equal(t, "By the brook", p.Jars[1].Name)
	assert.Equal(t, "By the brook", p.Jars[1].Folder)
	assert.Empty(t, p.Left)
}

func TestLoosePhotosByName(t *testing.T) {
	root := tree(t, map[string]string{"plot7_1min.jpg": "", "Plot-7_2h.jpg": "", "plot7_2d.jpg": "", "plot 8 1min.jpg": "", "plot_8_2h.jpg": "",
		"plot9/a_1min.jpg": "", "jar.yaml": "water-depth: 130 mm\ntemp: 18\nname: Club\n", "plot 8.jar.yaml": "temp: 12\nname: Eight\n", "plot99.jar.yaml": "temp: 1\n"})
	p := find(t, root)
	assert.Equal(t, []string{"Plot-7 | by the names of the files | Plot-7_2h.jpg plot7_1min.jpg plot7_2d.jpg", "plot 8 | by the names of the files | plot 8 1min.jpg plot_8_2h.jpg", "plot9/ | in a folder of their own | plot9/a_1min.jpg"}, sorted(p))
	eight := p.Jars[1]
	assert.Equal(t, "Eight", eight.Name)
	assert.InDelta(t, 12, *eight.Record.TempC, 0, "a jar's own record wins")
	assert.InDelta(t, 130, eight.Record.WaterDepthMM, 0, "what it does not state holds for all")
	assert.Equal(t, "Plot-7", p.Jars[0].Name, "the name in the record for all is not each jar's")
	assert.InDelta(t, 18, *p.Jars[2].Record.TempC, 0, "also in folders")
	require.Len(t, p.Notes, 1)
	assert.Contains(t, p.Notes[0].String(), "plot99.jar.yaml belongs to no jar here")
}

// How a class prepares its jars holds for all of them; what one jar weighed does not, and
// that it is passed over is told.
func TestTheRecordOfAllJarsSaysHowTheyWerePrepared(t *testing.T) {
	p := find(t, tree(t, map[string]string{"a/x_1min.jpg": "", "b/x_1min.jpg": "", "b/jar.yaml": "dispersant: no\n",
		"jar.yaml": "dispersant: yes\nshaken-for: 10 min\nstones: 8 %\ndry-soil: 250 g\nhand:\n  grit: some\n"}))
	require.Len(t, p.Jars, 2)
	for i, dispersant := range []bool{true, false} {
		r := p.Jars[i].Record
		assert.Equal(t, dispersant, *r.Dispersant)
		assert.InDelta(t, 10, r.ShakenMin, 0)
		assert.InDelta(t, 8, *r.StonesPercent, 0)
		assert.Zero(t, r.DrySoilG)
	}
	require.Len(t, p.Notes, 1)
	assert.Contains(t, p.Notes[0].String(), "jar.yaml states hand and dry-soil for all jars")
}

// Numbers may be of photos or of jars: it is told how they were taken.
func TestNumbersInNames(t *testing.T) {
	p := find(t, tree(t, map[string]string{"jar 1.jpg": "a", "jar 2.jpg": "b", "jar 3.jpg": "c", "bed 1min.jpg": "d", "bed 4.jpg": "e", "alone.jpg": "f"}))
	assert.Equal(t, []string{"alone | by the names of the files | alone.jpg", "bed | by the names of the files | bed 1min.jpg bed 4.jpg", "jar | by the names of the files | jar 1.jpg jar 2.jpg jar 3.jpg"}, sorted(p))
	require.Len(t, p.Notes, 1)
	assert.Contains(t, p.Notes[0].String(), "jar 1.jpg, jar 2.jpg and jar 3.jpg are taken for photos of one jar, jar, since")
}

func TestLoosePhotosByRecord(t *testing.T) {
	root := tree(t, map[string]string{"IMG_1.jpg": "", "IMG_2.jpg": "", "IMG_3.jpg": "", "IMG_4.jpg": "",
		"brook.jar.yaml": "photos:\n  IMG_1.jpg: {elapsed: 1min}\n  IMG_3.jpg: {elapsed: 2h}\n",
		"jar.yaml":       "name: Orchard\nphotos:\n  IMG_2.jpg: {elapsed: 1min}\n  IMG_4.jpg: {elapsed: 2h}\n"})
	p := find(t, root)
	assert.Equal(t, []string{"brook | listed in brook.jar.yaml | IMG_1.jpg IMG_3.jpg", "Orchard | listed in jar.yaml | IMG_2.jpg IMG_4.jpg"}, sorted(p))
	assert.Equal(t, "1m0s", p.Jars[1].Record.Photos["IMG_2.jpg"].Elapsed.String())
}

func TestBadRecordIsOneJarsTrouble(t *testing.T) {
	root := tree(t, map[string]string{"a/x_1min.jpg": "", "a/jar.yaml": "water-depth: 5 furlongs\n", "b/x_1min.jpg": "", "b/jar.yaml": "photos:\n  y.jpg: {elapsed: 1h}\n", "c/x_1min.jpg": ""})
	p := find(t, root)
	require.Len(t, p.Jars, 3)
	assert.Contains(t, p.Jars[0].Bad.Text, "a/jar.yaml:1: water-depth")
	assert.Contains(t, p.Jars[1].Bad.Text, `"y.jpg" is not one of the jar's photos`)
	assert.Nil(t, p.Jars[2].Bad)
	_, err := Find(tree(t, map[string]string{"x_1min.jpg": "", "jar.yaml": "temp: hot\n"}), imaging.PureGo{})
	assert.ErrorContains(t, err, "jar.yaml:1: temp", "the record for all is everyone's trouble")
}

func TestLinks(t *testing.T) {
	elsewhere := tree(t, map[string]string{"deep/a_1min.jpg": ""})
	root := tree(t, map[string]string{"a/x_1min.jpg": ""})
	for link, target := range map[string]string{"loop": root, "a/up": filepath.Join(root, "a"), "other": elsewhere, "again": filepath.Join(elsewhere, "deep"), "gone": "/nowhere"} {
		require.NoError(t, os.Symlink(target, filepath.Join(root, link)))
	}
	p := find(t, root)
	assert.Equal(t, []string{"a/ | in a folder of their own | a/x_1min.jpg", "again/ | in a folder of their own | again/a_1min.jpg"}, sorted(p))
	assert.Len(t, p.Notes, 3)
}

func TestResultsAreNoJars(t *testing.T) {
	root := many(t, 2)
	out := filepath.Join(root, "read")
	_, err := Run(t.Context(), find(t, root, out), options(out))
	require.NoError(t, err)
	assert.Len(t, find(t, root, out).Jars, 2)
	assert.Len(t, find(t, root).Jars, 2, "results of an earlier batch are known by their list")
}

// Names come back from names of files: no separator, device or trailing point of
// any system ("Naming Files, Paths, and Namespaces", Windows documentation).
func TestSafeName(t *testing.T) {
	long := strings.Repeat("🌱", 200)
	for name, want := range map[string]string{"plot 7": "plot 7", "a/b\\c:d*?\"<>|": "a-b-c-d------", "CON": "jar CON", "nul.txt": "jar nul.txt",
		"com1": "jar com1", "trailing. . ": "trailing", "..": "jar", "": "jar", "-rf": "rf", "a\nb": "a-b", "a\u202eb": "ab", "  x  y ": "x y",
		"=1+2": "1+2", "جرة": "جرة", "shard-1-of-2.json": "jar shard-1-of-2.json"} {
		assert.Equal(t, want, safeName(name), "%q", name)
	}
	assert.Less(t, len(safeName(long)), 120)
	assert.NotEqual(t, safeName(long), safeName(long+"x"))
	n := newNames()
	assert.Equal(t, []string{"plot", "Plot-2", "PLOT-3", "index.html-2"}, []string{n.folder("plot"), n.folder("Plot"), n.folder("PLOT"), n.folder("index.html")})
}

func TestSafeNameIsAlwaysAFolder(t *testing.T) {
	dir := t.TempDir()
	rapid.Check(t, func(t *rapid.T) {
		name := safeName(rapid.String().Draw(t, "name"))
		if name != filepath.Base(name) || strings.ContainsAny(name, `<>:"/\|?*`) || len(name) > 200 || strings.TrimRight(name, ". ") != name {
			t.Fatalf("%q", name)
		}
		p := filepath.Join(dir, name)
		if err := os.Mkdir(p, 0o755); err != nil {
			t.Fatal(err)
		}
		os.Remove(p)
	})
}

func TestOutline(t *testing.T) {
	root := tree(t, map[string]string{"a/x_1min.jpg": "no picture", "a/y_1min.jpg": "", "a/IMG_1.jpg": ""})
	p := find(t, root)
	o := p.Outline(&p.Jars[0])
	assert.Equal(t, []Timed{{File: "IMG_1.jpg"}, {"x_1min.jpg", "1 min", record.FromName, ""}, {"y_1min.jpg", "1 min", record.FromName, ""}}, o.Photos)
	var codes []reading.RefusalCode
	for _, x := range o.Problems {
		codes = append(codes, x.Code)
		assert.NotEmpty(t, x.Remedy, x.Code)
	}
	assert.Equal(t, []reading.RefusalCode{"empty_file", "not_an_image", "empty_file", "no_time", "same_time"}, codes)
}
