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
		Use:   "page",
		Short: "Read jars in the browser, without a terminal",
		Long: `Serve the page in which jars are read in the browser, and open it. The photos
stay in the browser: the whole reading runs there, and nothing is sent anywhere.
The page keeps its jars in the browser's own storage.

Without options only this machine can reach it. With --phone the local network
can too, and a code to point the phone's camera at is printed; over plain HTTP a
phone cannot keep the page for use without a connection. To give a school or a
club the page under its own address, --write makes the static site: any web
server with HTTPS can hold it.`,
		Example: `  mudline page
  mudline page --phone
  mudline page --write site/`,
		Args: cobra.NoArgs,
		RunE: func(cmd *cobra.Command, _ []string) error {
			err := o.run(cmd.Context(), cmd.OutOrStdout())
			if errors.Is(err, web.ErrNotBuilt) {
				return &inputError{err, "make build"}
			}
			return err
		},
	}
	f := cmd.Flags()
	f.IntVar(&o.port, "port", 0, "listen on this `port`; 0 takes a free one")
	f.BoolVar(&o.phone, "phone", false, "let phones on the local network reach it, and print a code for them")
	f.BoolVar(&o.quiet, "no-browser", false, "do not open a browser")
	f.StringVar(&o.folder, "write", "", "write the static site into this `folder` instead")
	return cmd
}

func (o pageOptions) run(ctx context.Context, w io.Writer) error {
	site, err := web.Files()
	if err != nil {
		return err
	}
	if o.folder != "" {
		return o.write(site, w)
	}
	if o.port < 0 || o.port > 65535 {
		return badInput("take one from 1024 to 65535, or 0 for a free one", "port %d does not exist", o.port)
	}
	return o.serve(ctx, site, w)
}

// write puts the site into a folder, each file whole or not at all.
func (o pageOptions) write(site map[string][]byte, w io.Writer) error {
	for name, data := range site {
		path := filepath.Join(o.folder, filepath.FromSlash(name))
		if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
			return badInput("choose another folder with --write", "cannot write the site: %w", err)
		}
		if err := files.Write(path, func(w io.Writer) error { _, err := w.Write(data); return err }); err != nil {
			return badInput("choose another folder with --write", "cannot write the site: %w", err)
		}
	}
	_, err := fmt.Fprintf(w, "wrote %d files into %s: put the folder on any web server with HTTPS\n", len(site), o.folder)
	return err
}

// closingTime is how long requests under way may take at the end.
const closingTime = 2 * time.Second

func (o pageOptions) serve(ctx context.Context, site map[string][]byte, w io.Writer) error {
	address := "127.0.0.1"
	hosts := []string{"127.0.0.1", "localhost", "::1"}
	var near []net.IP
	if o.phone {
		address = ""
		near = web.LocalAddresses()
		if len(near) == 0 {
			return badInput("join the phone's wireless network first", "this machine is on no local network that a phone could reach")
		}
		for _, ip := range near {
			hosts = append(hosts, ip.String())
		}
	}
	l, err := net.Listen("tcp", net.JoinHostPort(address, strconv.Itoa(o.port)))
	if err != nil {
		return badInput("choose another with --port", "cannot listen: %w", err)
	}
	port := l.Addr().(*net.TCPAddr).Port
	here := fmt.Sprintf("http://localhost:%d/", port)
	fmt.Fprintf(w, "The page is at %s\n", here)
	for _, ip := range near {
		at := fmt.Sprintf("http://%s/", net.JoinHostPort(ip.String(), strconv.Itoa(port)))
		if code, err := web.Code(at); err == nil {
			fmt.Fprintf(w, "\nOn a phone in the same network: %s\n\n%s\n", at, code)
		}
	}
	if o.phone {
		fmt.Fprintln(w, "Everyone on this network can open the page; their photos stay on their own phones.\nOver plain HTTP the phone cannot keep the page for later: it needs this connection.")
	}
	fmt.Fprintln(w, "Ctrl-C ends it.")
	if !o.quiet {
		openBrowser(here)
	}
	server := &http.Server{Handler: web.Handler(site, hosts), ReadHeaderTimeout: 10 * time.Second, IdleTimeout: time.Minute}
	done := make(chan error, 1)
	go func() { done <- server.Serve(l) }()
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
