package yamledit

import (
	"fmt"
	"strings"

	"gopkg.in/yaml.v3"

	"wallshoal/cmd/wallshoal/yamlfile"
	"wallshoal/wall"
)

// A place is where a path leads: a value, or the map or list that lacks the rest of the path.
type place struct {
	field string
	above *place     // nil at the top
	node  *yaml.Node // nil where parent lacks it
	index int        // of node among the content of the parent
	rest  []Step     // from parent on, where node is nil
}

// parent returns the map or list that holds the place, or lacks it.
func (p *place) parent() *yaml.Node { return p.above.node }

// fault says what is in the way of a change.
func (p *place) fault(wrong, fix string) error {
	return wall.Problem{Field: p.field, Wrong: wrong, Fix: fix}
}

const byHand = "change it by hand"

// find follows a path as far as the document goes.
func (d *document) find(path []Step) (*place, error) {
	at := &place{node: d.root}
	for i, s := range path {
		next := &place{field: Field(path[:i+1]), above: at, index: -1}
		if err := d.enter(at); err != nil {
			return nil, err
		}
		var err error
		switch {
		case s.Key != "":
			err = next.key(s.Key)
		default:
			err = next.item(s.Index)
		}
		if err != nil {
			return nil, err
		}
		if next.index < 0 {
			next.rest = path[i:]
			return next, nil
		}
		next.node = next.parent().Content[next.index]
		at = next
	}
	return at, d.mayChange(at)
}

// enter says why nothing within a place can be changed.
func (d *document) enter(p *place) error {
	if err := d.mayChange(p); err != nil {
		return err
	}
	if p.node.Kind == yaml.MappingNode {
		for i := 0; i+1 < len(p.node.Content); i += 2 {
			if p.node.Content[i].Tag == "!!merge" {
				return p.fault("takes in another part of the file with <<", "write its lines out here")
			}
		}
	}
	return nil
}

// mayChange says why a value cannot be changed.
func (d *document) mayChange(p *place) error {
	switch n := p.node; {
	case n.Kind == yaml.AliasNode:
		return p.fault("*"+n.Value+" repeats another part of the file", "write it out here")
	case n.Anchor != "":
		return p.fault("&"+n.Anchor+" names it to repeat it elsewhere, which would change as well", byHand)
	case d.own[n] || n.Style&yaml.TaggedStyle != 0:
		return p.fault("has a type tag", "remove the tag")
	}
	return nil
}

// key looks a key up in the parent.
func (p *place) key(key string) error {
	n := p.parent()
	if n.Kind == yaml.ScalarNode && n.Tag == "!!null" {
		return nil
	}
	if n.Kind != yaml.MappingNode {
		return p.fault("lies in what is no map of keys but "+kind(n), byHand)
	}
	for i := 0; i+1 < len(n.Content); i += 2 {
		if k := n.Content[i]; k.Kind != yaml.ScalarNode || k.Value != key {
			continue
		}
		if p.index >= 0 {
			return p.fault(fmt.Sprintf("is given twice, first in line %d", n.Content[p.index].Line), "keep one of them")
		}
		p.index = i + 1
	}
	return nil
}

// item looks an item up in the parent.
func (p *place) item(i int) error {
	n := p.parent()
	if n.Kind == yaml.ScalarNode && n.Tag == "!!null" {
		if i != 0 {
			return p.fault("is not there: the list is empty", "add items from [0] on")
		}
		return nil
	}
	if n.Kind != yaml.SequenceNode {
		return p.fault("lies in what is no list but "+kind(n), byHand)
	}
	switch {
	case i < 0 || i > len(n.Content):
		return p.fault(fmt.Sprintf("is not there: the list has %d items", len(n.Content)), "name an item of it, or the one after its last")
	case i < len(n.Content):
		p.index = i
	}
	return nil
}

func kind(n *yaml.Node) string {
	switch n.Kind {
	case yaml.MappingNode:
		return "a map of keys"
	case yaml.SequenceNode:
		return "a list"
	case yaml.AliasNode:
		return "a repetition"
	}
	return "the single value " + yamlfile.Quote(n.Value)
}

// isFlow reports whether n is written in brackets.
func isFlow(n *yaml.Node) bool { return n.Style&yaml.FlowStyle != 0 }

// inFlow reports whether what n holds is written in brackets, n being a map or a list or lying in one
// that is.
func (p *place) inFlow() bool {
	for q := p; q != nil; q = q.above {
		if q.node != nil && isFlow(q.node) {
			return true
		}
	}
	return false
}

// indicator returns where the colon or the dash before a place ends, and whether there is one.
func (d *document) indicator(p *place) (int, bool) {
	n := p.parent()
	if n.Kind == yaml.MappingNode {
		end := d.spans[n.Content[p.index-1]].end
		if i := d.skip(end, ""); d.byteAt(i) == ':' {
			return i + 1, true
		}
		return end, false
	}
	i, ok := d.dash(n, p.index)
	return i + 1, ok
}

// dash returns where the dash of an item of a block list stands.
func (d *document) dash(n *yaml.Node, item int) (int, bool) {
	from := d.spans[n].start
	if item > 0 {
		from = d.skip(d.spans[n.Content[item-1]].end, "")
	}
	return from, d.byteAt(from) == '-' && !isFlow(n)
}

// indentStep returns by how many spaces maps lie within one another in this document.
func (d *document) indentStep() int {
	const usual, most = 2, 8
	var look func(n *yaml.Node) int
	look = func(n *yaml.Node) int {
		for i, c := range n.Content {
			if n.Kind == yaml.MappingNode && i%2 == 1 && c.Kind == yaml.MappingNode && !isFlow(c) && !isFlow(n) {
				if by := c.Column - n.Column; c.Line > n.Content[i-1].Line && by > 0 && by <= most {
					return by
				}
			}
			if by := look(c); by > 0 {
				return by
			}
		}
		return 0
	}
	if by := look(d.root); by > 0 {
		return by
	}
	return usual
}

func spaces(n int) string { return strings.Repeat(" ", max(n, 0)) }
