package main

import (
	"errors"
	"fmt"
	"path/filepath"

	"github.com/spf13/cobra"

	"mudline/internal/batch"
	"mudline/internal/words"
)

func mergeCommand() *cobra.Command {
	var out string
	cmd := &cobra.Command{
		Use: "merge",
		Example: `  mudline merge read/
  mudline merge read-1/ read-2/ read-3/ --out read/`,
		Args: func(_ *cobra.Command, args []string) error {
			if len(args) == 0 {
				return badInput(words.Say("command.do-mudline-merge-folder"), words.Say("command.no-results-named"))
			}
			return nil
		},
		RunE: func(cmd *cobra.Command, args []string) error {
			if out == "" && len(args) > 1 {
				return badInput(words.Say("command.do-add-out-folder"), words.Say("command.say-into-which-folder", words.Whole("n", len(args))))
			}
			if out == "" {
				out = args[0]
			}
			for _, folder := range args {
				if err := mustExist(folder, words.Say("command.do-mudline-merge-help-says")); err != nil {
					return err
				}
			}
			sum, err := batch.Merge(args, out)
			var write *batch.WriteError
			if errors.As(err, &write) || errors.Is(err, batch.ErrBusy) {
				return &inputError{err, outHint(err)}
			}
			if err != nil {
				return &inputError{err, words.Say("command.do-mudline-merge-help-says")}
			}
			l := spoken(cmd)
			fmt.Fprintln(cmd.OutOrStdout(), l.Text("command.merged", words.Told("jars", countJars(sum.Jars)), words.Whole("read", sum.Read), words.Whole("refused", sum.Refused), words.Name("file", filepath.Join(out, "index.html"))))
			showGone(cmd.OutOrStdout(), sum.Gone, out, l)
			return ended(sum, 0, true)
		},
	}
	cmd.Flags().StringVar(&out, "out", "", "")
	return cmd
}
