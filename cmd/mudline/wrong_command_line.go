package main

import (
	"errors"
	"fmt"
	"os"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"mudline/internal/words"
)

// wrongOption says what is wrong with an option that could not be read.
func wrongOption(cmd *cobra.Command, err error) error {
	hint := words.Say("command.do-help-lists-options", words.Name("commandpath", cmd.CommandPath()))
	var unknown *pflag.NotExistError
	var bare *pflag.ValueRequiredError
	var wrong *pflag.InvalidValueError
	switch {
	case errors.As(err, &unknown):
		given := "--" + unknown.GetSpecifiedName()
		if short := unknown.GetSpecifiedShortnames(); short != "" {
			given = "-" + short
		}
		if _, err := os.Lstat(given); err == nil { // a file is meant
			hint = words.Say("command.do-dash-file", words.ShellPath("file", given))
		}
		return badInput(hint, words.Say("command.unknown-option", words.Name("option", given)))
	case errors.As(err, &bare):
		return badInput(words.Say("command.do-give-value"), words.Say("command.option-empty", words.Name("option", "--"+bare.GetSpecifiedName())))
	case errors.As(err, &wrong):
		return badInput(hint, words.Say("command.option-wrong", words.Name("option", "--"+wrong.GetFlag().Name), words.Name("given", wrong.GetValue())))
	}
	return badInput(hint, words.Say("as-it-is", words.Name("text", err.Error())))
}

// wrongCommand says which command is none, and which are called alike; anything else that
// was wrong it leaves as it is.
func wrongCommand(root *cobra.Command, err error) error {
	var given, under string
	if n, _ := fmt.Sscanf(err.Error(), "unknown command %q for %q", &given, &under); n < 2 {
		return err
	}
	said := words.Say("command.unknown-command", words.Name("given", given))
	if near := root.SuggestionsFor(given); len(near) > 0 {
		return badInput(words.Say("command.do-near", words.Name("near", strings.Join(near, ", "))), said)
	}
	return badInput(words.Say("command.do-mudline-help"), said)
}

// noNames refuses names for a command that takes options only.
func noNames(cmd *cobra.Command, args []string) error {
	if len(args) == 0 {
		return nil
	}
	return badInput(words.Say("command.do-help-lists-options", words.Name("commandpath", cmd.CommandPath())), words.Say("command.options-only", words.Quoted("given", args[0])))
}
