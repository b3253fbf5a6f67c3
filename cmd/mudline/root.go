package main

import (
	"strings"

	"github.com/spf13/cobra"
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
		PersistentPreRun:  func(*cobra.Command, []string) { *started = true },
	}
	root.SetVersionTemplate(aboutThis().String() + "\n")
	root.SetFlagErrorFunc(func(cmd *cobra.Command, err error) error {
		said, _, _ := strings.Cut(err.Error(), ": strconv.") // which means nothing to a person
		return badInput(cmd.CommandPath()+" --help lists the options", "%s", said)
	})
	root.AddCommand(a.readCommand(), newCommand(), handCommand(), timesCommand(), classifyCommand(), a.compareCommand(), a.batchCommand(), mergeCommand(), pageCommand(), versionCommand())
	for _, command := range more {
		root.AddCommand(command())
	}
	return root, started
}

// more are commands that a build for a purpose of its own adds.
var more []func() *cobra.Command
