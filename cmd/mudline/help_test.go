package main

import (
	"os"
	"path"
	"regexp"
	"slices"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mudline/internal/record"
	"mudline/internal/words"
)

// The tests speak English whatever the system is set to.
func TestMain(m *testing.M) {
	for _, name := range []string{"LC_ALL", "LC_MESSAGES", "LANG", "COLUMNS"} {
		os.Unsetenv(name)
	}
	os.Exit(m.Run())
}

// eachHelp visits all that there is help on, in every language.
func eachHelp(t *testing.T, visit func(l *words.Language, cmd *cobra.Command)) {
	t.Helper()
	for _, tag := range words.Tags() {
		l, err := words.Find(tag)
		require.NoError(t, err)
		root, _ := app{}.root(l)
		for _, cmd := range append(root.Commands(), root) {
			cmd.InitDefaultHelpFlag()
			cmd.InitDefaultVersionFlag()
			dress(cmd, l)
			visit(l, cmd)
		}
	}
}

func isTopic(cmd *cobra.Command) bool { return cmd.HasParent() && !cmd.Runnable() }

func fileOf(cmd *cobra.Command) string {
	if isTopic(cmd) {
		return path.Join(topicsFolder, cmd.Name())
	}
	return cmd.Name()
}

// Every command, option and topic has its text in every language, and no text is of one
// that there is not.
func TestEveryHelpIsThereInEveryLanguage(t *testing.T) {
	english := map[string]string{}
	eachHelp(t, func(l *words.Language, cmd *cobra.Command) {
		at := l.Tag() + " " + fileOf(cmd)
		g, ok := guideOf(l, fileOf(cmd))
		if !assert.True(t, ok, at) {
			return
		}
		texts := map[string]string{"": g.short, "long": g.long}
		assert.NotEmpty(t, g.short, at)
		assert.Equal(t, !isTopic(cmd), g.use != "", at)
		own := map[string]bool{}
		options := func(f *pflag.Flag) {
			own[f.Name] = true
			texts["--"+f.Name] = f.Usage
			require.NotEmpty(t, f.Usage, "%s --%s", at, f.Name)
			assert.NotContains(t, f.Usage, "{", at)
			assert.Equal(t, f.Value.Type() != "bool", strings.Count(f.Usage, "`") == 2, "%s --%s: the argument between backquotes", at, f.Name)
		}
		cmd.Flags().VisitAll(options)
		cmd.PersistentFlags().VisitAll(options)
		for name := range g.options {
			assert.True(t, own[name] || cmd == cmd.Root(), "%s has no --%s", at, name)
		}
		for what, text := range texts {
			key := fileOf(cmd) + " " + what
			if l.Tag() == words.Tags()[0] {
				english[key] = text
			} else if text != "" || english[key] != "" {
				assert.NotEmpty(t, text, "%s %s", at, what)
				assert.NotEqual(t, english[key], text, "%s %s is not translated", at, what)
			}
		}
	})
}

// No file is without a command or a topic, nor missing in a language.
func TestEveryHelpFileIsUsed(t *testing.T) {
	root, _ := app{}.root(nil)
	var want []string
	for _, cmd := range append(root.Commands(), root) {
		want = append(want, fileOf(cmd)+".txt")
	}
	for _, tag := range words.Tags() {
		var got []string
		for _, folder := range []string{"", topicsFolder} {
			entries, err := helpFiles.ReadDir(path.Join("help", tag, folder))
			require.NoError(t, err)
			for _, e := range entries {
				if !e.IsDir() {
					got = append(got, path.Join(folder, e.Name()))
				}
			}
		}
		assert.ElementsMatch(t, want, got, tag)
	}
}

// What is typed or read by programs stands in every language as it does in English, as do
// the numbers; so a translation that has fallen behind is noticed.
func TestHelpSaysTheSameInEveryLanguage(t *testing.T) {
	typed := regexp.MustCompile(`--[a-z][a-z-]+|[a-z_]*_[a-z_]+[a-z]|[a-z.]+\.(?:ya?ml|json|csv|jsonl|html|pdf|sbatch)\b|\d+(?:[.,]\d+)?`)
	told := map[string][]string{}
	eachHelp(t, func(l *words.Language, cmd *cobra.Command) {
		g, _ := guideOf(l, fileOf(cmd))
		texts := map[string]string{"": g.long}
		for name, text := range g.options {
			texts[" --"+name] = text
		}
		for what, text := range texts {
			found := typed.FindAllString(text, -1)
			for i, f := range found {
				found[i] = strings.ReplaceAll(f, ",", ".")
			}
			slices.Sort(found)
			key := fileOf(cmd) + what
			if l.Tag() == words.Tags()[0] {
				told[key] = found
			} else {
				assert.Equal(t, told[key], found, "%s %s", l.Tag(), key)
			}
		}
	})
}

// Help in English that goes into a file is what cobra makes of the same texts.
func TestHelpIsLaidOutAsUsual(t *testing.T) {
	root, _ := app{}.root(nil)
	for _, cmd := range append(root.Commands(), root) {
		want := strings.TrimRight(cmd.Long, " \n") + "\n\n"
		if cmd.Long == "" {
			want = cmd.Short + "\n\n"
		}
		if !isTopic(cmd) {
			want += cmd.UsageString()
		}
		assert.Equal(t, want, helpOn(cmd, nil, 0), cmd.Name())
	}
}

// Lines fit a terminal, but for what is to be typed or copied as it stands.
func TestHelpFitsTheTerminal(t *testing.T) {
	eachHelp(t, func(l *words.Language, cmd *cobra.Command) {
		asIs := cmd.Example
		for _, p := range strings.Split(cmd.Long, "\n\n") {
			if strings.HasPrefix(p, "    ") || strings.HasPrefix(p, "#") {
				asIs += "\n" + p
			}
		}
		kept := strings.Split(asIs, "\n")
		for _, width := range []int{fewestColumns, 80} {
			for _, line := range strings.Split(helpOn(cmd, l, width), "\n") {
				if slices.Contains(kept, line) || len(strings.Fields(line)) == 1 {
					continue
				}
				assert.LessOrEqual(t, utf8.RuneCountInString(line), width, "%s %s: %s", l.Tag(), cmd.Name(), line)
			}
		}
		same := func(text string) string { return strings.Join(strings.Fields(text), " ") }
		assert.Contains(t, same(helpOn(cmd, l, fewestColumns)), same(cmd.Long), "%s %s: nothing is lost", l.Tag(), cmd.Name())
		for _, line := range strings.Split(cmd.Long, "\n") {
			assert.LessOrEqual(t, utf8.RuneCountInString(line), 112, "%s %s: %s", l.Tag(), cmd.Name(), line)
		}
	})
}

func TestParagraphsAreBrokenAnew(t *testing.T) {
	text := "A paragraph of\ntwo lines that is long.\n\n- an item that goes on\n  here\n- another\n\nname, --name\n    what it means to you\n\n    a script --that stays as it is\n\n3     a number with a text"
	assert.Equal(t, "A paragraph of two\nlines that is long.\n\n- an item that goes\n  on here\n- another\n\nname, --name\n    what it means to\n    you\n\n    a script --that stays as it is\n\n3     a number with\n      a text", fit(text, 20))
	assert.Equal(t, text, fit(text, 0))
}

// The language is what the options ask for, else that of the system, in help, in what is
// wrong with a command line and in what is printed.
func TestTheLanguageOfTheSystem(t *testing.T) {
	for _, c := range []struct {
		all, messages, lang string
		want                string
	}{
		{"", "", "es_ES.UTF-8", "Uso:"}, {"", "", "fr", "Utilisation\u00a0:"}, {"", "fr_CA.UTF-8", "es_ES", "Utilisation\u00a0:"},
		{"C", "fr_CA.UTF-8", "es_ES", "Usage:"}, {"es_MX@euro", "", "C", "Uso:"}, {"", "", "de_DE.UTF-8", "Usage:"}, {"", "", "", "Usage:"},
	} {
		t.Setenv("LC_ALL", c.all)
		t.Setenv("LC_MESSAGES", c.messages)
		t.Setenv("LANG", c.lang)
		for _, args := range [][]string{{"read", "--help"}, {"help", "times"}, {}, {"--help"}} {
			assert.Contains(t, command(t, nil, args...).out, c.want, "%+v %v", c, args)
		}
	}
	t.Setenv("LC_ALL", "es_ES.UTF-8")
	assert.Contains(t, command(t, nil, "read", "--help").out, "Lee las fotos de un frasco")
	assert.Contains(t, command(t, nil, "help", "status").out, "un fallo del programa")
	assert.Contains(t, command(t, nil, "classify", "--sand", "40", "--clay", "20").out, "arena 40 %")
	for _, args := range [][]string{{"--language", "fr", "--help"}, {"--help", "--language=fr"}, {"help", "--language", "fr"}} {
		assert.Contains(t, command(t, nil, args...).out, "Lit un dossier de bocaux", args)
	}
	for _, args := range [][]string{{"read", "--help", "--language", "en"}, {"--language", "en", "help", "read"}} {
		assert.Contains(t, command(t, nil, args...).out, "Read the photos of one jar", args)
	}
	assert.Contains(t, command(t, nil, "read", "x", "--language", "xx").err, "xx")
	assert.Contains(t, command(t, nil, "--language", "xx", "--help").out, "Uso:", "help is given in the usual language")
}

// What is wrong with a command line is told in the language, with what to do.
func TestWrongCommandLinesInEveryLanguage(t *testing.T) {
	for _, c := range []struct {
		args           []string
		en, es, fr, do string
	}{
		{[]string{"frobnicate"}, `unknown command "frobnicate"`, `no existe el comando "frobnicate"`, "commande inconnue\u00a0: \"frobnicate\"", "mudline --help"},
		{[]string{"raed"}, `unknown command "raed"`, `no existe el comando "raed"`, "commande inconnue\u00a0: \"raed\"", "read"},
		{[]string{"read", "--frob"}, "unknown flag: --frob", "no existe la opción --frob", "option inconnue\u00a0: --frob", "mudline read --help"},
		{[]string{"read", "-q"}, "unknown flag: -q", "no existe la opción -q", "option inconnue\u00a0: -q", "mudline read --help"},
		{[]string{"batch", "x", "--jobs", "many"}, `--jobs cannot be "many"`, `--jobs no puede ser "many"`, `--jobs ne peut pas être "many"`, "mudline batch --help"},
		{[]string{"page", "here"}, "takes options only", "solo admite opciones", "ne prend que des options", "mudline page --help"},
		{[]string{"help", "nonsense"}, `there is no help on "nonsense"`, "no hay ayuda sobre", "il n’y a pas d’aide sur", "mudline help"},
	} {
		for tag, want := range map[string]string{"en": c.en, "es": c.es, "fr": c.fr} {
			r := command(t, nil, append([]string{"--language", tag}, c.args...)...)
			assert.Equal(t, statusInput, r.status, c.args)
			assert.Contains(t, r.err, want, c.args)
			assert.Contains(t, r.err, c.do, c.args)
			assert.Empty(t, r.out)
		}
	}
	r := command(t, nil, "read", "--language", "es", "--out")
	assert.Contains(t, r.err, "--out no lleva ningún valor")
	assert.Contains(t, command(t, nil, "read", "--frob", "--language", "fr").err, "option inconnue", "though the language comes later")
	assert.Contains(t, command(t, nil, "read", "--frob", "--", "--language", "fr").err, "unknown flag")
}

// The help on records lists every key, in every language.
func TestHelpListsEveryKey(t *testing.T) {
	for _, tag := range words.Tags() {
		keys := command(t, nil, "help", "record", "--language", tag).out
		for _, e := range record.Entries {
			assert.Regexp(t, `(?m)^`+e.Name+"[,:]", keys, "every key of jar.yaml is explained")
			if e.Option {
				assert.Contains(t, keys, e.Name+", --"+e.Name)
			}
		}
	}
	assert.Contains(t, command(t, nil, "help", "read").out, "mudline read")
	assert.Contains(t, command(t, nil, "help").out, "Additional help topics")
}
