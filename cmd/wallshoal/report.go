package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"strings"
	"unicode"

	"github.com/spf13/cobra"

	"wallshoal/cmd/wallshoal/yamlfile"
	"wallshoal/export/number"
)

// The voice: what goes wrong is said to the error output on a line that begins with the program's
// name, in lower case and without a full stop; what to do about it is on a line of its own. The
// faults of a plan come one a line, each with its file and line, and then their number.

// report says what went wrong, if anything, and returns the exit status.
func (d desk) report(root *cobra.Command, args []string, err error) int {
	var faults yamlfile.Faults
	var usage usageError
	var failed workError
	switch {
	case err == nil:
		return done
	case errors.Is(err, errSaid):
		return atFault
	case errors.Is(err, context.Canceled):
		d.say("interrupted; nothing was changed")
		return atFault
	case errors.As(err, &faults):
		fmt.Fprintln(d.errs, faults.Error())
		d.say(total(len(faults)) + " in " + faults[0].File)
		return atFault
	case errors.As(err, &failed):
		for _, line := range strings.Split(err.Error(), "\n") {
			wrong, fix, _ := strings.Cut(line, "; ")
			d.say(wrong)
			d.hint(fix)
		}
		return atFault
	case errors.As(err, &usage):
		d.say(usage.wrong)
		d.hint(usage.hint)
		return misused
	case errors.Is(err, errNoCommand):
		fmt.Fprint(d.errs, root.UsageString())
		return misused
	}
	if name, unknown := unknownCommand(root, args); unknown {
		d.say(fmt.Sprintf("there is no command %q", name))
		d.hint(commandHint(root, name))
		return misused
	}
	d.say(err.Error())
	return misused
}

func (d desk) say(text string) { fmt.Fprintln(d.errs, "wallshoal: "+text) }

func (d desk) hint(text string) {
	if text != "" {
		fmt.Fprintln(d.errs, "  "+text)
	}
}

// total returns how many faults a file has. What is past the limit of those listed is not counted.
func total(n int) string {
	if n > yamlfile.MaxFaults {
		return fmt.Sprintf("more than %d faults", yamlfile.MaxFaults)
	}
	return counted(n, "fault")
}

// counted returns a number with its noun, in the plural where there is not just one.
func counted(n int, noun string) string {
	return number.Of(n, noun)
}

// visible passes on what can be seen: names out of plans and paths reach the terminal, where a
// control character would move the cursor or change what is shown. Line breaks and tabs stay.
type visible struct{ io.Writer }

func (v visible) Write(p []byte) (int, error) {
	clean := strings.Map(func(r rune) rune {
		switch {
		case r == '\n', r == '\t':
			return r
		case unicode.IsControl(r), yamlfile.Hidden(r):
			return unicode.ReplacementChar
		}
		return r
	}, string(p))
	if _, err := io.WriteString(v.Writer, clean); err != nil {
		return 0, err
	}
	return len(p), nil
}
