package main

import (
	"path/filepath"

	"github.com/spf13/cobra"

	"mudline/internal/files"
	"mudline/internal/words"
)

// forceFlag is the option of all commands that write files.
const forceFlag = "force"

// mayReplace is an error where one of the files to be written is there already and is no
// file of this program's: a photo, a record, a page of something else. It is asked before
// the work begins.
func mayReplace(cmd *cobra.Command, paths ...string) error {
	if force, err := cmd.Flags().GetBool(forceFlag); err == nil && force {
		return nil
	}
	for _, path := range paths {
		if path != "" && files.Foreign(path) {
			return badInput(words.Say("command.do-force", words.Name("option", "--"+forceFlag)), words.Say("command.foreign", words.Name("file", path)))
		}
	}
	return nil
}

// inFolder are the paths of files in a folder; none without a folder.
func inFolder(folder string, names ...string) []string {
	if folder == "" {
		return nil
	}
	out := make([]string, len(names))
	for i, n := range names {
		out[i] = filepath.Join(folder, n)
	}
	return out
}
