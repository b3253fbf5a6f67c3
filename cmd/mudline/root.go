package main

import (
	"io"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"mudline/internal/words"
)

// root builds the command, its help in a language. started turns true once a command's own
// work begins, so that faults before it are known to lie in the command line.
func (a app) root(l *words.Language) (root *cobra.Command, started *bool) {
	started = new(bool)
	root = &cobra.Command{
		Use:                        "mudline",
		SuggestionsMinimumDistance: 2,
		Version:                    version,
		SilenceUsage:               true,
		SilenceErrors:              true,
		CompletionOptions:          cobra.CompletionOptions{HiddenDefaultCmd: true},
		PersistentPreRunE: func(cmd *cobra.Command, _ []string) error {
			*started = true
			if err := noneEmpty(cmd.Flags()); err != nil {
				return err
			}
			if _, err := words.Find(cmd.Flag(languageFlag).Value.String()); err != nil {
				return badInput(words.Say("command.do-name-one"), ofOption("--"+languageFlag, err))
			}
			return nil
		},
	}
	root.PersistentFlags().Bool(forceFlag, false, "")
	root.PersistentFlags().String(languageFlag, usualLanguage(), "")
	root.PersistentFlags().Lookup(languageFlag).DefValue = "" // help says it in words
	root.SetVersionTemplate(aboutThis().String() + "\n")
	root.SetFlagErrorFunc(wrongOption)
	root.SetHelpFunc(func(cmd *cobra.Command, _ []string) {
		dress(cmd, l)                                                                          // the options that cobra has added since
		_, _ = io.WriteString(cmd.OutOrStdout(), helpOn(cmd, l, columnsOf(cmd.OutOrStdout()))) // as cobra has it
	})
	root.AddCommand(a.readCommand(), newCommand(), sheetCommand(), handCommand(), timesCommand(), classifyCommand(), a.compareCommand(), a.batchCommand(), mergeCommand(), pageCommand(), versionCommand())
	root.AddCommand(topicCommands()...)
	root.SetHelpCommand(helpCommand())
	root.InitDefaultHelpCmd()
	for _, command := range more {
		root.AddCommand(command())
	}
	completeValues(root)
	dress(root, l)
	return root, started
}

// noneEmpty refuses options that are given without saying anything, as --temp "" does: a
// script whose variable is empty would else read on as if nothing had been stated.
func noneEmpty(f *pflag.FlagSet) (err error) {
	f.Visit(func(flag *pflag.Flag) {
		values := []string{flag.Value.String()}
		if list, ok := flag.Value.(pflag.SliceValue); ok {
			values = list.GetSlice()
		}
		for _, v := range values {
			if strings.TrimSpace(v) == "" && err == nil {
				err = badInput(words.Say("command.do-give-value"), words.Say("command.option-empty", words.Name("option", "--"+flag.Name)))
			}
		}
	})
	return err
}

// helpCommand shows the help on a command or a topic.
func helpCommand() *cobra.Command {
	return &cobra.Command{
		Use: "help",
		RunE: func(cmd *cobra.Command, args []string) error {
			found, _, err := cmd.Root().Find(args)
			if err != nil || found == cmd.Root() && len(args) > 0 {
				return badInput(words.Say("command.do-list-help"), words.Say("command.no-help", words.Name("given", strings.Join(args, " "))))
			}
			return found.Help()
		},
	}
}

// more are commands that a build for a purpose of its own adds.
var more []func() *cobra.Command
