package main

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"mudline/internal/files"
	"mudline/internal/record"
	"mudline/internal/words"
	"mudline/texture/feel"
)

// handOptions are the options of the hand command.
type handOptions struct {
	answers                  map[string]*string
	ribbons                  []string
	replace, json, byTheLine bool
}

func handCommand() *cobra.Command { return handCommandAsking(inTerminal) }

// handCommandAsking is the command with what it asks people with.
func handCommandAsking(open func(cmd *cobra.Command, byTheLine bool) (asker, error)) *cobra.Command {
	o := handOptions{answers: map[string]*string{}}
	cmd := &cobra.Command{
		Use: "hand",
		Example: `  mudline hand plot-7
  mudline hand plot-7 --ball firm --ribbon 30mm --ribbon 1.25in --grit some
  mudline hand plot-7 --replace --ball weak --ribbon none --json`,
		Args: func(_ *cobra.Command, args []string) error {
			if len(args) != 1 {
				return badInput(words.Say("command.do-mudline-hand-folder"), words.Say("command.folder-needed-named", words.Whole("n", len(args))))
			}
			if args[0] == "" {
				return badInput(words.Say("command.do-mudline-hand-folder"), words.Say("command.name-folder-empty"))
			}
			return nil
		},
		RunE: func(cmd *cobra.Command, args []string) error { return o.run(cmd, args[0], open) },
	}
	o.add(cmd.Flags())
	return cmd
}

func (o *handOptions) add(f *pflag.FlagSet) {
	f.SortFlags = false
	for _, q := range feel.Questions() {
		if q.Kind == feel.Lengths {
			f.StringArrayVar(&o.ribbons, optionOf(q), nil, "")
		} else {
			o.answers[q.Key] = f.String(optionOf(q), "", "")
		}
	}
	f.BoolVar(&o.replace, "replace", false, "")
	f.BoolVar(&o.byTheLine, "by-the-line", false, "")
	f.BoolVar(&o.json, "json", false, "")
}

// optionOf is the option that answers a question: one ribbon at a time.
func optionOf(q feel.Question) string {
	if q.Kind == feel.Lengths {
		return "ribbon"
	}
	return q.Key
}

// stated is what the options answer; false where they answer nothing.
func (o *handOptions) stated(f *pflag.FlagSet) (hand feel.Observation, any bool, err error) {
	for _, q := range feel.Questions() {
		flag, values := optionOf(q), o.ribbons
		if q.Kind != feel.Lengths {
			values = []string{*o.answers[q.Key]}
		}
		if !f.Changed(flag) {
			continue
		}
		any = true
		if err := record.SetHand(&hand, q.Key, values...); err != nil {
			return hand, any, badOption("--"+flag, err)
		}
	}
	if any && hand.Empty() {
		return hand, any, badInput(words.Say("command.do-leave-options-out-be"), words.Say("command.options-answer-nothing"))
	}
	if questions, _ := doubts(hand); questions != "" {
		return hand, any, badInput(words.Say("command.do-feel-again-correct-options"), words.Say("command.nothing-was-written", words.Lines("questions", questions)))
	}
	return hand, any, nil
}

// doubts are what the answers raise, a paragraph each, and the questions to put
// again. Soil to be put down raises none.
func doubts(hand feel.Observation) (text string, again []feel.Question) {
	if hand.Smell == feel.Fuel {
		return "", nil
	}
	var asked, keys []string
	for _, c := range feel.Conflicts(hand) {
		asked, keys = append(asked, c.Ask.String()), append(keys, c.Keys...)
	}
	for _, q := range feel.Questions() {
		if slices.Contains(keys, q.Key) {
			again = append(again, q)
		}
	}
	return strings.Join(asked, "\n"), again
}

func (o *handOptions) run(cmd *cobra.Command, folder string, open func(*cobra.Command, bool) (asker, error)) error {
	hand, stated, err := o.stated(cmd.Flags())
	if err != nil {
		return err
	}
	path, earlier, err := handRecord(folder)
	if err != nil {
		return err
	}
	switch {
	case !stated:
		hand, err = o.ask(cmd, path, earlier.Hand, open)
	case earlier.Hand != nil && !o.replace:
		err = badInput(words.Say("command.do-replace-puts-these-answers"), words.Say("command.holds-hand-test-already", words.Name("path", path)))
	}
	if err != nil {
		return err
	}
	if hand.Empty() {
		_, err = fmt.Fprintln(cmd.ErrOrStderr(), spoken(cmd).Text("command.left-as-it-was", words.Name("file", path)))
		return err
	}
	if err := writeHand(spoken(cmd), folder, path, hand); err != nil {
		return err
	}
	return o.print(cmd.OutOrStdout(), path, hand, earlier.System, spoken(cmd))
}

// errStopped ends the questions before their end.
var errStopped = fmt.Errorf("%w", words.Say("command.stopped"))

// ask puts the questions, from earlier answers on where there are some.
func (o *handOptions) ask(cmd *cobra.Command, path string, earlier *feel.Observation, open func(*cobra.Command, bool) (asker, error)) (hand feel.Observation, err error) {
	form, err := open(cmd, o.byTheLine)
	if err != nil {
		return hand, err
	}
	if earlier != nil {
		hand = *earlier
		hand.RibbonsMM = slices.Clone(earlier.RibbonsMM)
		if !o.replace {
			change, err := form.confirm("", spoken(cmd).Text("command.change-answers", words.Name("file", path)), false)
			if err != nil || !change {
				return feel.Observation{}, err
			}
		}
	}
	if err := form.put(&hand, feel.Questions()); err != nil {
		return hand, err
	}
	return hand, askBack(form, &hand, spoken(cmd))
}

// askBack asks again what does not go together, until it does or the person stands
// by it: then it is recorded, and nothing is made of it.
func askBack(form asker, hand *feel.Observation, l *words.Language) error {
	for {
		text, again := doubts(*hand)
		if text == "" {
			return nil
		}
		yes, err := form.confirm(text, l.Text("command.answer-again"), true)
		if err != nil || !yes {
			return err
		}
		if err := form.put(hand, again); err != nil {
			return err
		}
	}
}

// handRecord finds the record that a hand test goes into: empty if there is none.
func handRecord(folder string) (path string, r *record.Record, err error) {
	path = filepath.Join(folder, record.FileName)
	info, err := os.Stat(folder)
	if errors.Is(err, fs.ErrNotExist) {
		return "", nil, badInput(words.Say("command.do-mudline-new-makes", words.ShellPath("folder", folder)), words.Say("command.does-not-exist", words.Name("path", folder)))
	}
	if err != nil {
		return "", nil, badInput(words.Message{}, words.Say("command.cannot-read", words.Name("path", folder), words.Because("why", err)))
	}
	if !info.IsDir() {
		return "", nil, badInput(words.Say("command.do-name-folder-jar"), words.Say("command.is-no-folder", words.Name("folder", folder)))
	}
	data, err := files.Read(path, record.MaxBytes)
	if errors.Is(err, fs.ErrNotExist) {
		return path, &record.Record{}, nil
	}
	if err != nil {
		return "", nil, badInput(words.Message{}, words.Say("as-it-is", words.Because("text", err)))
	}
	if r, err = record.Parse(path, data); err != nil {
		return "", nil, &inputError{err, words.Say("command.do-mudline-new-help-shows", words.Name("file", record.FileName))}
	}
	return path, r, nil
}

// writeHand puts the hand test into the record as it now is, or into a starter.
func writeHand(l *words.Language, folder, path string, hand feel.Observation) error {
	data, err := files.Read(path, record.MaxBytes)
	if errors.Is(err, fs.ErrNotExist) {
		if _, err := startRecord(l, folder, ""); err != nil {
			return err
		}
		data, err = files.Read(path, record.MaxBytes)
	}
	if err != nil {
		return badInput(words.Message{}, words.Say("as-it-is", words.Because("text", err)))
	}
	text, err := record.WithHand(path, data, hand)
	if err == nil {
		err = record.Replace(path, text)
	}
	if err != nil {
		return &inputError{err, words.Message{}}
	}
	return nil
}
