package main

import (
	"cmp"
	"embed"
	"path"
	"regexp"
	"strconv"
	"strings"
	"sync"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"mudline/internal/backdrop/press"
	"mudline/internal/record"
	"mudline/internal/words"
	"mudline/texture/feel"
)

// helpFiles are the texts of --help, a file for each command in each language, and the
// topics, which the commands' own help has no room for. Man pages are made of them too
// (papers.go).
//
// A file's first line is what the command does or the topic is about. The second is how the
// command is typed, empty for a topic. The options stand at the end, each by its name and
// set in below it what it says, its argument between backquotes. Those that several
// commands have are in the file of mudline itself.
//
//go:embed help
var helpFiles embed.FS

// topicsFolder is where the topics are among the files of a language.
const topicsFolder = "topics"

// guide is the help on a command or a topic.
type guide struct {
	short, use, long string
	options          map[string]string
}

// guideOf gives the help by its name within the files of a language; false where there is
// none.
func guideOf(l *words.Language, name string) (guide, bool) {
	data, err := helpFiles.ReadFile(path.Join("help", l.Tag(), name+".txt"))
	return parseGuide(string(data)), err == nil
}

var optionLine = regexp.MustCompile(`(?m)^--([a-z-]+)$`)

func parseGuide(text string) guide {
	g := guide{options: map[string]string{}}
	g.short, text, _ = strings.Cut(text, "\n")
	g.use, text, _ = strings.Cut(text, "\n")
	options := optionLine.FindAllStringSubmatchIndex(text, -1)
	for i := len(options) - 1; i >= 0; i-- {
		at := options[i]
		said := strings.TrimSpace(text[at[1]:])
		g.options[text[at[2]:at[3]]] = strings.ReplaceAll(said, "\n    ", " ")
		text = text[:at[0]]
	}
	g.long = strings.TrimSpace(text)
	return g
}

// topicCommands are the topics as cobra takes them: commands that do nothing.
func topicCommands() []*cobra.Command {
	entries, err := helpFiles.ReadDir(path.Join("help", words.Tags()[0], topicsFolder))
	if err != nil {
		panic(err) // embedded: cannot fail
	}
	var out []*cobra.Command
	for _, e := range entries {
		out = append(out, &cobra.Command{Use: strings.TrimSuffix(e.Name(), ".txt")})
	}
	return out
}

// dress gives a command and those under it their texts; any without a file keeps its own.
func dress(cmd *cobra.Command, l *words.Language) {
	common, _ := guideOf(l, cmd.Root().Name())
	for _, c := range append(cmd.Commands(), cmd) {
		name := c.Name()
		if !c.Runnable() && c.HasParent() {
			name = path.Join(topicsFolder, name)
		}
		if g, ok := guideOf(l, name); ok {
			g.dress(c, common.options, l)
		}
	}
}

func (g guide) dress(cmd *cobra.Command, common map[string]string, l *words.Language) {
	cmd.Short, cmd.Long = g.short, strings.ReplaceAll(g.long, "{record}", record.Starter(l, "plot-7", ""))
	if g.use != "" {
		cmd.Use = g.use
	}
	fill := filling(cmd.Name(), l)
	say := func(f *pflag.Flag) { f.Usage = fill(cmp.Or(g.options[f.Name], common[f.Name]), f.Name) }
	cmd.Flags().VisitAll(say)
	cmd.PersistentFlags().VisitAll(say)
}

// numbersOf are the least and the most that an option takes, where its text tells them.
var numbersOf = map[string][2]int{
	"sheet --count": {1, mostSheets}, "sheet --dpi": {press.LeastDPI, press.MostDPI}, "times --photos": {minPhotos, maxPhotos},
}

// filling puts into the text of an option what the program knows better.
func filling(command string, l *words.Language) func(text, option string) string {
	values := valuesOf(command)
	return func(text, option string) string {
		if !strings.Contains(text, "{") {
			return text
		}
		numbers, q := numbersOf[command+" --"+option], questionBy()[option]
		return strings.NewReplacer(
			"{command}", command,
			"{values}", strings.Join(values[option], ", "),
			"{lines}", strings.Join(lineNames(), ", "),
			"{least}", strconv.Itoa(numbers[0]), "{most}", strconv.Itoa(numbers[1]),
			"{ask}", l.Say(q.Do)+". "+l.Say(q.Ask), "{example}", l.Say(q.Example), "{answers}", answersOf(q, l),
		).Replace(text)
	}
}

// lineNames are the names of the lines that can be placed.
func lineNames() (names []string) {
	for _, l := range record.LineNames {
		names = append(names, string(l))
	}
	return names
}

// answersOf are the answers that can be typed, which are English, with their meaning.
func answersOf(q feel.Question, l *words.Language) string {
	var out []string
	for _, c := range q.Choices {
		out = append(out, c.Value+" ("+l.Say(c.Label)+")")
	}
	return strings.Join(out, ", ")
}

// questionBy tells what an option of hand answers.
var questionBy = sync.OnceValue(func() map[string]feel.Question {
	questions := map[string]feel.Question{}
	for _, q := range feel.Questions() {
		questions[optionOf(q)] = q
	}
	return questions
})
