package main

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"time"

	"github.com/spf13/cobra"

	"mudline/internal/backdrop/press"
	"mudline/internal/record"
	"mudline/internal/report"
	"mudline/internal/words"
)

func newCommand() *cobra.Command {
	var name string
	var sheet bool
	var film bool
	cmd := &cobra.Command{
		Use: "new",
		Args: func(_ *cobra.Command, args []string) error {
			if len(args) != 1 {
				return badInput(words.Say("command.do-mudline-new-folder"), words.Say("command.folder-needed-named", words.Whole("n", len(args))))
			}
			return nil
		},
		RunE: func(cmd *cobra.Command, args []string) error {
			sheetFile := filepath.Join(args[0], "sheet.pdf")
			if sheet {
				if err := mayReplace(cmd, sheetFile); err != nil {
					return err
				}
			}
			l := spoken(cmd)
			path, err := startRecord(l, args[0], name)
			if err != nil {
				return err
			}
			if sheet {
				o := sheetOptions{name: name, paper: sheetPapers[0], dpi: press.LeastDPI, out: sheetFile}
				if o.name == "" {
					o.name = filepath.Base(filepath.Dir(path))
				}
				if err := o.run(cmd); err != nil {
					return err
				}
			}
			if film {
				if err := report.WriteFilm(cmd.OutOrStdout(), filmPlan(usualFilmed), time.Time{}, report.Options{Language: l, Columns: columnsOf(cmd.OutOrStdout())}); err != nil {
					return err
				}
				fmt.Fprintln(cmd.OutOrStdout())
			}
			_, err = fmt.Fprintf(cmd.OutOrStdout(), "%s\n%s\n", l.Text("command.wrote", words.Name("file", path)), l.Text("command.fill-in", words.ShellPath("folder", args[0])))
			if err != nil {
				return err
			}
			return report.WriteCautions(cmd.OutOrStdout(), report.Options{Language: l})
		},
	}
	cmd.Flags().BoolVar(&sheet, "sheet", false, "")
	cmd.Flags().BoolVar(&film, "film", false, "")
	cmd.Flags().StringVar(&name, "name", "", "")
	return cmd
}

// startRecord writes the starter and takes back a folder it made if that fails.
func startRecord(l *words.Language, folder, name string) (path string, err error) {
	abs, err := filepath.Abs(folder)
	if err != nil {
		return "", badInput(words.Message{}, words.Say("of-file", words.Name("file", folder), words.Because("text", err)))
	}
	if name == "" {
		name = filepath.Base(abs)
	}
	made := os.Mkdir(folder, 0o755)
	if made != nil && !errors.Is(made, os.ErrExist) {
		return "", badInput(words.Say("command.do-name-folder-whose-parent"), words.Say("command.cannot-make-folder", words.Because("why", made)))
	}
	if info, err := os.Stat(folder); err == nil && !info.IsDir() {
		return "", badInput(words.Message{}, words.Say("batch.no-folder", words.Name("folder", folder)))
	}
	photo := ""
	if photos, err := photosIn(folder); err == nil && len(photos) > 0 {
		photo = filepath.Base(photos[0])
	}
	path, err = record.WriteStarter(l, folder, name, photo)
	if err == nil {
		return path, nil
	}
	if made == nil {
		os.Remove(folder)
	}
	var hint words.Message
	if errors.Is(err, record.ErrExists) {
		hint = words.Say("command.do-edit-or-move")
	}
	return "", &inputError{err, hint}
}
