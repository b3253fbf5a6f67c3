package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"net"
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strconv"
	"time"

	"github.com/spf13/cobra"

	"mudline/internal/files"
	web "mudline/internal/page"
	"mudline/internal/words"
)

type pageOptions struct {
	port   int
	phone  bool
	quiet  bool // do not open a browser
	folder string
}

func pageCommand() *cobra.Command {
	var o pageOptions
	cmd := &cobra.Command{
		Use: "page",
		Example: `  mudline page
  mudline page --phone
  mudline page --write site/`,
		Args: noNames,
		RunE: func(cmd *cobra.Command, _ []string) error {
			if err := mayReplace(cmd, inFolder(o.folder, "index.html")...); err != nil {
				return err
			}
			err := o.run(cmd.Context(), cmd.OutOrStdout(), spoken(cmd))
			if errors.Is(err, web.ErrNotBuilt) {
				return &inputError{err, words.Say("as-it-is", words.Name("text", "make build"))}
			}
			return err
		},
	}
	f := cmd.Flags()
	f.IntVar(&o.port, "port", 0, "")
	f.BoolVar(&o.phone, "phone", false, "")
	f.BoolVar(&o.quiet, "no-browser", false, "")
	f.StringVar(&o.folder, "write", "", "")
	return cmd
}

func (o pageOptions) run(ctx context.Context, w io.Writer, l *words.Language) error {
	site, err := web.Files()
	if err != nil {
		return err
	}
	if o.folder != "" {
		return o.write(site, w, l)
	}
	if o.port < 0 || o.port > 65535 {
		return badInput(words.Say("command.do-take-port"), words.Say("command.no-port", words.Name("port", strconv.Itoa(o.port))))
	}
	return o.serve(ctx, site, w, l)
}

// write puts the site into a folder, each file whole or not at all.
func (o pageOptions) write(site map[string][]byte, w io.Writer, l *words.Language) error {
	for name, data := range site {
		path := filepath.Join(o.folder, filepath.FromSlash(name))
		if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
			return badInput(words.Say("command.do-other-write"), words.Say("command.no-site", words.Because("why", err)))
		}
		if err := files.Write(path, func(w io.Writer) error { _, err := w.Write(data); return err }); err != nil {
			return badInput(words.Say("command.do-other-write"), words.Say("command.no-site", words.Because("why", err)))
		}
	}
	_, err := fmt.Fprintln(w, l.Text("command.wrote-site", words.Whole("n", len(site)), words.Name("folder", o.folder)))
	return err
}

// closingTime is how long requests under way may take at the end.
const closingTime = 2 * time.Second

func (o pageOptions) serve(ctx context.Context, site map[string][]byte, w io.Writer, l *words.Language) error {
	address := "127.0.0.1"
	hosts := []string{"127.0.0.1", "localhost", "::1"}
	var near []net.IP
	if o.phone {
		address = ""
		near = web.LocalAddresses()
		if len(near) == 0 {
			return badInput(words.Say("command.do-join-network"), words.Say("command.no-network"))
		}
		for _, ip := range near {
			hosts = append(hosts, ip.String())
		}
	}
	listener, err := net.Listen("tcp", net.JoinHostPort(address, strconv.Itoa(o.port)))
	if err != nil {
		return badInput(words.Say("command.do-other-port"), words.Say("command.cannot-listen", words.Because("why", err)))
	}
	port := listener.Addr().(*net.TCPAddr).Port
	here := fmt.Sprintf("http://localhost:%d/", port)
	fmt.Fprintln(w, l.Text("command.page-at", words.Name("address", here)))
	for _, ip := range near {
		at := fmt.Sprintf("http://%s/", net.JoinHostPort(ip.String(), strconv.Itoa(port)))
		if code, err := web.Code(at); err == nil {
			fmt.Fprintf(w, "\n%s\n\n%s\n", l.Text("command.on-phone", words.Name("address", at)), code)
		}
	}
	if o.phone {
		fmt.Fprintf(w, "%s\n%s\n", l.Text("command.everyone"), l.Text("command.plain-http"))
	}
	fmt.Fprintln(w, l.Text("command.ctrl-c"))
	if !o.quiet {
		openBrowser(here)
	}
	server := &http.Server{Handler: web.Handler(site, hosts), ReadHeaderTimeout: 10 * time.Second, IdleTimeout: time.Minute}
	done := make(chan error, 1)
	go func() { done <- server.Serve(listener) }()
	select {
	case err := <-done:
		return err
	case <-ctx.Done():
	}
	closing, cancel := context.WithTimeout(context.Background(), closingTime)
	defer cancel()
	return server.Shutdown(closing)
}

// openBrowser asks the system to open an address; without a desktop nothing
// happens, and the address stands in the terminal.
func openBrowser(address string) {
	name, args := "xdg-open", []string{address}
	switch runtime.GOOS {
	case "darwin":
		name = "open"
	case "windows":
		name, args = "rundll32", []string{"url.dll,FileProtocolHandler", address}
	}
	if cmd := exec.Command(name, args...); cmd.Start() == nil {
		go cmd.Wait()
	}
}
