package hours

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
)

// A Fault is one thing wrong with a log.
type Fault struct {
	File   string
	Line   int    // from 1
	Column int    // in characters, from 1
	Field  string // of the header; empty for a row or the file as a whole
	Wrong  string // what was found
	Fix    string // what to write instead
}

// Error returns the fault on one line: file, line, column, field, what was found, what to write
// instead.
func (f Fault) Error() string {
	field := ""
	if f.Field != "" {
		field = f.Field + ": "
	}
	return fmt.Sprintf("%s:%d:%d: %s%s; %s", f.File, f.Line, f.Column, field, f.Wrong, f.Fix)
}

// Faults is everything wrong with a log, in the order in which it stands there.
type Faults []Fault

// Error returns one fault a line.
func (fs Faults) Error() string {
	lines := make([]string, len(fs))
	for i, f := range fs {
		lines[i] = f.Error()
	}
	return strings.Join(lines, "\n")
}

// listed returns the faults in file order, at most MaxFaults of them, and after those how many more
// there are.
func (fs Faults) listed() Faults {
	slices.SortStableFunc(fs, func(a, b Fault) int {
		return cmp.Or(cmp.Compare(a.Line, b.Line), cmp.Compare(a.Column, b.Column))
	})
	if len(fs) <= MaxFaults {
		return fs
	}
	last := fs[MaxFaults]
	return append(fs[:MaxFaults:MaxFaults], Fault{
		File: last.File, Line: last.Line, Column: last.Column,
		Wrong: fmt.Sprintf("%d more faults follow", len(fs)-MaxFaults),
		Fix:   "correct the ones above first",
	})
}
