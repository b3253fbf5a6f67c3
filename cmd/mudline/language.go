package main

import (
	"cmp"
	"os"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"mudline/internal/words"
)

// languageFlag is the option that says in which language all is written and printed.
const languageFlag = "language"

// usualLanguage is the tag of the language that the system is set to, by the variables of
// the environment of POSIX (IEEE 1003.1, Base Definitions, 8.2); English where it is set to
// none, or to one that there is no catalogue for.
func usualLanguage() string {
	set := cmp.Or(os.Getenv("LC_ALL"), os.Getenv("LC_MESSAGES"), os.Getenv("LANG"))
	tag, _, _ := strings.Cut(strings.NewReplacer("_", ".", "@", ".", "-", ".").Replace(strings.ToLower(set)), ".")
	if !slices.Contains(words.Tags(), tag) {
		return words.Tags()[0]
	}
	return tag
}

// languageOf is the language that a command line asks for, even one that cannot be read:
// help and what is wrong with it are told in that. Where it asks for none there is, it is
// the usual one.
func languageOf(args []string) *words.Language {
	option, asked := "--"+languageFlag, usualLanguage()
	if i := slices.Index(args, "--"); i >= 0 {
		args = args[:i]
	}
	for i, arg := range args {
		if value, joined := strings.CutPrefix(arg, option+"="); joined {
			asked = value
		} else if arg == option && i+1 < len(args) {
			asked = args[i+1]
		}
	}
	l, err := words.Find(asked)
	if err != nil {
		l, _ = words.Find(usualLanguage()) // there is that one
	}
	return l
}

// spoken is the language of a command whose options have been read; English where they ask
// for none there is.
func spoken(cmd *cobra.Command) *words.Language {
	flag := cmd.Flag(languageFlag)
	if flag == nil {
		return nil
	}
	l, err := words.Find(flag.Value.String())
	if err != nil {
		return nil
	}
	return l
}
