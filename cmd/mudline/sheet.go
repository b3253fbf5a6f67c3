package main

import (
	"bufio"
	"crypto/rand"
	"encoding/binary"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"mudline/imaging/sheetmark"
	"mudline/internal/backdrop"
	"mudline/internal/backdrop/press"
	"mudline/internal/files"
	"mudline/internal/words"
)

// sheetOptions are the options of the sheet command.
type sheetOptions struct {
	name, names, paper, format, out, id string
	count                               int
	dpi                                 float64
}

var (
	sheetForms  = []string{"pdf", "svg", "png"}
	sheetPapers = []string{sheetmark.A4.String(), sheetmark.Letter.String()}
)

const mostSheets = 500

func sheetCommand() *cobra.Command {
	var o sheetOptions
	cmd := &cobra.Command{
		Use: "sheet",
		Example: `  mudline sheet --name "plot 7"
  mudline sheet --names pupils.txt --out sheets.pdf
  mudline sheet --count 30 --paper letter
  mudline sheet --format png --dpi 150`,
		Args: noNames,
		RunE: func(cmd *cobra.Command, _ []string) error { return o.run(cmd) },
	}
	f := cmd.Flags()
	f.StringVar(&o.name, "name", "", "")
	f.StringVar(&o.names, "names", "", "")
	f.IntVar(&o.count, "count", 0, "")
	f.StringVar(&o.paper, "paper", sheetPapers[0], "")
	f.StringVar(&o.format, "format", "", "")
	f.Float64Var(&o.dpi, "dpi", 300, "")
	f.StringVar(&o.out, "out", "", "")
	f.StringVar(&o.id, "id", "", "")
	return cmd
}

func (o *sheetOptions) run(cmd *cobra.Command) error {
	if err := o.check(); err != nil {
		return err
	}
	l := spoken(cmd)
	names, err := o.jars()
	if err != nil {
		return err
	}
	first, err := o.first()
	if err != nil {
		return err
	}
	paper := sheetmark.Paper(slices.Index(sheetPapers, strings.ToLower(o.paper)))
	var prints []*backdrop.Print
	var said []string
	for i, name := range names {
		s := backdrop.Sheet{Identity: (first + sheetmark.Identity(i)) % sheetmark.Identities, Paper: paper, Name: name, Language: l}
		p, err := backdrop.Draw(s)
		if err != nil {
			return badInput(words.Message{}, words.Of(err))
		}
		prints = append(prints, p)
		said = append(said, strings.TrimSpace(l.Text("command.sheet-of", words.Name("sheet", s.Identity.String()), words.Name("jar", name))))
	}
	written, err := o.write(cmd, prints)
	if err != nil || o.out == "-" {
		return err
	}
	for i, s := range said {
		if _, err := fmt.Fprintln(cmd.OutOrStdout(), l.Text("command.wrote", words.Name("file", written[min(i, len(written)-1)]))+": "+s); err != nil {
			return err
		}
	}
	_, err = fmt.Fprintln(cmd.OutOrStdout(), l.Text("command.print-whole"))
	return err
}

// check settles the form and refuses what does not go together.
func (o *sheetOptions) check() error {
	if o.format == "" {
		o.format = sheetForms[0]
		if ext := strings.TrimPrefix(strings.ToLower(filepath.Ext(o.out)), "."); slices.Contains(sheetForms, ext) {
			o.format = ext
		}
	}
	given := 0
	for _, is := range []bool{o.name != "", o.names != "", o.count != 0} {
		if is {
			given++
		}
	}
	switch {
	case !slices.Contains(sheetForms, o.format):
		return badInput(words.Say("command.do-one-of", words.Names("list", "", sheetForms)), optionIs("--format", o.format))
	case !slices.Contains(sheetPapers, strings.ToLower(o.paper)):
		return badInput(words.Say("command.do-one-of", words.Names("list", "", sheetPapers)), optionIs("--paper", o.paper))
	case given > 1:
		return badInput(words.Say("command.do-give-one-of-them"), words.Say("command.names-twice"))
	case o.count < 0 || o.count > mostSheets:
		return outside("--count", o.count, 1, mostSheets)
	case !(o.dpi >= press.LeastDPI && o.dpi <= press.MostDPI):
		return outside("--dpi", o.dpi, press.LeastDPI, press.MostDPI)
	}
	return nil
}

// jars are the names of the sheets to make.
func (o *sheetOptions) jars() ([]string, error) {
	switch {
	case o.names != "":
		return namesIn(o.names)
	case o.count > 0:
		names := make([]string, o.count)
		for i := range names {
			names[i] = fmt.Sprint(i + 1)
		}
		return names, nil
	}
	return []string{o.name}, nil
}

// namesIn reads a name from each line that is not empty.
func namesIn(path string) ([]string, error) {
	const most = 1 << 20
	if err := mustExist(path, words.Message{}); err != nil {
		return nil, badOption("--names", err)
	}
	text, err := files.Read(path, most)
	if err != nil {
		return nil, badOption("--names", err)
	}
	var names []string
	lines := bufio.NewScanner(strings.NewReader(strings.TrimPrefix(string(text), "\ufeff")))
	for lines.Scan() {
		if name := strings.TrimSpace(strings.ToValidUTF8(lines.Text(), "")); name != "" {
			names = append(names, name)
		}
	}
	switch {
	case lines.Err() != nil:
		return nil, badInput(words.Say("command.do-name-a-line"), ofOption("--names", words.Say("of-file", words.Name("file", path), words.Because("text", lines.Err()))))
	case len(names) == 0:
		return nil, badInput(words.Say("command.do-name-a-line"), words.Say("command.no-names", words.Name("file", path)))
	case len(names) > mostSheets:
		return nil, badInput(words.Say("command.do-range", words.Whole("low", 1), words.Whole("high", mostSheets)), words.Say("command.many-names", words.Name("file", path), words.Whole("names", len(names))))
	}
	return names, nil
}

// first is the identity of the first sheet.
func (o *sheetOptions) first() (sheetmark.Identity, error) {
	if o.id == "" {
		var b [4]byte
		rand.Read(b[:]) // never fails
		return sheetmark.Identity(binary.LittleEndian.Uint32(b[:]) % sheetmark.Identities), nil
	}
	id, err := sheetmark.ParseIdentity(o.id)
	if err != nil {
		return 0, badInput(words.Say("command.do-identity"), ofOption("--id", err))
	}
	return id, nil
}

// write writes the sheets and gives the names of the files.
func (o *sheetOptions) write(cmd *cobra.Command, prints []*backdrop.Print) ([]string, error) {
	one := func(to io.Writer, p *backdrop.Print) error {
		if o.format == "svg" {
			return p.WriteSVG(to)
		}
		return press.WritePNG(to, p, o.dpi)
	}
	all := func(to io.Writer) error { return press.WritePDF(to, "mudline", prints...) }
	if o.out == "-" {
		switch {
		case o.format == "pdf":
			return nil, all(raw(cmd.OutOrStdout()))
		case len(prints) > 1:
			return nil, badInput(words.Say("command.do-file-or-pdf"), words.Say("command.several-sheets", words.Name("form", o.format)))
		}
		return nil, one(raw(cmd.OutOrStdout()), prints[0])
	}
	paths := o.paths(len(prints))
	if err := mayReplace(cmd, paths...); err != nil {
		return nil, err
	}
	for i, path := range paths {
		fill := all
		if o.format != "pdf" {
			fill = func(to io.Writer) error { return one(to, prints[i]) }
		}
		if err := writeSheet(path, fill); err != nil {
			return nil, err
		}
	}
	return paths, nil
}

// paths are the files for n sheets: one, or a numbered one for each where the form holds
// but one sheet.
func (o *sheetOptions) paths(n int) []string {
	path := o.out
	if path == "" {
		path = "sheet." + o.format
		if n > 1 {
			path = "sheets." + o.format
		}
	}
	if o.format == "pdf" || n == 1 {
		return []string{path}
	}
	ext := filepath.Ext(path)
	numbered := make([]string, n)
	for i := range numbered {
		numbered[i] = fmt.Sprintf("%s-%0*d%s", strings.TrimSuffix(path, ext), len(fmt.Sprint(n)), i+1, ext)
	}
	return numbered
}

func writeSheet(path string, fill func(io.Writer) error) error {
	if info, err := os.Stat(path); err == nil && !info.Mode().IsRegular() {
		return badInput(words.Say("command.do-name-file"), words.Say("file.not-ordinary", words.Name("file", path)))
	}
	if err := files.Write(path, fill); err != nil {
		return badInput(words.Say("command.do-name-file"), words.Say("command.cannot-write", words.Name("path", path), words.Because("why", err)))
	}
	return nil
}

// ofOption says of which option an error is.
func ofOption(option string, err error) words.Message {
	return words.Say("command.of-option", words.Name("option", option), words.Because("why", err))
}

// optionIs says that the value of an option is none that it can have.
func optionIs(option, given string) words.Message {
	return words.Say("command.option-is", words.Name("option", option), words.Quoted("given", given))
}
