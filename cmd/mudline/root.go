package main

import (
	"fmt"
	"runtime"
	"runtime/debug"
	"strings"

	"github.com/spf13/cobra"

	"mudline/internal/engine"
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
		SilenceUsage:      true,
		SilenceErrors:     true,
		CompletionOptions: cobra.CompletionOptions{HiddenDefaultCmd: true},
		PersistentPreRun:  func(*cobra.Command, []string) { *started = true },
	}
	root.SetFlagErrorFunc(func(cmd *cobra.Command, err error) error {
		said, _, _ := strings.Cut(err.Error(), ": strconv.") // which means nothing to a person
		return badInput(cmd.CommandPath()+" --help lists the options", "%s", said)
	})
	root.AddCommand(a.readCommand(), newCommand(), handCommand(), timesCommand(), classifyCommand(), a.compareCommand(), a.batchCommand(), mergeCommand(), pageCommand(), versionCommand())
	return root, started
}

// version is set when a release is built.
var version = "development"

func versionCommand() *cobra.Command {
	return &cobra.Command{
		Use:   "version",
		Short: "Print the version and the image engine",
		Args:  cobra.NoArgs,
		RunE: func(cmd *cobra.Command, _ []string) error {
			_, err := fmt.Fprintf(cmd.OutOrStdout(), "mudline %s%s, image engine %s, %s %s/%s\n",
				version, revision(), engine.Default().Name(), runtime.Version(), runtime.GOOS, runtime.GOARCH)
			return err
		},
	}
}

// revision is the source's revision where the build recorded it.
func revision() string {
	info, ok := debug.ReadBuildInfo()
	if !ok {
		return ""
	}
	for _, s := range info.Settings {
		if s.Key == "vcs.revision" && len(s.Value) >= 12 {
			return " (" + s.Value[:12] + ")"
		}
	}
	return ""
}
