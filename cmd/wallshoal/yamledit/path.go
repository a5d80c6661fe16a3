package yamledit

import (
	"strconv"
	"strings"

	"wallshoal/wall"
)

// A Step leads from a map to the value of a key, or from a list to one of its items.
type Step struct {
	Key   string // empty for an item of a list
	Index int    // of the item, from 0
}

// Key returns the step to the value of a key.
func Key(key string) Step { return Step{Key: key} }

// Index returns the step to an item of a list, from 0.
func Index(i int) Step { return Step{Index: i} }

// Path returns the steps to a field as faults name it, e.g. "room.walls[0].length". Keys that hold
// a full stop or brackets have no such name; write their steps out.
func Path(field string) ([]Step, error) {
	bad := wall.Problem{Field: field, Wrong: "is no path to a value", Fix: "write it like room.walls[0].length"}
	var steps []Step
	for _, part := range strings.Split(field, ".") {
		key, rest, listed := strings.Cut(part, "[")
		if key == "" || strings.Contains(key, "]") {
			return nil, bad
		}
		steps = append(steps, Key(key))
		for listed {
			var digits string
			var closed bool
			digits, rest, closed = strings.Cut(rest, "]")
			i, err := strconv.ParseUint(digits, 10, 31)
			if !closed || err != nil {
				return nil, bad
			}
			steps = append(steps, Index(int(i)))
			if rest == "" {
				break
			}
			if rest[0] != '[' {
				return nil, bad
			}
			rest = rest[1:]
		}
	}
	return steps, nil
}

// Field returns the name of a path as faults write it.
func Field(path []Step) string {
	var b strings.Builder
	for i, s := range path {
		switch {
		case s.Key == "":
			b.WriteString("[" + strconv.Itoa(s.Index) + "]")
		case i > 0:
			b.WriteString("." + s.Key)
		default:
			b.WriteString(s.Key)
		}
	}
	return b.String()
}
