package main

import (
	"errors"
	"fmt"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"wallshoal/cmd/wallshoal/yamlfile"
)

// A usageError is a fault of the command line with what to do about it.
type usageError struct {
	wrong string
	hint  string // may be empty
}

func (e usageError) Error() string { return e.wrong }

// exactly returns a check that a command got so many arguments, named as its usage names them.
func exactly(names ...string) cobra.PositionalArgs {
	return between(len(names), names...)
}

// between returns a check that a command got at least the first few of the named arguments, and
// none beyond them.
func between(least int, names ...string) cobra.PositionalArgs {
	return func(cmd *cobra.Command, args []string) error {
		switch {
		case len(args) < least:
			return usageError{
				fmt.Sprintf("%s needs %s", cmd.Name(), names[len(args)]),
				"write: " + cmd.UseLine(),
			}
		case len(args) > len(names):
			return usageError{
				fmt.Sprintf("%s does not know what to do with %q", cmd.Name(), args[len(names)]),
				"write: " + cmd.UseLine(),
			}
		}
		return nil
	}
}

// flagError says what is wrong with a flag, and which one may have been meant.
func flagError(cmd *cobra.Command, err error) error {
	var unknown *pflag.NotExistError
	var invalid *pflag.InvalidValueError
	var bare *pflag.ValueRequiredError
	switch {
	case errors.Is(err, pflag.ErrHelp):
		return err
	case errors.As(err, &unknown):
		name := unknown.GetSpecifiedName()
		return usageError{fmt.Sprintf("%s has no flag %s", cmd.Name(), dashed(name)), flagHint(cmd, name)}
	case errors.As(err, &invalid):
		wrong, fix, _ := strings.Cut(invalid.Unwrap().Error(), "; ")
		return usageError{fmt.Sprintf("--%s: %s", invalid.GetFlag().Name, wrong), fix}
	case errors.As(err, &bare):
		_, usage := pflag.UnquoteUsage(bare.GetFlag())
		return usageError{fmt.Sprintf("--%s needs a value", bare.GetFlag().Name), usage}
	}
	return usageError{err.Error(), ""}
}

func dashed(name string) string {
	if len(name) == 1 {
		return "-" + name
	}
	return "--" + name
}

func flagHint(cmd *cobra.Command, name string) string {
	var known []string
	cmd.Flags().VisitAll(func(f *pflag.Flag) { known = append(known, f.Name) })
	if near := yamlfile.Nearest(name, known); near != "" {
		return "did you mean --" + near + "?"
	}
	return "its flags are --" + strings.Join(known, ", --")
}

// commandHint returns which command may have been meant, or which there are.
func commandHint(root *cobra.Command, name string) string {
	var known []string
	for _, c := range root.Commands() {
		if c.IsAvailableCommand() {
			known = append(known, c.Name())
		}
	}
	if near := yamlfile.Nearest(name, known); near != "" {
		return "did you mean " + near + "?"
	}
	return "the commands are " + strings.Join(known, ", ")
}

// unknownCommand returns the first argument where root has no such command.
func unknownCommand(root *cobra.Command, args []string) (string, bool) {
	found, _, err := root.Find(args)
	if err == nil || found != root {
		return "", false
	}
	for _, a := range args {
		if !strings.HasPrefix(a, "-") {
			return a, true
		}
	}
	return "", false
}
