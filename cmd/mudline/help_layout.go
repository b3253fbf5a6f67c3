package main

import (
	"cmp"
	"regexp"
	"strconv"
	"strings"
	"unicode/utf8"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"mudline/internal/words"
)

// widestHelp is the longest line that help is broken into, however wide the terminal is.
const widestHelp = 100

// helpOn is what --help prints: lines of at most width letters, but for what is to be typed
// as it stands; as they come where width is 0.
func helpOn(cmd *cobra.Command, l *words.Language, width int) string {
	width = min(width, widestHelp)
	out := fit(strings.TrimRight(cmp.Or(cmd.Long, cmd.Short), " \n"), width) + "\n\n"
	if !cmd.Runnable() && !cmd.HasSubCommands() {
		return out
	}
	parts := []string{l.Text("command.help-usage") + useOf(cmd, l)}
	add := func(key, text string) {
		if text = strings.TrimRight(text, " \n"); text != "" {
			parts = append(parts, l.Text(key)+"\n"+text)
		}
	}
	add("command.help-examples", cmd.Example)
	var commands, topics []row
	for _, c := range cmd.Commands() {
		switch {
		case c.IsAdditionalHelpTopicCommand():
			topics = append(topics, row{"  " + c.CommandPath(), c.Short, 3 + c.CommandPathPadding()})
		case c.IsAvailableCommand() || c.Name() == "help":
			commands = append(commands, row{"  " + c.Name(), c.Short, 3 + c.NamePadding()})
		}
	}
	add("command.help-commands", listed(commands, width))
	add("command.help-options", listed(optionRows(cmd.LocalFlags(), l), width))
	add("command.help-global-options", listed(optionRows(cmd.InheritedFlags(), l), width))
	add("command.help-topics", listed(topics, width))
	if cmd.HasAvailableSubCommands() {
		parts = append(parts, fit(l.Text("command.help-more", words.Name("command", cmd.CommandPath())), width))
	}
	return out + strings.Join(parts, "\n\n") + "\n"
}

// useOf is how a command is typed.
func useOf(cmd *cobra.Command, l *words.Language) (text string) {
	if cmd.Runnable() {
		text += "\n  " + strings.Replace(cmd.UseLine(), "[flags]", l.Text("command.help-any-options"), 1)
	}
	if cmd.HasAvailableSubCommands() {
		text += "\n  " + cmd.CommandPath() + " " + l.Text("command.help-a-command")
	}
	return text
}

// row is a name and what it means, which stands from a column on.
type row struct {
	name, text string
	column     int
}

// optionRows are the options of a set with what they say.
func optionRows(set *pflag.FlagSet, l *words.Language) (rows []row) {
	column := 0
	set.VisitAll(func(f *pflag.Flag) {
		if f.Hidden {
			return
		}
		name := "      --" + f.Name
		if f.Shorthand != "" {
			name = "  -" + f.Shorthand + ", --" + f.Name
		}
		argument, text := pflag.UnquoteUsage(f)
		if argument != "" {
			name += " " + argument
		}
		rows = append(rows, row{name: name, text: text + usually(f, l)})
		column = max(column, utf8.RuneCountInString(name)+3)
	})
	for i := range rows {
		rows[i].column = column
	}
	return rows
}

// usually says what an option is where it is not given.
func usually(f *pflag.Flag, l *words.Language) string {
	value := f.DefValue
	switch value {
	case "", "0", "false", "[]":
		return ""
	}
	if f.Value.Type() == "string" {
		value = strconv.Quote(value)
	}
	return " " + l.Text("command.help-default", words.Name("value", value))
}

// leastRoom is how many letters a text needs beside its name. With less it stands below.
const leastRoom, below = 36, 10

func listed(rows []row, width int) string {
	var b strings.Builder
	for _, r := range rows {
		first, next := r.name+strings.Repeat(" ", max(1, r.column-utf8.RuneCountInString(r.name))), strings.Repeat(" ", r.column)
		if width > 0 && width-r.column < leastRoom {
			b.WriteString(r.name + "\n")
			first, next = strings.Repeat(" ", below), strings.Repeat(" ", below)
		}
		b.WriteString(broken(r.text, first, next, width) + "\n")
	}
	return b.String()
}

// fit breaks the paragraphs of a text anew that have a line of more than width letters.
// What is set in by four blanks, and the comments of a record, stay as they are.
func fit(text string, width int) string {
	paragraphs := strings.Split(text, "\n\n")
	for i, p := range paragraphs {
		if width > 0 && !strings.HasPrefix(p, "    ") && !strings.HasPrefix(p, "#") && longest(p) > width {
			paragraphs[i] = fitParagraph(p, width)
		}
	}
	return strings.Join(paragraphs, "\n\n")
}

// lead is what a line begins with that the next lines of the same item do not repeat: a
// dash, or a number in a column of its own.
var lead = regexp.MustCompile(`^ *(?:- |\d+ {2,})?`)

func fitParagraph(text string, width int) string {
	var out []string
	var first, next, said string
	flush := func() {
		if said != "" {
			out = append(out, broken(said, first, next, width))
		}
	}
	for _, line := range strings.Split(text, "\n") {
		begins := lead.FindString(line)
		rest := line[len(begins):]
		if begins == next && said != "" {
			said += " " + rest
			continue
		}
		flush()
		first, next, said = begins, strings.Repeat(" ", len(begins)), rest
	}
	flush()
	return strings.Join(out, "\n")
}

// broken breaks a text between its words into lines of at most width letters, the first
// after other letters than the next ones.
func broken(text, first, next string, width int) string {
	if width <= 0 {
		return first + text
	}
	var b strings.Builder
	line, fresh := first, true
	for _, word := range strings.Split(text, " ") {
		if !fresh && utf8.RuneCountInString(line+" "+word) > width {
			b.WriteString(line + "\n")
			line, fresh = next, true
		}
		if !fresh {
			line += " "
		}
		line, fresh = line+word, false
	}
	return b.String() + line
}

func longest(text string) (n int) {
	for _, line := range strings.Split(text, "\n") {
		n = max(n, utf8.RuneCountInString(line))
	}
	return n
}
