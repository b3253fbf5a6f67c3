package main

import (
	"embed"
	"path"
	"strings"

	"github.com/spf13/cobra"
)

// topics are what the commands' own help has no room for. The first line of a file is what
// it is about; man pages are made of them too (papers.go).
//
//go:embed topics/*.txt
var topics embed.FS

// topicCommands are the topics as cobra takes them: commands that do nothing.
func topicCommands() []*cobra.Command {
	entries, err := topics.ReadDir("topics")
	if err != nil {
		panic(err) // embedded: cannot fail
	}
	var out []*cobra.Command
	for _, e := range entries {
		data, err := topics.ReadFile(path.Join("topics", e.Name()))
		if err != nil {
			panic(err) // embedded: cannot fail
		}
		title, text, _ := strings.Cut(string(data), "\n")
		out = append(out, &cobra.Command{Use: strings.TrimSuffix(e.Name(), ".txt"), Short: title, Long: strings.TrimSpace(text)})
	}
	return out
}
