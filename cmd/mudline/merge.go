package main

import (
	"errors"
	"fmt"
	"path/filepath"

	"github.com/spf13/cobra"

	"mudline/internal/batch"
)

func mergeCommand() *cobra.Command {
	var out string
	cmd := &cobra.Command{
		Use:   "merge FOLDER...",
		Short: "Join the parts of a batch that several machines have read",
		Long: `Join the parts of a batch that mudline batch --shard has read, as if one run had
read them all. The folders are those the parts were written into: one for all of
them, or several. A part that is missing, unfinished or there twice, and parts of
other photos, programs or options are refused.

Exit status: 0 all jars read, 3 some could not be read, 2 the parts do not make
one batch, 1 a fault of the program.`,
		Example: `  mudline merge read/
  mudline merge read-1/ read-2/ read-3/ --out read/`,
		Args: func(_ *cobra.Command, args []string) error {
			if len(args) == 0 {
				return badInput("mudline merge FOLDER...", "no folders of results are named")
			}
			return nil
		},
		RunE: func(cmd *cobra.Command, args []string) error {
			if out == "" && len(args) > 1 {
				return badInput("add --out FOLDER", "say into which folder to join %d folders", len(args))
			}
			if out == "" {
				out = args[0]
			}
			sum, err := batch.Merge(args, out)
			var write *batch.WriteError
			if errors.As(err, &write) || errors.Is(err, batch.ErrBusy) {
				return &inputError{err, outHint(err)}
			}
			if err != nil {
				return &inputError{err, "mudline merge --help says what can be joined"}
			}
			fmt.Fprintf(cmd.OutOrStdout(), "%s: %d read, %d refused; look at %s\n", count(sum.Jars, "jar"), sum.Read, sum.Refused, filepath.Join(out, "index.html"))
			showGone(cmd.OutOrStdout(), sum.Gone, out)
			return ended(sum, 0)
		},
	}
	cmd.Flags().StringVar(&out, "out", "", "write the joined results into this `folder`; needed for several folders")
	return cmd
}
