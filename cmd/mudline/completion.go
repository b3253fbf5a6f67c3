package main

import (
	"maps"
	"strings"
	"sync"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"mudline/internal/compare"
	"mudline/internal/record"
	"mudline/internal/report"
	"mudline/internal/words"
	"mudline/texture/feel"
	"mudline/texture/moisture"
)

// valuesOf are what the options of a command can have, by their names, where that is a
// list.
func valuesOf(command string) map[string][]string {
	values := maps.Clone(usualValues())
	switch command {
	case "sheet":
		values["format"] = sheetForms
	case "compare":
		values["format"], values["chart"] = chartForms, report.ComparedCharts
	}
	return values
}

// usualValues are those of most commands. The options of hand have their questions' answers.
var usualValues = sync.OnceValue(func() map[string][]string {
	values := map[string][]string{
		languageFlag: words.Tags(), "system": record.Systems, "format": formats, "chart": report.ChartNames(), "sort": compare.Orders, "paper": sheetPapers,
		record.Dispersant: {"yes", "no"}, record.Stones: {"out"},
	}
	for _, c := range moisture.Crops() {
		values["crop"] = append(values["crop"], c.Name)
	}
	for _, q := range feel.Questions() {
		for _, v := range q.Values() {
			values[q.Key] = append(values[q.Key], v)
			values["hand"] = append(values["hand"], q.Key+"="+v)
		}
	}
	return values
})

// completeValues tells the shells what options can have. Options without a list keep what
// a shell does by itself: it offers files.
func completeValues(root *cobra.Command) {
	for _, cmd := range append(root.Commands(), root) {
		values := valuesOf(cmd.Name())
		offer := func(f *pflag.Flag) {
			list := values[f.Name]
			if _, set := cmd.GetFlagCompletionFunc(f.Name); list == nil || set || f.Value.Type() == "bool" {
				return
			}
			_ = cmd.RegisterFlagCompletionFunc(f.Name, cobra.FixedCompletions(list, cobra.ShellCompDirectiveNoFileComp)) // set once: cannot fail
		}
		cmd.LocalFlags().VisitAll(offer)
		if takesNone := strings.Contains(" times classify version page ", " "+cmd.Name()+" "); takesNone {
			cmd.ValidArgsFunction = cobra.NoFileCompletions
		}
	}
}
