package main

import (
	"context"
	"crypto/rand"
	"fmt"
	"net"
	"os/exec"
	"runtime"
	"strings"

	"github.com/spf13/cobra"

	"wallshoal/cmd/wallshoal/easel"
	"wallshoal/cmd/wallshoal/view"
)

func newView(d desk) *cobra.Command {
	var layout, listen string
	var stay bool
	cmd := &cobra.Command{
		Use:   "view PLAN",
		Short: "show a plan in the browser, to turn its knobs and move its pieces by hand",
		Long: `Show a plan in the browser, to turn its knobs, move pieces by hand, and see at once what that comes
to. Nothing is written until you save there; then the plan keeps its comments and its order, and what
you moved goes into a layout beside it. The page is served to this machine alone, for as long as the
program runs. A plan is at the same address every time, as long as nothing else is there: what a browser keeps of it
is there again.`,
		Args: exactly("a plan"),
		RunE: func(cmd *cobra.Command, args []string) error {
			if args[0] == "-" {
				return usageError{"view needs a plan in a file, to save it there", "write: " + cmd.UseLine()}
			}
			return work(d.view(cmd.Context(), args[0], layout, listen, !stay))
		},
	}
	cmd.Flags().StringVar(&layout, "layout", "", "begin with the layout in this `file`; with the one beside the plan if left out")
	cmd.Flags().StringVar(&listen, "listen", "", "serve at this `address` and port, such as 192.168.1.20:8040, for a telephone in the same net; whoever has the link can then see and change the plan")
	cmd.Flags().BoolVar(&stay, "no-browser", false, "print the address, and open no browser")
	return cmd
}

// view serves a plan until the context is done.
func (d desk) view(ctx context.Context, path, layout, listen string, open bool) error {
	e, err := easel.Open(ctx, path, layout)
	if err != nil {
		return err
	}
	defer e.Close()
	ready := func(url, missed string) {
		fmt.Fprintf(d.out, "%s is at\n  %s\nend it with Ctrl-C; nothing is written until you save\n", path, url)
		if missed != "" {
			d.say("something else is at " + missed + ", the usual address of this plan: ticks that wait in a browser are sent once it is free again and view is started anew")
		}
		if !local(url) {
			d.say("whoever has this address can see and change the plan: send it to nobody whom you do not trust")
		}
		if open {
			browse(ctx, url)
		}
	}
	return view.Serve(ctx, e, view.Options{Listen: listen, Key: rand.Text(), Now: d.now, Ready: ready})
}

// local reports whether an address is one of this machine alone.
func local(url string) bool {
	host, _, _ := strings.Cut(strings.TrimPrefix(url, "http://"), "/")
	name, _, err := net.SplitHostPort(host)
	return err == nil && net.ParseIP(name).IsLoopback()
}

// browse opens an address in the browser of the desktop, if there is one. Where that fails there still is
// the address to copy.
func browse(ctx context.Context, url string) {
	name, args := "xdg-open", []string{url}
	switch runtime.GOOS {
	case "darwin":
		name = "open"
	case "windows":
		name, args = "rundll32", []string{"url.dll,FileProtocolHandler", url}
	}
	program, err := exec.LookPath(name)
	if err != nil {
		return
	}
	opener := exec.CommandContext(ctx, program, args...)
	if opener.Start() == nil {
		go func() { _ = opener.Wait() }() // so that it is not left behind as a dead process
	}
}
