package main

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"

	"github.com/spf13/cobra"

	"mudline/internal/record"
)

func newCommand() *cobra.Command {
	var name string
	cmd := &cobra.Command{
		Use:   "new FOLDER",
		Short: "Write a " + record.FileName + " to fill in for one jar",
		Long: `Write a commented ` + record.FileName + ` into the folder of one jar's photos, to fill in
what you know about it. A record that is there already is never overwritten.
The folder is made if it is missing. This is what is written:

` + record.Starter("plot-7", ""),
		Args: func(_ *cobra.Command, args []string) error {
			if len(args) != 1 {
				return badInput("mudline new FOLDER", "one folder is needed, %d are named", len(args))
			}
			return nil
		},
		RunE: func(cmd *cobra.Command, args []string) error {
			path, err := startRecord(args[0], name)
			if err != nil {
				return err
			}
			_, err = fmt.Fprintf(cmd.OutOrStdout(), "wrote %s\nfill in what you know, put the photos beside it, then: mudline read %s\n", path, args[0])
			return err
		},
	}
	cmd.Flags().StringVar(&name, "name", "", "the jar's `name`, else that of its folder")
	return cmd
}

// startRecord writes the starter and takes back a folder it made if that fails.
func startRecord(folder, name string) (path string, err error) {
	abs, err := filepath.Abs(folder)
	if err != nil {
		return "", badInput("", "%s: %w", folder, err)
	}
	if name == "" {
		name = filepath.Base(abs)
	}
	made := os.Mkdir(folder, 0o755)
	if made != nil && !errors.Is(made, os.ErrExist) {
		return "", badInput("name a folder whose parent exists", "cannot make the folder: %w", made)
	}
	photo := ""
	if photos, err := photosIn(folder); err == nil && len(photos) > 0 {
		photo = filepath.Base(photos[0])
	}
	path, err = record.WriteStarter(folder, name, photo)
	if err == nil {
		return path, nil
	}
	if made == nil {
		os.Remove(folder)
	}
	hint := ""
	if errors.Is(err, record.ErrExists) {
		hint = "edit it, or move it away first"
	}
	return "", &inputError{err, hint}
}
