//go:build papers

package main

import (
	"fmt"
	"io"
	"os"
	"path/filepath"

	"github.com/spf13/cobra"
	"github.com/spf13/cobra/doc"

	"mudline/internal/files"
)

func init() { more = append(more, papersCommand) }

// papersCommand writes man pages and completions for packages. It is built for the making
// of a release only; SOURCE_DATE_EPOCH is the date that the pages bear.
func papersCommand() *cobra.Command {
	return &cobra.Command{
		Use:    "papers FOLDER",
		Short:  "Write man pages and completions into a folder",
		Args:   cobra.ExactArgs(1),
		Hidden: true,
		RunE: func(_ *cobra.Command, args []string) error {
			root, _ := app{}.root(nil) // in English, whoever makes them
			root.DisableAutoGenTag = true
			man := filepath.Join(args[0], "man")
			if err := os.MkdirAll(man, 0o755); err != nil {
				return err
			}
			header := &doc.GenManHeader{Section: "1", Source: "mudline " + version, Manual: "mudline"}
			if err := doc.GenManTree(root, header, man); err != nil {
				return err
			}
			header.Section = "7" // texts on no command of their own
			for _, topic := range root.Commands() {
				if !topic.IsAdditionalHelpTopicCommand() {
					continue
				}
				err := files.Write(filepath.Join(man, "mudline-"+topic.Name()+".7"), func(w io.Writer) error { return doc.GenMan(topic, header, w) })
				if err != nil {
					return err
				}
			}
			for path, write := range map[string]func(io.Writer) error{
				"bash/mudline":        func(w io.Writer) error { return root.GenBashCompletionV2(w, true) },
				"zsh/_mudline":        root.GenZshCompletion,
				"fish/mudline.fish":   func(w io.Writer) error { return root.GenFishCompletion(w, true) },
				"windows/mudline.ps1": root.GenPowerShellCompletionWithDesc,
			} {
				path = filepath.Join(args[0], "completions", filepath.FromSlash(path))
				if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
					return err
				}
				if err := files.Write(path, write); err != nil {
					return fmt.Errorf("%s: %w", path, err)
				}
			}
			return nil
		},
	}
}
