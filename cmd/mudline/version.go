package main

import (
	"encoding/json"
	"fmt"
	"runtime"
	"runtime/debug"

	"github.com/spf13/cobra"

	"mudline/internal/engine"
)

// version and commit are set when a release is built.
var version, commit = "development", ""

// about is what a program says of itself.
type about struct {
	Version string `json:"version"`
	// Commit is the source's revision, empty where the build did not record it.
	Commit string `json:"commit,omitempty"`
	Engine string `json:"engine"`
	Go     string `json:"go"`
	OS     string `json:"os"`
	Arch   string `json:"arch"`
}

func aboutThis() about {
	return about{version, recorded(), engine.Default().Name(), runtime.Version(), runtime.GOOS, runtime.GOARCH}
}

// String is the one line that people read.
func (a about) String() string {
	return fmt.Sprintf("mudline %s%s, image engine %s, %s %s/%s", a.Version, revision(), a.Engine, a.Go, a.OS, a.Arch)
}

func versionCommand() *cobra.Command {
	var asJSON bool
	cmd := &cobra.Command{
		Use:  "version",
		Args: noNames,
		RunE: func(cmd *cobra.Command, _ []string) error {
			if asJSON {
				return json.NewEncoder(cmd.OutOrStdout()).Encode(aboutThis())
			}
			_, err := fmt.Fprintln(cmd.OutOrStdout(), aboutThis())
			return err
		},
	}
	cmd.Flags().BoolVar(&asJSON, "json", false, "")
	return cmd
}

// revision is the commit in short, in brackets.
func revision() string {
	if c := recorded(); len(c) >= 12 {
		return " (" + c[:12] + ")"
	}
	return ""
}

// recorded is the commit that was stated to the build, or that Go wrote into it.
func recorded() string {
	if commit != "" {
		return commit
	}
	info, ok := debug.ReadBuildInfo()
	if !ok {
		return ""
	}
	for _, s := range info.Settings {
		if s.Key == "vcs.revision" {
			return s.Value
		}
	}
	return ""
}
