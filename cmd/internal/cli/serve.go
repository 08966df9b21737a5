package cli

import (
	"fmt"
	"net"
	"os/exec"
	"runtime"
	"strconv"

	"github.com/spf13/cobra"

	"relath/cmd/internal/web"
	"relath/index"
)

func (a *app) serve() *cobra.Command {
	var port int
	var open bool
	c := &cobra.Command{
		Use:   "serve [FOLDER]",
		Short: "Open the page: describe, understand and change houses in a browser",
		Long: `serve opens a page on this computer, and on no other, that shows the same
documents as the terminal. Houses are the YAML files in the folder, which is the
current one where none is given; every page says which command repeats it. The
program runs until it is stopped with Ctrl-C.`,
		Example: `  relath serve
  relath serve houses --open
  relath serve houses --port 8080`,
		Args: cobra.MaximumNArgs(1),
		RunE: func(c *cobra.Command, args []string) error {
			folder := "."
			if len(args) == 1 {
				folder = args[0]
			}
			return a.runServe(c, folder, port, open)
		},
	}
	c.Flags().IntVar(&port, "port", 0, "port of the page (default a free one)")
	c.Flags().BoolVar(&open, "open", false, "open the page in the browser")
	return c
}

func (a *app) runServe(c *cobra.Command, folder string, port int, open bool) error {
	base, err := a.base()
	if err != nil {
		return err
	}
	ix, err := index.Open(base, "")
	if err != nil {
		return internalError{err}
	}
	defer ix.Close()
	server, err := web.New(web.Options{Base: base, Index: ix, Folder: folder, Overlay: a.overlay, Units: a.units()})
	if err != nil {
		return err
	}
	defer server.Close()
	listen, err := net.Listen("tcp", net.JoinHostPort("127.0.0.1", strconv.Itoa(port)))
	if err != nil {
		return fmt.Errorf("port %d of this computer: %w", port, err)
	}
	address := "http://" + listen.Addr().String() + "/"
	fmt.Fprintf(a.Out, "The page is at %s\nStop it with Ctrl-C.\n", address)
	if open {
		if err := browse(address); err != nil {
			fmt.Fprintf(a.Err, "relath: no browser could be started (%v); open the address above\n", err)
		}
	}
	return server.Serve(c.Context(), listen)
}

// browse opens an address in the browser of the desktop.
func browse(address string) error {
	switch runtime.GOOS {
	case "darwin":
		return exec.Command("open", address).Start()
	case "windows":
		return exec.Command("rundll32", "url.dll,FileProtocolHandler", address).Start()
	}
	return exec.Command("xdg-open", address).Start()
}
