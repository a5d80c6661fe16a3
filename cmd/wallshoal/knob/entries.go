package knob

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"gopkg.in/yaml.v3"

	"wallshoal/wall"
)

// A named knob goes by what it is of, not by where in a list that stands: the same value has the same key in every version of a plan.
type named struct {
	Knob
	key  string // like the ID, with pieces by their codes, walls by their names, and entries without a name by where they stand in the base
	said string // the value, with faces by their names
}

// lists are those whose entries have no names, and in which knobs are.
var lists = []string{"composition.flow", "composition.density.gather", "composition.density.bands", "composition.density.fade"}

const (
	piecesList = "pieces"
	wallsList  = "room.walls"
)

// An order says which entry of a list is which of another: for each of after the index in before, -1 for none.
type order func(before, after []*yaml.Node) []int

// named returns the knobs of a version under keys that mean the same in base. by is how entries without names are told apart.
func (v Version) named(base Version, by order) []named {
	b, of := v.board(), base.board()
	prefixes := map[string]string{} // of IDs, to those of keys
	for _, list := range lists {
		fields := b.items(list)
		for i, k := range by(of.nodes(list), b.nodes(list)) {
			prefixes[fields[i]+"."] = fmt.Sprintf("%s[%d].", list, k)
			if k < 0 {
				prefixes[fields[i]+"."] = fmt.Sprintf("%s[new %d].", list, i)
			}
		}
		if len(fields) == 0 { // the first is not there yet
			prefixes[list+"."], prefixes[list+"[0]."] = list+"[new 0].", list+"[new 0]."
		}
	}
	for i := range b.nodes(piecesList) {
		prefixes[fmt.Sprintf("%s[%d].", piecesList, i)] = fmt.Sprintf("%s[%s].", piecesList, b.code(i))
	}
	for i, w := range v.Job.Plan.Room.Walls {
		prefixes[fmt.Sprintf("%s[%d].", wallsList, i)] = fmt.Sprintf("%s[%s].", wallsList, wall.FoldName(w.Name))
	}
	all := make([]named, 0, len(prefixes))
	for _, k := range v.knobs() {
		n := named{Knob: k, key: k.ID, said: v.said(k)}
		end := strings.LastIndex(k.ID, "].") + len("].")
		for _, list := range lists {
			if rest, ok := strings.CutPrefix(k.ID, list+"."); ok { // a map that stands for a list of one
				end = len(k.ID) - len(rest)
			}
		}
		if prefix, ok := prefixes[k.ID[:max(end, 0)]]; ok {
			n.key = prefix + k.ID[end:]
		}
		all = append(all, n)
	}
	return all
}

// board returns what finds the fields of a version.
func (v Version) board() *board {
	return &board{job: v.Job, units: v.Job.Plan.Units, root: rootOf(v.Text)}
}

// code returns the code of a piece.
func (b *board) code(i int) string {
	if n := b.node(fmt.Sprintf("%s[%d].code", piecesList, i)); n != nil {
		return strings.TrimSpace(n.Value)
	}
	return strconv.Itoa(i)
}

// nodes returns the entries of a list, or the map that stands for one.
func (b *board) nodes(list string) []*yaml.Node {
	var all []*yaml.Node
	for _, f := range b.items(list) {
		all = append(all, b.node(f))
	}
	return all
}

// said writes a value with its faces by their names, which may be others by number in another version.
func (v Version) said(k Knob) string {
	if len(k.Spots) == 0 || !k.Given {
		return k.Value
	}
	f := v.Job.Site.Faces[k.Spots[0].Face] // a path lies on one
	spots := slices.Clone(k.Spots)
	for i := range spots {
		spots[i].Face = 0
	}
	return fmt.Sprintf("%q %q %s", wall.FoldName(v.Job.Site.Room.Walls[f.Wall].Name), wall.FoldName(f.Name), (&board{}).spots(spots))
}

// there returns the value of a knob of another version as it is written for v; false where v has no such face.
func (v Version) there(k Knob, of Version) (string, bool) {
	if len(k.Spots) == 0 || !k.Given {
		return k.Value, true
	}
	f := of.Job.Site.Faces[k.Spots[0].Face]
	face, ok := v.Job.Site.FaceByName(of.Job.Site.Room.Walls[f.Wall].Name, f.Name)
	spots := slices.Clone(k.Spots)
	for i := range spots {
		spots[i].Face = face
	}
	return (&board{}).spots(spots), ok
}

// doubtful returns where the keys begin that are of pieces of base whose code is one piece's in another version, and whose name is
// another's.
func doubtful(base, v Version) []string {
	was, is := base.board(), v.board()
	var all []string
	for i := range was.nodes(piecesList) {
		byCode, byName := -1, -1
		for k := range is.nodes(piecesList) {
			if is.code(k) == was.code(i) {
				byCode = k
			}
			if is.kind(k) == was.kind(i) {
				byName = k
			}
		}
		if byCode >= 0 && byName >= 0 && byCode != byName {
			all = append(all, fmt.Sprintf("%s[%s].", piecesList, was.code(i)))
		}
	}
	return all
}

// inTurn takes entries for those at the same places where there are as many: knobs take entries out, and never change
// their order.
func inTurn(before, after []*yaml.Node) []int {
	if len(before) != len(after) {
		return alikeOnly(before, after)
	}
	of := make([]int, len(after))
	for i := range of {
		of[i] = i
	}
	return of
}

// probably takes entries for those that they are most like.
func probably(before, after []*yaml.Node) []int {
	of := alikeOnly(before, after)
	for k := range of {
		if of[k] < 0 && len(before) == len(after) && !slices.Contains(of, k) {
			of[k] = k
		}
	}
	return of
}

// alikeOnly takes an entry for the one that says the same; else for the only one that speaks of the same place, with other
// figures; else for the one at the same place of a list that is as long, where all others were found and it has the same keys.
// Of what is left it cannot be told.
func alikeOnly(before, after []*yaml.Node) []int {
	of := slices.Repeat([]int{-1}, len(after))
	pair := func(mark func(*yaml.Node) string, several bool) {
		found := map[string][2][]int{}
		var marks []string
		put := func(i, side int, n *yaml.Node) {
			m := mark(n)
			sides, ok := found[m]
			if !ok {
				marks = append(marks, m)
			}
			sides[side] = append(sides[side], i)
			found[m] = sides
		}
		for i, n := range before {
			if !slices.Contains(of, i) {
				put(i, 0, n)
			}
		}
		for i, n := range after {
			if of[i] < 0 {
				put(i, 1, n)
			}
		}
		for _, m := range marks {
			sides := found[m]
			if n := len(sides[0]); n != len(sides[1]) || n > 1 && !several {
				continue
			}
			for i, k := range sides[1] {
				of[k] = sides[0][i]
			}
		}
	}
	pair(saysOf(true), true) // which of several that say the same makes no difference
	pair(saysOf(false), false)
	left := slices.Index(of, -1)
	if left >= 0 && len(before) == len(after) && !slices.Contains(of[left+1:], -1) && !slices.Contains(of, left) &&
		keysOf(before[left]) == keysOf(after[left]) {
		of[left] = left
	}
	return of
}

// saysOf returns what writes down what an entry says, whatever its layout and the order of its keys; without figures, those that stand
// in it themselves are left out.
func saysOf(figures bool) func(*yaml.Node) string {
	return func(n *yaml.Node) string { return says(n, figures) }
}

func says(n *yaml.Node, figures bool) string {
	switch n.Kind {
	case yaml.MappingNode:
		var parts []string
		for key, v := range entries(n) {
			part := strconv.Quote(key)
			if figures || v.Kind != yaml.ScalarNode {
				part += ": " + says(v, true)
			}
			parts = append(parts, part)
		}
		slices.Sort(parts)
		return "{" + strings.Join(parts, ", ") + "}"
	case yaml.SequenceNode:
		var parts []string
		for _, v := range n.Content {
			parts = append(parts, says(v, true))
		}
		return "[" + strings.Join(parts, ", ") + "]"
	}
	return strconv.Quote(n.Value)
}

func keysOf(n *yaml.Node) string {
	var keys []string
	for key := range entries(n) {
		keys = append(keys, key)
	}
	slices.Sort(keys)
	return strings.Join(keys, "\n")
}

// remarks returns the comments in a node, in order.
func remarks(n *yaml.Node) string {
	if n == nil {
		return ""
	}
	all := n.HeadComment + "\n" + n.LineComment + "\n" + n.FootComment
	for _, inner := range n.Content {
		all += "\n" + remarks(inner)
	}
	return all
}
