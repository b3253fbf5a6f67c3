package main

import (
	"os"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"mudline/internal/words"
)

// root builds the command. started turns true once a command's own work begins,
// so that faults before it are known to lie in the command line.
func (a app) root() (root *cobra.Command, started *bool) {
	started = new(bool)
	root = &cobra.Command{
		Use:   "mudline",
		Short: "Read what a soil is made of from photos of a settling jar",
		Long: `Mudline reads timed photos of a jar in which soil shaken with water settles.
It finds the layers and says what share of the soil is sand, silt and clay, the
texture class, how sure that is, and what would make it surer.`,
		Version:           version,
		SilenceUsage:      true,
		SilenceErrors:     true,
		CompletionOptions: cobra.CompletionOptions{HiddenDefaultCmd: true},
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
	root.PersistentFlags().Bool(forceFlag, false, "write over files that mudline did not write")
	root.PersistentFlags().String(languageFlag, words.Tags()[0], "write and print in this `language`: "+strings.Join(words.Tags(), ", ")+"; help and the heads of CSV files stay English")
	root.SetVersionTemplate(aboutThis().String() + "\n")
	root.SetFlagErrorFunc(func(cmd *cobra.Command, err error) error {
		said, _, _ := strings.Cut(err.Error(), ": strconv.") // which means nothing to a person
		hint := words.Say("command.do-help-lists-options", words.Name("commandpath", cmd.CommandPath()))
		if i := strings.LastIndex(said, " -"); i >= 0 {
			if _, err := os.Lstat(said[i+1:]); err == nil { // a file is meant
				hint = words.Say("command.do-dash-file", words.ShellPath("file", said[i+1:]))
			}
		}
		return badInput(hint, words.Say("as-it-is", words.Name("text", said)))
	})
	root.AddCommand(a.readCommand(), newCommand(), sheetCommand(), handCommand(), timesCommand(), classifyCommand(), a.compareCommand(), a.batchCommand(), mergeCommand(), pageCommand(), versionCommand())
	root.AddCommand(topicCommands()...)
	root.SetHelpCommand(helpCommand())
	for _, command := range more {
		root.AddCommand(command())
	}
	completeValues(root)
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
		Use:   "help [command or topic]",
		Short: "Help about any command or topic",
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

// languageFlag is the option that says in which language all is written and printed.
const languageFlag = "language"
