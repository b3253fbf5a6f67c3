package words

import (
	"os/exec"
	"runtime"
	"testing"

	"github.com/stretchr/testify/assert"
)

var names = []string{"plot-7/a_2h.jpg", "a b.jpg", "it's.jpg", "$HOME.jpg", "`id`.jpg", "a\nb.jpg", "a\tb's.jpg", "\x1b[31m.jpg", `a"b.jpg`, `a\b.jpg`, "a;b&c|d>e.jpg",
	"(1).jpg", "*?.jpg", "~.jpg", "#1.jpg", "!x.jpg", "día 2.jpg", "d\u0301.jpg", "\xff.jpg", "\u202egpj", "", "-x.jpg", "a=b:c,d.jpg", "{a,b}.jpg", "[ab].jpg"}

func TestForShell(t *testing.T) {
	for word, want := range map[string]string{"plot-7/a_2h.jpg": "plot-7/a_2h.jpg", "día.jpg": "día.jpg", "a b.jpg": "'a b.jpg'", "it's.jpg": `'it'\''s.jpg'`,
		"a\nb's.jpg": `$'a\012b\'s.jpg'`, "$(id)": "'$(id)'", "": "''"} {
		assert.Equal(t, want, quoteFor(word, false))
	}
	assert.Equal(t, `"a b.jpg"`, quoteFor("a b.jpg", true))
	assert.Equal(t, `C:\jars`, quoteFor(`C:\jars`, true))
	assert.Equal(t, Name("path", "'./-a b'"), ShellPath("path", "-a b"))
}

// What a shell makes of a quoted word is the word, and it shows nothing that steers a
// terminal.
func TestTheShellReadsItBack(t *testing.T) {
	bash, err := exec.LookPath("bash")
	if err != nil || runtime.GOOS == "windows" {
		t.Skip("there is no bash to ask")
	}
	for _, w := range names {
		out, err := exec.Command(bash, "-c", "printf %s "+quoteFor(w, false)).Output()
		assert.NoError(t, err, "%q", w)
		assert.Equal(t, w, string(out))
		assert.NotRegexp(t, `[\x00-\x1f\x7f]`, quoteFor(w, false))
	}
}
