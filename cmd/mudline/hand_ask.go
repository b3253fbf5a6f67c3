package main

import (
	"bufio"
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"strconv"
	"strings"

	tea "charm.land/bubbletea/v2"
	"charm.land/huh/v2"
	"github.com/spf13/cobra"
	"golang.org/x/term"

	"mudline/internal/record"
	"mudline/internal/words"
	"mudline/texture/feel"
)

// asker puts questions to a person. Its errors are errStopped, or a fault.
type asker interface {
	// confirm asks for a yes or a no, after what there is to know first; on a
	// screen, Enter alone gives the usual answer.
	confirm(first, question string, usual bool) (bool, error)
	// put asks questions of the hand test, starting from the answers in it, up to
	// one after whose answer the soil should not be handled any more.
	put(*feel.Observation, []feel.Question) error
}

// inTerminal asks on the terminal; the answers to the program stay on stdout.
func inTerminal(cmd *cobra.Command, byTheLine bool) (asker, error) {
	in, isFile := cmd.InOrStdin().(*os.File)
	out, toFile := raw(cmd.ErrOrStderr()).(*os.File)
	if !isFile || !toFile || !term.IsTerminal(int(in.Fd())) || !term.IsTerminal(int(out.Fd())) {
		return nil, badInput(words.Say("command.do-give-answers-options-ball"), words.Say("command.no-terminal"))
	}
	if byTheLine || os.Getenv("TERM") == "dumb" {
		return newLineForm(cmd.Context(), in, out, spoken(cmd)), nil
	}
	return screenForm{ctx: cmd.Context(), in: in, out: out, l: spoken(cmd)}, nil
}

// screenForm asks with a form that is moved through with the arrow keys.
type screenForm struct {
	ctx context.Context
	l   *words.Language
	in  io.Reader
	out io.Writer
	// size is that of a screen which is not a terminal and cannot be asked.
	size []tea.ProgramOption
}

func (s screenForm) confirm(first, question string, usual bool) (bool, error) {
	yes := usual
	err := s.show(huh.NewGroup(huh.NewConfirm().Title(question).Description(first).Value(&yes)))
	return yes, err
}

func (s screenForm) put(o *feel.Observation, questions []feel.Question) error {
	answers := make([]string, len(questions))
	pages := make([]*huh.Group, len(questions))
	for i, q := range questions {
		answers[i] = answerOf(*o, q)
		pages[i] = s.questionPage(q, &answers[i], s.l.Text("command.of-questions", words.Whole("n", i+1), words.Whole("all", len(questions)))+"  ").
			WithHideFunc(func() bool { return endsAt(questions[:i], answers) })
	}
	fmt.Fprintln(s.out, s.l.Text("command.form-keys"))
	if err := s.show(pages...); err != nil {
		return err
	}
	for i, q := range questions {
		if endsAt(questions[:i], answers) {
			return nil
		}
		if err := setAnswer(o, q, answers[i]); err != nil {
			return err
		}
	}
	return nil
}

// endsAt says that after these questions with their answers nothing more is to be
// done with the soil.
func endsAt(asked []feel.Question, answers []string) bool {
	for i, q := range asked {
		if q.Key == feel.SmellKey && answers[i] == string(feel.Fuel) {
			return true
		}
	}
	return false
}

// questionPage is one question with how to do its test.
func (s screenForm) questionPage(q feel.Question, answer *string, number string) *huh.Group {
	if q.Kind != feel.Choice {
		return huh.NewGroup(huh.NewInput().Title(number + s.l.Say(q.Do)).Description(s.how(q) + " " + s.l.Text("command.for-example", words.Told("example", q.Example)) + "\n").Value(answer).
			Validate(func(text string) error { return setAnswer(new(feel.Observation), q, text) }))
	}
	options := []huh.Option[string]{huh.NewOption(s.l.Text("command.skip"), "")}
	for _, c := range q.Choices {
		options = append(options, huh.NewOption(s.l.Say(c.Label), c.Value))
	}
	return huh.NewGroup(huh.NewSelect[string]().Title(number + s.l.Say(q.Do)).Description(s.how(q) + "\n").Options(options...).Value(answer))
}

// how is how a test is done, and the question that follows.
func (s screenForm) how(q feel.Question) string { return s.l.Say(q.How) + "\n\n" + s.l.Say(q.Ask) }

// show runs a form to its end.
func (s screenForm) show(pages ...*huh.Group) error {
	keys := huh.NewDefaultKeyMap()
	keys.Select.Filter.SetEnabled(false)
	form := huh.NewForm(pages...).WithKeyMap(keys).WithTheme(huh.ThemeFunc(plainTheme)).WithWidth(s.width())
	err := form.WithProgramOptions(s.size...).WithInput(s.in).WithOutput(s.out).RunWithContext(s.ctx)
	if errors.Is(err, huh.ErrUserAborted) || errors.Is(err, huh.ErrTimeout) || s.ctx.Err() != nil {
		return errStopped
	}
	return err
}

// width is that of the terminal within what can be read; the form cannot be
// drawn in less.
func (s screenForm) width() int {
	const least, most = 40, 80
	if f, ok := s.out.(*os.File); ok {
		if columns, _, err := term.GetSize(int(f.Fd())); err == nil {
			return min(max(columns, least), most)
		}
	}
	return most
}

// plainTheme keeps to the terminal's own colours, which its owner can read.
func plainTheme(dark bool) *huh.Styles {
	t := huh.ThemeBase(dark)
	t.Focused.Title = t.Focused.Title.Bold(true)
	own := t.Form.Base
	t.Help.ShortKey, t.Help.ShortDesc, t.Help.ShortSeparator = own, own, own
	return t
}

// answerOf is an answer as it stands in the form.
func answerOf(o feel.Observation, q feel.Question) string {
	text := feel.Get(o, q.Key)
	if text != "" && q.Kind == feel.Lengths {
		text += " mm"
	}
	return text
}

func setAnswer(o *feel.Observation, q feel.Question, text string) error {
	return record.SetHand(o, q.Key, text)
}

// lineForm asks in plain lines, one after the other.
type lineForm struct {
	ctx   context.Context
	l     *words.Language
	lines <-chan string
	out   io.Writer
}

func newLineForm(ctx context.Context, in io.Reader, out io.Writer, l *words.Language) lineForm {
	lines := make(chan string)
	go func() {
		defer close(lines)
		for scan := bufio.NewScanner(in); scan.Scan(); {
			select {
			case lines <- strings.TrimSpace(scan.Text()):
			case <-ctx.Done():
				return
			}
		}
	}()
	return lineForm{ctx, l, lines, out}
}

// line asks for one line.
func (l lineForm) line(prompt string) (string, error) {
	fmt.Fprint(l.out, prompt)
	select {
	case text, open := <-l.lines:
		if open {
			return text, nil
		}
	case <-l.ctx.Done():
	}
	fmt.Fprintln(l.out)
	return "", errStopped
}

func (l lineForm) confirm(first, question string, _ bool) (bool, error) {
	if first != "" {
		first = "\n" + first + "\n"
	}
	text, err := l.line(first + question + " " + l.l.Text("command.type-yes-no") + " ")
	yes := []rune(strings.ToLower(l.l.Text("command.yes")))
	return strings.HasPrefix(strings.ToLower(text), string(yes[:1])), err
}

func (l lineForm) put(o *feel.Observation, questions []feel.Question) error {
	for i, q := range questions {
		fmt.Fprintf(l.out, "\n%s\n%s\n%s\n", l.l.Text("command.question", words.Whole("n", i+1), words.Whole("all", len(questions)), words.Told("question", q.Do)), l.l.Say(q.How), l.l.Say(q.Ask))
		for n, c := range q.Choices {
			fmt.Fprintf(l.out, "%d: %s\n", n+1, l.l.Say(c.Label))
		}
		if err := l.one(o, q); err != nil {
			return err
		}
		if q.Key == feel.SmellKey && o.Smell == feel.Fuel {
			return nil
		}
	}
	return nil
}

// one asks a question until its answer can be taken.
func (l lineForm) one(o *feel.Observation, q feel.Question) error {
	prompt := l.l.Text("command.type-number")
	if q.Kind != feel.Choice {
		prompt = l.l.Text("command.type-answer", words.Told("example", q.Example))
	}
	if now := answerOf(*o, q); now != "" {
		prompt += " " + l.l.Text("command.enter-keeps", words.Name("now", now)) + " "
	} else {
		prompt += " " + l.l.Text("command.enter-skips") + " "
	}
	for {
		text, err := l.line(prompt)
		if err != nil || text == "" {
			return err
		}
		for n, c := range q.Choices {
			if text == strconv.Itoa(n+1) || strings.EqualFold(text, l.l.Say(c.Label)) {
				text = c.Value
				break
			}
		}
		if text == "-" {
			text = ""
		}
		err = setAnswer(o, q, text)
		if err == nil {
			return nil
		}
		fmt.Fprintln(l.out, l.l.Text("command.not-taken", words.Because("why", err)))
	}
}
