package main

import (
	"context"
	"errors"
	"io"
	"os"
	"os/signal"
	"slices"
	"syscall"
	"time"

	"github.com/spf13/cobra"
)

// What the program returns to the shell.
const (
	done    = 0
	atFault = 1 // the plan or a file
	misused = 2 // the command line
)

// run does what the command line says and returns the exit status. An interrupt stops the work and
// leaves what was there before whole; a second one ends the program where it stands.
func run(args []string, in io.Reader, out, errs io.Writer) int {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	defer stop()
	context.AfterFunc(ctx, stop)
	return runUntil(ctx, args, in, out, errs)
}

// runUntil is run with a context of the caller's.
func runUntil(ctx context.Context, args []string, in io.Reader, out, errs io.Writer) int {
	d := desk{in: in, out: visible{out}, errs: visible{errs}, meter: newMeter(errs), now: time.Now}
	root := commands(d)
	if len(args) > 0 && args[0] == "help" {
		args = append(slices.Clone(args[1:]), "--help")
	}
	root.SetArgs(args)
	root.SetIn(d.in)
	root.SetOut(d.out)
	root.SetErr(d.errs)
	err := root.ExecuteContext(ctx)
	d.meter.Clear()
	return d.report(root, args, err)
}

// A desk is what a command works at: where it reads and writes, where it shows how far it is, and what
// time it is there.
type desk struct {
	in        io.Reader
	out, errs io.Writer
	meter     *meter
	now       func() time.Time
}

// commands returns the command line. What a command's work returns is a workError; every other
// error is one of the command line itself.
func commands(d desk) *cobra.Command {
	root := &cobra.Command{
		Use:   "wallshoal",
		Short: "plan wall works of many small pieces, and print their drilling templates at full size",
		Example: `  wallshoal demo                     write a plan to look at, and everything that comes of it
  wallshoal new hall.yaml            write a plan of your own to start from
  wallshoal check hall.yaml          say what is wrong with it, or what it promises
  wallshoal pack hall.yaml -o hall   write the templates, pictures and lists`,
		SilenceErrors:      true,
		SilenceUsage:       true,
		DisableSuggestions: true, // report makes its own
	}
	root.CompletionOptions.HiddenDefaultCmd = true
	root.SetHelpCommand(&cobra.Command{Hidden: true, Use: "no-help"})
	root.AddCommand(newDemo(d), newNew(d), newCheck(d), newLay(d), newPack(d), newTemplate(d), newTakeDown(d), newScope(d), newView(d))
	for _, c := range root.Commands() {
		c.DisableFlagsInUseLine = true // the usage shows those that are needed
	}
	root.RunE = func(cmd *cobra.Command, args []string) error { return errNoCommand }
	root.SetFlagErrorFunc(flagError)
	return root
}

var errNoCommand = errors.New("no command is given")

// A workError is an error of the work itself, not of the command line.
type workError struct{ error }

func (e workError) Unwrap() error { return e.error }

// work marks err, if there is one, as an error of the work itself.
func work(err error) error {
	if err == nil {
		return nil
	}
	return workError{err}
}
