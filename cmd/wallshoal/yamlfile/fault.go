// Package yamlfile reads files that people write by hand, strictly, and says everything that is
// wrong with one at once: where it stands, what was found, and what to write instead.
//
// It takes the part of YAML that such files need: maps, lists and plain values, in one document.
// Anchors, aliases, merge keys and tags are refused, so a small file cannot unfold into a huge
// one, and every figure is read by our own rules, so 017 is seventeen and no is a word.
package yamlfile

import (
	"fmt"
	"sort"
	"strings"

	"wallshoal/export/quote"
)

// A Fault is one thing wrong with a file.
type Fault struct {
	File  string
	Line  int    // from 1
	Field string // e.g. "room.walls[0].length"; empty for the file as a whole
	Wrong string // what was found
	Fix   string // what to write instead

	column int
}

// Error returns the fault on one line: file, line, field, what was found, what to write instead.
func (f Fault) Error() string {
	field := ""
	if f.Field != "" {
		field = f.Field + ": "
	}
	return fmt.Sprintf("%s:%d: %s%s; %s", f.File, f.Line, field, f.Wrong, f.Fix)
}

// Faults is everything wrong with a file, in the order in which it stands there.
type Faults []Fault

// Error returns one fault a line.
func (fs Faults) Error() string {
	lines := make([]string, len(fs))
	for i, f := range fs {
		lines[i] = f.Error()
	}
	return strings.Join(lines, "\n")
}

// Listed returns the faults in file order, at most MaxFaults of them, and after those how many more
// there are.
func (fs Faults) Listed() Faults { return sorted(fs, 0) }

// sorted returns the faults in file order, at most MaxFaults of them, and after those how many
// more there are; untold is how many were not even kept.
func sorted(fs Faults, untold int) Faults {
	sort.SliceStable(fs, func(i, j int) bool {
		if fs[i].Line != fs[j].Line {
			return fs[i].Line < fs[j].Line
		}
		return fs[i].column < fs[j].column
	})
	if len(fs) <= MaxFaults {
		return fs
	}
	last := fs[MaxFaults]
	return append(fs[:MaxFaults:MaxFaults], Fault{
		File: last.File, Line: last.Line,
		Wrong: fmt.Sprintf("%d more faults follow", len(fs)-MaxFaults+untold),
		Fix:   "correct the ones above first",
	})
}

// Quote returns text in quotation marks for a message.
func Quote(text string) string { return quote.Text(text) }
